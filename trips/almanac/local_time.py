"""Instants on the clock of a place, by the same zone rules that its nights were computed with."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from sky.clock import zone_of

HALF_A_DAY = timedelta(hours=12)
HALF_A_MINUTE = timedelta(seconds=30)


def local(instant: datetime | float, zone: str) -> datetime:
    """Give an instant (aware, or Unix seconds) as the zone's clocks and calendar show it."""
    if not isinstance(instant, datetime):
        instant = datetime.fromtimestamp(instant, UTC)
    return instant.astimezone(zone_of(zone))


def as_meant(typed: datetime, zone: str) -> datetime:
    """Give a moment as typed, without an offset on the clock of the zone, as an aware instant.

    An hour that a clock shows twice is the first of both.
    """
    kept = typed if typed.tzinfo is not None else typed.replace(tzinfo=zone_of(zone))
    return kept.astimezone(UTC)


def clock(instant: datetime | float, zone: str) -> str:
    """Give "21:34" on the clock of the zone, to the nearest minute, as almanacs print it."""
    return f"{to_the_minute(instant, zone):%H:%M}"


def to_the_minute(instant: datetime | float, zone: str) -> datetime:
    """Give the instant as a clock without seconds shows it, from half a minute on the next."""
    if not isinstance(instant, datetime):
        instant = datetime.fromtimestamp(instant, UTC)
    return local(instant + HALF_A_MINUTE, zone)


def night_at(instant: datetime, zone: str) -> date:
    """Give the night that an instant is in: until noon it is still yesterday evening's."""
    # Off the clock, not off the instant: where clocks changed since midnight the two differ.
    return (local(instant, zone).replace(tzinfo=None) - HALF_A_DAY).date()
