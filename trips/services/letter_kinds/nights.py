"""The letter that the nights of a trip are other than people were told."""

from __future__ import annotations

import hashlib
from datetime import datetime

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.models import Enrolment, Letter, Trip
from trips.models.enrolment import COMING
from trips.planning.trip_steps import OVER
from trips.services.letter_kinds.places import nights_of
from trips.services.letter_kinds.post import NEWS, Kind
from trips.services.letter_kinds.to_person import enrolment_of, link_of, written_to
from trips.services.letter_kinds.written import Written
from trips.services.removed_nights import removed_of

NIGHTS_CHANGED = "nights_changed"
# What people go by: another of these is another edition.
_TOLD = ("date", "meeting_at", "meeting_point", "spot_id")


def edition_of(trip: Trip) -> str:
    """Tell apart what people were told of the nights; the same again is the same edition."""
    told = list(trip.nights.order_by("date").values_list(*_TOLD))
    return hashlib.sha256(repr(told).encode()).hexdigest()[:16]


def nights_key(enrolment: Enrolment, before: str, edition: str, *, at: datetime) -> str:
    """The instant lets what is changed a second time be told again."""
    return f"{NIGHTS_CHANGED}:{enrolment.uid}:{before}:{edition}:{at.timestamp():.0f}"


def nights_changed(letter: Letter) -> Written | None:
    """Tell what holds now; nothing any more where it is another edition again, or the one that
    the person was told last."""
    enrolment = enrolment_of(letter, *COMING)
    if enrolment is None or letter.trip.status in OVER:
        return None
    _before, edition = _editions(letter)
    if edition != edition_of(letter.trip) or edition == _told_last(enrolment):
        return None
    return written_to(
        enrolment,
        _("Changed, look again: %(trip)s"),
        _(
            "An evening, an hour, a meeting point or a spot of your trip is another one than you "
            "were told. This is what holds now:"
        ),
        nights_of(letter.trip),
        _taken_off(letter.trip),
        _("Another hour or place that you were told does not hold any more. Your page:"),
        link_of(enrolment),
    )


def _taken_off(trip: Trip) -> str:
    """Name the evenings on which nobody meets any more."""
    stay = set(trip.nights.values_list("date", flat=True))
    gone = sorted({night.evening for night in removed_of(trip)} - stay)
    days = "; ".join(date_format(evening, "l, j F Y") for evening in gone)
    return _("Taken off, do not set out: %(days)s.") % {"days": days} if days else ""


def _editions(letter: Letter) -> tuple[str, str]:
    """Give the edition that a letter was asked for after, and the one that it tells."""
    _kind, _whose, before, edition, _at = letter.key.split(":")
    return before, edition


def _told_last(enrolment: Enrolment) -> str:
    """Give the edition that a person knows: of the last such letter, else that before the first."""
    asked = Letter.objects.filter(kind=NIGHTS_CHANGED, enrolment=enrolment)
    sent = asked.filter(state=Letter.State.SENT).order_by("sent_at").last()
    return _editions(sent)[1] if sent else _editions(asked.earliest("pk"))[0]


def _until(letter: Letter) -> datetime | None:
    last = letter.trip.nights.order_by("-ends_at").first()
    return last.ends_at if last else None


NIGHTS: dict[str, Kind] = {NIGHTS_CHANGED: Kind(nights_changed, NEWS, until=_until)}
