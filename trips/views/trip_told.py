"""What a trip says of itself to people without an account. Nothing of any person."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count, Q

from trips.models import Enrolment, Trip, TripNight
from trips.services import places

# A spot's skyline and a site's notes are no reading for whoever passes by, and slow.
_OF_NIGHTS = (
    "trip_id", "date", "meeting_at", "meeting_point", "ends_at",
    "meeting_latitude", "meeting_longitude",
    "spot__name", "spot__site__name", "spot__site__zone", "spot__site__position_is_sensitive",
    "second_spot__site__position_is_sensitive",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Told:
    """`free` is 0 while anybody waits: the next free place is theirs."""

    nights: tuple[TripNight, ...]
    free: int
    waiting: int
    can_join: bool

    @property
    def zone(self) -> str:
        return str(self.nights[0].spot.site.zone) if self.nights else places.UTC_NAME


def told_of(trip: Trip, *, now: datetime) -> Told:
    """Read what the way in and a person's own page tell of the trip. Two queries."""
    nights = tuple(trip.nights.select_related("spot__site", "second_spot__site").only(*_OF_NIGHTS))
    counted = trip.enrolments.aggregate(
        taken=Count("pk", filter=Q(place__isnull=False)),
        waiting=Count("pk", filter=Q(state=Enrolment.State.WAITING)),
    )
    waiting = int(counted["waiting"])
    free = 0 if waiting else max(0, trip.capacity - int(counted["taken"]))
    begin = nights[0].meeting_at if nights else None
    can_join = trip.status in places.JOINABLE and (begin is None or now < begin)
    return Told(nights, free, waiting, can_join)
