"""The nights of a trip, read once for all that is told of them."""

from __future__ import annotations

from django.db.models import prefetch_related_objects

from trips.models import Trip, TripNight
from trips.services.tides import is_coast


def nights_of(trip: Trip) -> tuple[TripNight, ...]:
    """Give the nights in order with their spots and sites, and on a coast with their tides.

    One query, two on a coast.
    """
    rows = TripNight.objects.filter(trip=trip).select_related("spot__site", "second_spot__site")
    nights = tuple(rows)
    for night in nights:
        night.trip = trip
    prefetch_related_objects([night for night in nights if is_coast(night)], "tides")
    return nights
