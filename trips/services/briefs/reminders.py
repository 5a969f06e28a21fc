"""Reminders are asked for by the hour: 14, 3 and 1 days before people first meet, each once.

A first evening that was moved to another date is another one: what was said of the old one is no
longer true.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import Min, Q

from trips.models import Enrolment, Letter, Trip, TripNight
from trips.planning.trip_steps import GONE_BY
from trips.services.letter_kinds.reminders import DAYS, ENDS, LAST
from trips.services.letters import queue
from trips.services.night_times import first_night

GOES = ~Q(nights__decision=TripNight.Decision.NO_GO)


def remind(*, now: datetime) -> int:
    """Ask for the reminders that are due; give how many were asked for."""
    trips = Trip.objects.filter(status__in=GONE_BY)
    begin = trips.annotate(first_meeting=Min("nights__meeting_at", filter=GOES))
    soon = begin.filter(first_meeting__gt=now, first_meeting__lte=now + _days(max(DAYS.values())))
    nights = filter(None, map(first_night, soon))
    return sum(_remind(night, now=now) for night in nights)


def _remind(first: TripNight, *, now: datetime) -> int:
    left = first.meeting_at - now
    kind = next(name for name, days in DAYS.items() if _days(ENDS[name]) < left <= _days(days))
    due = first.meeting_at - _days(DAYS[kind])
    coming = (one for one in _without(kind, first) if _is_for(one, kind, due))
    return sum(_ask(kind, one, first.date, now=now) for one in coming)


def _without(kind: str, first: TripNight) -> list[Enrolment]:
    coming = Enrolment.objects.filter(trip=first.trip_id).coming()
    asked = Letter.objects.filter(trip=first.trip_id, kind=kind, key__endswith=f":{first.date}")
    return list(coming.exclude(pk__in=asked.values("enrolment")).select_related("trip"))


def _is_for(enrolment: Enrolment, kind: str, due: datetime) -> bool:
    """Whoever came when it was over has just been told all that; the last one is for everybody."""
    return kind == LAST or _came_at(enrolment) <= due


def _came_at(enrolment: Enrolment) -> datetime:
    """Give when a person got the place: confirming is earlier for who waited."""
    if enrolment.held_until is not None:
        return enrolment.held_until - timedelta(hours=enrolment.trip.hold_hours)
    return enrolment.placed_at or enrolment.asked_at


@transaction.atomic
def _ask(kind: str, enrolment: Enrolment, evening: date, *, now: datetime) -> bool:
    """Another hour of the same evening is the same reminder."""
    key = f"{kind}:{enrolment.uid}:{evening}"
    queue(kind, key=key, trip=enrolment.trip, enrolment=enrolment, due_at=now)
    return True


def _days(days: int) -> timedelta:
    return timedelta(days=days)
