"""Trips as a list shows them, each in a line: when, where, how many. Changes no rows."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, datetime

from trips.almanac.local_time import night_at
from trips.models import Enrolment, Trip, User
from trips.planning.trip_steps import OVER

State = Enrolment.State


@dataclass(frozen=True, slots=True)
class TripLine:
    """`first` and `last` evening; `sites` once each, in the order of the nights."""

    trip: Trip
    first: date | None
    last: date | None
    sites: tuple[str, ...]
    taken: int
    waiting: int
    is_ahead: bool


def lines_of(user: User, *, now: datetime) -> list[TripLine]:
    """Give the trips of a member's organisations: those ahead by their first night, then those
    that are over, the latest first. Three queries and one for the places."""
    mine = Trip.objects.for_member(user).select_related("organisation")
    trips = list(mine.prefetch_related("nights__spot__site"))
    states = Enrolment.objects.filter(trip__in=trips).values_list("trip_id", "state", "place")
    taken = Counter(trip for trip, _state, place in states if place is not None)
    waiting = Counter(trip for trip, state, _place in states if state == State.WAITING)
    lines = [_line(trip, taken[trip.pk], waiting[trip.pk], now) for trip in trips]
    ahead = sorted((line for line in lines if line.is_ahead), key=_begin)
    return ahead + sorted((line for line in lines if not line.is_ahead), key=_begin, reverse=True)


def _line(trip: Trip, taken: int, waiting: int, now: datetime) -> TripLine:
    nights = list(trip.nights.all())
    last = nights[-1] if nights else None
    is_past = last is not None and last.date < night_at(now, last.spot.site.zone)
    return TripLine(
        trip=trip,
        first=nights[0].date if nights else None,
        last=last.date if last else None,
        sites=tuple(dict.fromkeys(night.spot.site.name for night in nights)),
        taken=taken,
        waiting=waiting,
        is_ahead=not is_past and trip.status not in OVER,
    )


def _begin(line: TripLine) -> tuple[date, int]:
    return line.first or date.min, line.trip.pk
