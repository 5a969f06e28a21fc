"""Who gets a free place: the next of the waiting list, by itself, and the trip's status follows.

Each deed here is for a trip that the transaction holds (`places.lock`).
"""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import F, Max

from trips.models import Enrolment, Trip
from trips.services import letters
from trips.services.places import begins_at, free_place, is_joinable
from trips.services.trip_history import note

REMIND_BEFORE = timedelta(hours=24)

State = Enrolment.State


def hold(trip: Trip, enrolment: Enrolment, place: int, *, now: datetime) -> None:
    """Hold the place for a stated time; once people meet, no longer."""
    ends = [now + timedelta(hours=trip.hold_hours), begins_at(trip)]
    enrolment.state, enrolment.place = State.HELD, place
    enrolment.held_until = min(end for end in ends if end is not None)
    enrolment.save(update_fields=["state", "place", "held_until"])
    note(trip, "held", at=now, enrolment=enrolment, place=place)
    remind_at = enrolment.held_until - REMIND_BEFORE
    if remind_at > now:
        key = f"hold-ends:{enrolment.uid}:{enrolment.held_until:%Y%m%d%H%M%S}"
        letters.queue("hold_ends", key=key, trip=trip, enrolment=enrolment, due_at=remind_at)


def wait(trip: Trip, enrolment: Enrolment, *, now: datetime) -> None:
    """Put the person at the end of the waiting list."""
    last = trip.enrolments.aggregate(last=Max("queue_number"))["last"] or 0
    enrolment.state, enrolment.queue_number = State.WAITING, last + 1
    enrolment.save(update_fields=["state", "queue_number"])
    note(trip, "waiting", at=now, enrolment=enrolment)


def settle(trip: Trip, *, now: datetime) -> None:
    """Let the waiting list move up where a place is free, and the trip's status follow."""
    if not is_joinable(trip, now=now):
        return
    for enrolment in trip.enrolments.filter(state=State.WAITING).order_by("queue_number", "pk"):
        place = free_place(trip)
        if place is None:
            break
        hold(trip, enrolment, place, now=now)
        _tell_moved_up(trip, enrolment, now=now)
    _open_or_full(trip, now=now)


def _tell_moved_up(trip: Trip, enrolment: Enrolment, *, now: datetime) -> None:
    key = f"moved-up:{enrolment.uid}:{now:%Y%m%d%H%M%S}"
    letters.queue("moved_up", key=key, trip=trip, enrolment=enrolment, due_at=now)


def _open_or_full(trip: Trip, *, now: datetime) -> None:
    if trip.status not in (Trip.Status.OPEN, Trip.Status.FULL):
        return
    wanted = Trip.Status.FULL if free_place(trip) is None else Trip.Status.OPEN
    if wanted == trip.status:
        return
    # An editor who has the trip open saves over no status that changed meanwhile.
    Trip.objects.filter(pk=trip.pk).update(
        status=wanted, status_since=now, version=F("version") + 1
    )
    trip.refresh_from_db(fields=["status", "status_since", "version"])
    note(trip, wanted, at=now)
