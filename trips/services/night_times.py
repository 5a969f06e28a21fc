"""What follows of a trip's night from what is planned and decided: an hour, a spot."""

from __future__ import annotations

from datetime import datetime, timedelta

from trips.models import Spot, Trip, TripNight


def call_out_at(ends_at: datetime, *, drive_minutes: int, margin_minutes: int) -> datetime:
    """Give when a night that nobody closed is overdue: planned end, drive and margin."""
    return ends_at + timedelta(minutes=drive_minutes + margin_minutes)


def set_call_out(night: TripNight, trip: Trip) -> None:
    """Give the night its hour; it is saved by whoever saves the night."""
    night.call_out_at = call_out_at(
        night.ends_at,
        drive_minutes=night.drive_minutes,
        margin_minutes=trip.call_out_margin_minutes,
    )


def set_call_outs(trip: Trip) -> None:
    """Give all nights their hour anew, after the trip's margin has changed."""
    nights = list(trip.nights.all())
    for night in nights:
        set_call_out(night, trip)
    TripNight.objects.bulk_update(nights, ["call_out_at"])


def spot_decided(night: TripNight) -> Spot:
    """Give where the night goes, as far as it is decided: the first spot unless it was moved."""
    moved = night.decision == TripNight.Decision.SECOND
    return night.second_spot if moved and night.second_spot else night.spot


def first_night(trip: Trip) -> TripNight | None:
    """Give the first night of those that were not called off."""
    nights = trip.nights.exclude(decision=TripNight.Decision.NO_GO)
    return nights.select_related("spot__site", "second_spot__site").first()
