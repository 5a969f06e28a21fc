"""The places of a trip: which is free, until when they are given and given back.

Whoever changes them holds the trip's row for as long: on PostgreSQL by a lock on it, on SQLite
because a transaction that writes is the only one. The rows refuse a place given twice in any case.
"""

from __future__ import annotations

from datetime import datetime

from django.db.models import Min

from trips.almanac.local_time import local
from trips.models import Enrolment, Trip

# People can come to have a place.
JOINABLE = (Trip.Status.OPEN, Trip.Status.FULL, Trip.Status.CONFIRMED)
UTC_NAME = "UTC"


def lock(trip: Trip) -> Trip:
    """Give the trip as it is now, held until the transaction ends."""
    held: Trip = Trip.objects.select_for_update().get(pk=trip.pk)
    return held


def zone_of_trip(trip: Trip) -> str:
    """Give the zone of its first night's spot: a trip's days are days there."""
    night = trip.nights.select_related("spot__site").first()
    return str(night.spot.site.zone) if night else UTC_NAME


def begins_at(trip: Trip) -> datetime | None:
    begin: datetime | None = trip.nights.aggregate(first=Min("meeting_at"))["first"]
    return begin


def is_joinable(trip: Trip, *, now: datetime) -> bool:
    """Tell whether places are still given: until people meet for the first time."""
    begin = begins_at(trip)
    return trip.status in JOINABLE and (begin is None or now < begin)


def free_place(trip: Trip) -> int | None:
    """Give the lowest free number, None where all places are taken.

    Where a trip was made smaller than its people are, nobody loses a place and none is free.
    """
    taken = set(trip.enrolments.with_a_place().values_list("place", flat=True))
    if len(taken) >= trip.capacity:
        return None
    return next(n for n in range(1, trip.capacity + 1) if n not in taken)


def may_give_back(trip: Trip, *, now: datetime) -> bool:
    """Tell whether a place can be given back: all of the last day, at most until the start."""
    begin = begins_at(trip)
    if begin is not None and now >= begin:
        return False
    last = trip.give_back_until
    return last is None or local(now, zone_of_trip(trip)).date() <= last


def number_in_queue(enrolment: Enrolment) -> int | None:
    """Give how many stand in the waiting list up to this person; None for who does not wait."""
    if enrolment.state != Enrolment.State.WAITING:
        return None
    waiting = Enrolment.objects.filter(trip=enrolment.trip_id, state=Enrolment.State.WAITING)
    return int(waiting.filter(queue_number__lte=enrolment.queue_number).count())
