"""What speaks against a trip as it is planned: tired drivers, thin air, the sea, too few leaders or
seats.

All thresholds are common practice, no published source; a trip may set its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from itertools import pairwise, zip_longest
from math import ceil
from typing import Any

from trips.planning.hours_out import instant_of

# Where one leader cannot see everybody and mind the ground.
LED_HAZARDS = ("edge", "water", "ice")
HOUR = 3600.0
A_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Thresholds:
    rest_hours: float = 7.0
    late_drive_hours: float = 1.0
    late_drive_after: time = time(1)
    first_drive_hours: float = 4.0
    late_nights_running: int = 3
    sleeping_height_m: int = 2500
    people_per_leader: int = 6


@dataclass(frozen=True, slots=True)
class PlannedNight:
    """A night as far as it can tire or hurt people; `zone` is its site's.

    `hazards` are kinds at spot and site, `drivers` any names that tell people apart, `seats` those
    of the cars that go, None where no car is written down.
    """

    date: date
    zone: str
    meeting_at: datetime
    ends_at: datetime
    drive_minutes: int = 0
    next_start_at: datetime | None = None
    slept_at_m: int | None = None
    hazards: frozenset[str] = frozenset()
    drivers: frozenset[str] = frozenset()
    seats: int | None = None
    leave_spot_by: datetime | None = None


@dataclass(frozen=True, slots=True)
class PlannedTrip:
    """`nights` in order; `people` without `leaders`."""

    nights: Sequence[PlannedNight]
    people: int
    leaders: int
    drive_before_hours: float | None = None
    is_acclimatised: bool = False


@dataclass(frozen=True, slots=True)
class TripWarning:
    """`night` is the evening it is about, None: the trip as a whole."""

    code: str
    night: date | None
    figures: Mapping[str, Any] = field(default_factory=dict)


Found = Iterator[TripWarning]


def warnings(trip: PlannedTrip, limits: Thresholds) -> tuple[TripWarning, ...]:
    """Give all warnings, one subject after the other, each in the order of the nights."""
    return tuple(found for subject in SUBJECTS for found in subject(trip, limits))


def _first_drive(trip: PlannedTrip, limits: Thresholds) -> Found:
    hours = trip.drive_before_hours
    if trip.nights and hours is not None and hours > limits.first_drive_hours:
        figures = {"hours": hours, "limit": limits.first_drive_hours}
        yield TripWarning("first_drive", trip.nights[0].date, figures)


def _late_drives(trip: PlannedTrip, limits: Thresholds) -> Found:
    for night in trip.nights:
        late = instant_of(night.date, limits.late_drive_after, night.zone)
        home = night.ends_at.timestamp() + night.drive_minutes * 60
        hours = (home - max(late, night.ends_at.timestamp())) / HOUR
        if hours > limits.late_drive_hours:
            figures = {
                "hours": hours,
                "after": limits.late_drive_after,
                "limit": limits.late_drive_hours,
            }
            yield TripWarning("late_drive", night.date, figures)


def _rest(trip: PlannedTrip, limits: Thresholds) -> Found:
    """Rest is counted from leaving the spot: the drive that it holds is told beside it."""
    for night, following in zip_longest(trip.nights, trip.nights[1:]):
        starts = [night.next_start_at, following.meeting_at if following else None]
        ahead = [start for start in starts if start is not None]
        if not ahead:
            continue
        hours = (min(ahead) - night.ends_at).total_seconds() / HOUR
        if hours < limits.rest_hours:
            figures = {
                "hours": hours,
                "drive_hours": night.drive_minutes / 60,
                "limit": limits.rest_hours,
            }
            yield TripWarning("rest", night.date, figures)


def _late_nights(trip: PlannedTrip, limits: Thresholds) -> Found:
    """A night is late when people are out or on the road after the hour that counts as late."""
    run: list[PlannedNight] = []
    for night in trip.nights:
        follows = bool(run) and night.date - run[-1].date == A_DAY
        run = [*(run if follows else ()), night] if _is_late(night, limits) else []
        if len(run) == limits.late_nights_running:
            figures = {"nights": len(run), "after": limits.late_drive_after, "first": run[0].date}
            yield TripWarning("late_nights", night.date, figures)


def _is_late(night: PlannedNight, limits: Thresholds) -> bool:
    home = night.ends_at.timestamp() + night.drive_minutes * 60
    return home > instant_of(night.date, limits.late_drive_after, night.zone)


def _height(trip: PlannedTrip, limits: Thresholds) -> Found:
    """The first night so high counts; one slept lower does not make up for it by itself."""
    if trip.is_acclimatised:
        return
    for night in trip.nights:
        if night.slept_at_m is not None and night.slept_at_m > limits.sleeping_height_m:
            figures = {"height_m": night.slept_at_m, "limit": limits.sleeping_height_m}
            yield TripWarning("sleeping_height", night.date, figures)
            return


def _leaders(trip: PlannedTrip, limits: Thresholds) -> Found:
    wanted = ceil(trip.people / limits.people_per_leader)
    for night in trip.nights:
        kinds = tuple(kind for kind in LED_HAZARDS if kind in night.hazards)
        if kinds and trip.leaders < wanted:
            figures = {
                "kinds": kinds,
                "people": trip.people,
                "leaders": trip.leaders,
                "wanted": wanted,
                "limit": limits.people_per_leader,
            }
            yield TripWarning("leaders", night.date, figures)


def _leaving(trip: PlannedTrip, _limits: Thresholds) -> Found:
    for night in trip.nights:
        leave = night.leave_spot_by
        if leave is not None and leave < night.ends_at:
            figures = {"leave_by": leave, "ends_at": night.ends_at, "zone": night.zone}
            yield TripWarning("leave_by", night.date, figures)


def _seats(trip: PlannedTrip, _limits: Thresholds) -> Found:
    wanted = trip.people + trip.leaders
    for night in trip.nights:
        if night.seats is not None and night.seats < wanted:
            yield TripWarning("seats", night.date, {"seats": night.seats, "people": wanted})


def _drivers(trip: PlannedTrip, _limits: Thresholds) -> Found:
    for before, night in pairwise(trip.nights):
        again = before.drivers & night.drivers
        if again and night.date - before.date == A_DAY:
            yield TripWarning("same_driver", night.date, {"drivers": tuple(sorted(again))})


SUBJECTS: tuple[Callable[[PlannedTrip, Thresholds], Found], ...] = (
    _first_drive,
    _late_drives,
    _rest,
    _late_nights,
    _height,
    _leaving,
    _leaders,
    _seats,
    _drivers,
)
