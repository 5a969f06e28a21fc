"""Reminders are asked for by the hour: 14, 3 and 1 days before people first meet, each once."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import Min, Q

from trips.models import Enrolment, Trip, TripNight
from trips.services.letter_kinds.reminders import DAYS, ENDS, LAST
from trips.services.letter_kinds.to_person import COMING
from trips.services.letters import queue

Status = Trip.Status
RUNS = (Status.OPEN, Status.FULL, Status.CONFIRMED, Status.RUNNING)
GOES = ~Q(nights__decision=TripNight.Decision.NO_GO)


def remind(*, now: datetime) -> int:
    """Ask for the reminders that are due; give how many were asked for."""
    trips = Trip.objects.filter(status__in=RUNS)
    begin = trips.annotate(first_meeting=Min("nights__meeting_at", filter=GOES))
    soon = begin.filter(first_meeting__gt=now, first_meeting__lte=now + _days(max(DAYS.values())))
    return sum(_remind(trip, trip.first_meeting, now=now) for trip in soon)


def _remind(trip: Trip, first_meeting: datetime, *, now: datetime) -> int:
    left = first_meeting - now
    kind = next(name for name, days in DAYS.items() if _days(ENDS[name]) < left <= _days(days))
    due = first_meeting - _days(DAYS[kind])
    return sum(_ask(kind, one, now=now) for one in _without(kind, trip) if _is_for(one, kind, due))


def _without(kind: str, trip: Trip) -> list[Enrolment]:
    coming = Enrolment.objects.filter(trip=trip, state__in=COMING)
    return list(coming.exclude(letters__kind=kind).select_related("trip"))


def _is_for(enrolment: Enrolment, kind: str, due: datetime) -> bool:
    """Whoever came when it was over has just been told all that; the last one is for everybody."""
    return kind == LAST or _came_at(enrolment) <= due


def _came_at(enrolment: Enrolment) -> datetime:
    """Give when a person got the place: confirming is earlier for who waited."""
    if enrolment.held_until is not None:
        return enrolment.held_until - timedelta(hours=enrolment.trip.hold_hours)
    return enrolment.placed_at or enrolment.asked_at


@transaction.atomic
def _ask(kind: str, enrolment: Enrolment, *, now: datetime) -> bool:
    """The key is the person's place and the kind: a night that moves brings no second one."""
    key = f"{kind}:{enrolment.uid}"
    queue(kind, key=key, trip=enrolment.trip, enrolment=enrolment, due_at=now)
    return True


def _days(days: int) -> timedelta:
    return timedelta(days=days)
