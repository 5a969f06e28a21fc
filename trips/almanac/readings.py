"""What a reading of darkness is held against: the instant it was made at, and what stood there."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache

from django.utils.translation import gettext as _

from sky.clock import night_holding, zone_of
from sky.constants import SUN_RISE_SET_DEGREES
from sky.directions import direction_of
from trips.almanac.bearings import bearing
from trips.almanac.places import Place, place_of
from trips.models import Site

__all__ = [
    "Overhead",
    "instant_at",
    "instant_of",
    "night_holding",
    "noon_of",
    "overhead",
    "toward",
    "zone_of",
]

# As the night of definitions: until noon it is still the evening before.
NOON = time(12)
DARK_DEGREES = -18.0


@dataclass(frozen=True, slots=True)
class Overhead:
    """Sun (geometric) and Moon (apparent) in degrees above the horizon of a site."""

    sun_degrees: float
    moon_degrees: float

    @property
    def is_day(self) -> bool:
        return self.sun_degrees > SUN_RISE_SET_DEGREES

    @property
    def is_twilight(self) -> bool:
        return self.sun_degrees > DARK_DEGREES

    @property
    def is_moon_up(self) -> bool:
        return self.moon_degrees > 0

    @property
    def is_dark(self) -> bool:
        return not self.is_twilight and not self.is_moon_up


def overhead(site: Site, at: datetime) -> Overhead:
    """Give where Sun and Moon stood. Errors: `SkyError` `instant_outside` and those of Place."""
    return _overhead(place_of(site), at)


# An outing's readings are of one moment, and a log is looked at again and again.
@lru_cache(maxsize=1024)
def _overhead(place: Place, at: datetime) -> Overhead:
    sun, moon = direction_of("sun", place, at), direction_of("moon", place, at)
    return Overhead(sun.altitude_geometric_degrees, moon.altitude_degrees)


def instant_of(evening: date, clock: time, zone: str) -> datetime | None:
    """Give the instant of a clock's time in the night of an evening; of an hour that comes twice
    the first, None for one that the clock skipped."""
    return instant_at(datetime.combine(evening + timedelta(days=clock < NOON), clock), zone)


def instant_at(local: datetime, zone: str) -> datetime | None:
    """Give the instant of a date and time on a zone's clocks, as `instant_of`."""
    kept = zone_of(zone)
    instant = local.replace(tzinfo=kept).astimezone(UTC)
    return instant if instant.astimezone(kept).replace(tzinfo=None) == local else None


def noon_of(evening: date, zone: str) -> datetime:
    """Give the instant a night begins at: before everything that was read in it."""
    return datetime.combine(evening, NOON, zone_of(zone)).astimezone(UTC)


def toward(azimuth_degrees: float | None) -> str:
    """Say where a reading was aimed: "zenith", or "north-west, 302°"."""
    return _("zenith") if azimuth_degrees is None else bearing(azimuth_degrees)
