"""What a calendar says of the nights of a trip: to those who lead it, or to one person.

It holds nothing of another person but the name of who leads. Everything follows from the rows, so
that it is the same until one of them changes.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from urllib.parse import urlsplit

from django.conf import settings
from django.db.models import Max, Q
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock
from trips.models import CalendarLink, Enrolment, Trip, TripEvent, TripNight
from trips.services import links
from trips.services.letter_kinds.written import address
from trips.services.meeting_points import meeting_point_told
from trips.services.night_times import spot_decided
from trips.services.removed_nights import RemovedNight, removed_of
from trips.services.silence import silence

Decision = TripNight.Decision
CONFIRMED, TENTATIVE, CANCELLED = "CONFIRMED", "TENTATIVE", "CANCELLED"
# What happens to a trip that its calendar tells of.
_TOLD = (
    "made", "edited", "stepped", "night_added", "night_edited", "night_removed", "decided",
    "instructor_added", "instructor_off",
)  # fmt: skip
# A place goes through these, never back: each step makes another edition of its nights.
_STEPS = {Enrolment.State.HELD: 0, Enrolment.State.PLACED: 1, Enrolment.State.NO_SHOW: 1}
_PLACE_IS_GONE = 2
# Of a trip that is older than its history.
_EARLIEST = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class CalendarNight:
    """A night as an entry. `sequence` never falls; `position` (latitude, longitude) only where it
    may go out of the house; `url` only in a person's own calendar."""

    uid: str
    sequence: int
    status: str
    starts_at: datetime
    ends_at: datetime
    summary: str
    description: str
    location: str
    position: tuple[float, float] | None
    url: str


@dataclass(frozen=True, slots=True)
class NightsCalendar:
    name: str
    revised_at: datetime
    nights: tuple[CalendarNight, ...]


def calendar_of(link: CalendarLink) -> NightsCalendar:
    """Read what the link's calendar says now, and of nights that were taken off. Four queries."""
    trip, enrolment = link.trip, link.enrolment
    first = trip.instructors.select_related("user").first()
    caller = str(first) if first else _("who leads")
    nights = [_night(night, enrolment, caller) for night in _nights(trip)]
    nights += [_removed(night, trip, enrolment) for night in removed_of(trip)]
    return NightsCalendar(_line(trip.name), _revised_at(trip, enrolment), tuple(nights))


def _nights(trip: Trip) -> Iterator[TripNight]:
    rows = TripNight.objects.filter(trip=trip).select_related("spot__site", "second_spot__site")
    for night in rows.defer("spot__skyline", "second_spot__skyline"):
        night.trip = trip
        yield night


def _night(night: TripNight, enrolment: Enrolment | None, caller: str) -> CalendarNight:
    status = _status(night, enrolment)
    is_off = status == CANCELLED
    return CalendarNight(
        uid=_uid(night.uid),
        sequence=night.version + night.trip.version + _steps(enrolment),
        status=status,
        starts_at=night.meeting_at,
        ends_at=night.ends_at,
        summary=_cancelled(night.trip) if is_off else _line(night.trip.name),
        description=_plain("\n".join(_off(night) if is_off else _on(night, caller))),
        location="" if is_off else _line(night.meeting_point),
        position=None if is_off else _position(night),
        url=_page(enrolment),
    )


def _removed(night: RemovedNight, trip: Trip, enrolment: Enrolment | None) -> CalendarNight:
    """A later edition than it ever had."""
    return CalendarNight(
        uid=_uid(night.uid),
        sequence=night.version + 1 + trip.version + _steps(enrolment),
        status=CANCELLED,
        starts_at=night.meeting_at,
        ends_at=night.ends_at,
        summary=_cancelled(trip),
        description=_("This night was taken off the trip. Do not set out."),
        location="",
        position=None,
        url=_page(enrolment),
    )


def _uid(uid: object) -> str:
    return f"{uid}@{urlsplit(settings.FIELDNIGHTS_ADDRESS).hostname}"


def _cancelled(trip: Trip) -> str:
    return _("Cancelled: %(trip)s") % {"trip": _line(trip.name)}


def _page(enrolment: Enrolment | None) -> str:
    return "" if enrolment is None else address("place", links.token_of(enrolment))


def _status(night: TripNight, enrolment: Enrolment | None) -> str:
    """Promise no more than the rule of silence: until it is decided, nobody sets out."""
    is_gone = enrolment is not None and enrolment.place is None
    is_off = night.trip.status == Trip.Status.CANCELLED or night.decision == Decision.NO_GO
    if is_gone or is_off:
        return CANCELLED
    is_held = enrolment is not None and enrolment.state == Enrolment.State.HELD
    if night.decision == Decision.OPEN or is_held:
        return TENTATIVE
    return CONFIRMED


def _steps(enrolment: Enrolment | None) -> int:
    if enrolment is None:
        return 0
    return _STEPS.get(Enrolment.State(enrolment.state), _PLACE_IS_GONE)


def _on(night: TripNight, caller: str) -> Iterator[str]:
    zone, spot = night.spot.site.zone, spot_decided(night)
    yield silence(night, caller=caller)
    yield _("Meet at %(meeting)s, until about %(end)s, on the clocks of %(zone)s.") % {
        "meeting": clock(night.meeting_at, zone),
        "end": clock(night.ends_at, zone),
        "zone": zone,
    }
    yield _("Spot: %(spot)s, %(site)s.") % {"spot": spot.name, "site": spot.site.name}
    yield _(
        "Local rules, land managers, and licensed guides and instructors on the ground decide, "
        "not this calendar."
    )


def _off(night: TripNight) -> Iterator[str]:
    if night.trip.status == Trip.Status.CANCELLED:
        yield _("This trip is cancelled. Do not set out.")
    elif night.decision == Decision.NO_GO:
        yield _("We do not go. Do not set out.")
    else:
        yield _("You have no place on this trip any more. Do not set out.")


def _position(night: TripNight) -> tuple[float, float] | None:
    """Leave a sensitive one out for members too: whoever keeps their calendar reads it."""
    point = meeting_point_told(night)
    return None if point is None else (point.latitude, point.longitude)


def _revised_at(trip: Trip, enrolment: Enrolment | None) -> datetime:
    """Give when anything that is told here was last changed, as the history has it."""
    told = Q(what__in=_TOLD, enrolment_uid=None)
    if enrolment is not None:
        told |= Q(enrolment_uid=enrolment.uid)
    events = TripEvent.objects.filter(told, trip=trip)
    last: datetime | None = events.aggregate(last=Max("at"))["last"]
    return last or _EARLIEST


def _line(text: str) -> str:
    return " ".join(_plain(text).split())


def _plain(text: str) -> str:
    """Take out what is no sign and would break a line: lines end by themselves alone."""
    lines = "\n".join(text.splitlines())
    return "".join(sign for sign in lines if sign == "\n" or unicodedata.category(sign) != "Cc")
