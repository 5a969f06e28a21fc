"""What letters to a participant share: whom, about which trip, the private link."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from trips.models import Enrolment, Letter
from trips.services import links
from trips.services.letter_kinds.written import Written, address, named, paragraphs


def enrolment_of(letter: Letter, *states: str) -> Enrolment | None:
    """Give the letter's enrolment where it is in one of the states, or in any."""
    enrolment = letter.enrolment
    if enrolment is None or (states and enrolment.state not in states):
        return None
    enrolment.trip = letter.trip
    return enrolment


def written_to(enrolment: Enrolment, subject: str, *parts: str, **more: Any) -> Written:
    """Write plain text to a person; `more` is what a mail has beside it."""
    hello = _("Hello %(name)s,") % {"name": named(enrolment.person.name)}
    club = named(enrolment.trip.organisation.name)
    text = paragraphs(hello, *parts, club)
    return Written(enrolment.person.mail, subject % names_of(enrolment), text, **more)


def names_of(enrolment: Enrolment) -> dict[str, object]:
    return {"trip": named(enrolment.trip.name)}


def link_of(enrolment: Enrolment) -> str:
    return address("place", links.token_of(enrolment))
