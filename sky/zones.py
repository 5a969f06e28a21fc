"""The civil zone kept at a position. The only module that opens the zone polygons."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from functools import lru_cache

from timezonefinder import TimezoneFinder

from sky.clock import zone_names, zone_of

# A zone typed for a position may differ by this much before it is doubted: neighbours on either
# side of a zone border, and people who keep the time of the next valley.
DOUBTED_ABOVE = timedelta(hours=1)
# Rules of old years are no guide to what a person typed today.
YEAR_COMPARED = 2026


@lru_cache(maxsize=65_536)
def zone_at(latitude: float, longitude: float) -> str:
    """Give the IANA zone at a position in degrees.

    On the open sea the nautical zone Etc/GMT±n (its sign is the reverse of the offset's).
    """
    longitude = (longitude + 180.0) % 360.0 - 180.0
    found = _polygons().timezone_at(lat=latitude, lng=longitude)
    return str(found) if found in zone_names() else nautical_zone(longitude)


def nautical_zone(longitude: float) -> str:
    """Give the zone of ships at a longitude of −180 to 180°: fifteen degrees an hour."""
    hours = round(longitude / 15)
    return f"Etc/GMT{-hours:+d}" if hours else "Etc/GMT"


def zone_misfit(zone: str, latitude: float, longitude: float) -> str | None:
    """Give the zone at the position when `zone` keeps another time there, else None.

    Another time: more than an hour apart on 1 January or on 1 July. Errors: `zone_unknown`.
    """
    found = zone_at(latitude, longitude)
    apart = (abs(a - b) for a, b in zip(_offsets(zone), _offsets(found), strict=True))
    return found if max(apart) > DOUBTED_ABOVE else None


@lru_cache(maxsize=1)
def _polygons() -> TimezoneFinder:
    return TimezoneFinder(in_memory=False)


@lru_cache(maxsize=1024)
def _offsets(zone: str) -> tuple[timedelta, timedelta]:
    january, july = (
        datetime(YEAR_COMPARED, month, 1, 12, tzinfo=UTC).astimezone(zone_of(zone)).utcoffset()
        or timedelta(0)
        for month in (1, 7)
    )
    return january, july
