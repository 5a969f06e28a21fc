"""Instants on the clock of a place, by the same zone rules that its nights were computed with."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

from sky.clock import zone_of

HALF_A_DAY = timedelta(hours=12)


def local(instant: datetime | float, zone: str) -> datetime:
    """Give an instant (aware, or Unix seconds) as the zone's clocks and calendar show it."""
    if not isinstance(instant, datetime):
        instant = datetime.fromtimestamp(instant, UTC)
    return instant.astimezone(zone_of(zone))


def night_at(instant: datetime, zone: str) -> date:
    """Give the night that an instant is in: until noon it is still yesterday evening's."""
    return local(instant - HALF_A_DAY, zone).date()
