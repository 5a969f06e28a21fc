"""The letter that the nights of a trip are other than people were told."""

from __future__ import annotations

import hashlib
from datetime import datetime

from django.utils.translation import gettext as _

from trips.models import Enrolment, Letter, Trip
from trips.planning.trip_steps import OVER
from trips.services.letter_kinds.places import nights_of
from trips.services.letter_kinds.post import NEWS, Kind
from trips.services.letter_kinds.to_person import COMING, enrolment_of, link_of, written_to
from trips.services.letter_kinds.written import Written

NIGHTS_CHANGED = "nights_changed"
# What people go by: another of these is another edition.
_GONE_BY = ("date", "meeting_at", "meeting_point", "spot_id")


def edition_of(trip: Trip) -> str:
    """Tell apart what people were told of the nights; the same again is the same edition."""
    told = list(trip.nights.order_by("date").values_list(*_GONE_BY))
    return hashlib.sha256(repr(told).encode()).hexdigest()[:16]


def nights_key(enrolment: Enrolment, edition: str) -> str:
    return f"{NIGHTS_CHANGED}:{enrolment.uid}:{edition}"


def nights_changed(letter: Letter) -> Written | None:
    """Tell what holds now; one that asked for another edition says nothing any more."""
    enrolment = enrolment_of(letter, *COMING)
    if enrolment is None or letter.trip.status in OVER:
        return None
    if letter.key != nights_key(enrolment, edition_of(letter.trip)):
        return None
    return written_to(
        enrolment,
        _("Changed, look again: %(trip)s"),
        _(
            "An evening, an hour, a meeting point or a spot of your trip is another one than you "
            "were told. This is what holds now:"
        ),
        nights_of(letter.trip),
        _("What is not listed here was taken off. Your page:"),
        link_of(enrolment),
    )


def _until(letter: Letter) -> datetime | None:
    last = letter.trip.nights.order_by("-ends_at").first()
    return last.ends_at if last else None


NIGHTS: dict[str, Kind] = {NIGHTS_CHANGED: Kind(nights_changed, NEWS, until=_until)}
