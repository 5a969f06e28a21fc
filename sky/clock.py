"""Civil time: zones, local noons, and the seasons for which UTC can be trusted."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from functools import cache, lru_cache
from importlib.metadata import version
from importlib.resources import files
from zoneinfo import ZoneInfo

import numpy as np
from numpy.typing import NDArray

from sky.errors import SkyError

# Before 1972 the "UTC" of libraries is not what was kept; past 2050 the kernel ends soon after.
FIRST_DAY, LAST_DAY = date(1972, 1, 1), date(2050, 12, 31)
NOON = 12


@lru_cache(maxsize=1)
def zone_names() -> frozenset[str]:
    """Give the names of all IANA zones."""
    return frozenset((files("tzdata") / "zones").read_text("ascii").split())


@lru_cache(maxsize=1024)
def zone_of(name: str) -> ZoneInfo:
    """Give the IANA zone of that name; errors: `zone_unknown`.

    Always from the tzdata package, never from the machine, so that `zone_data_version` is true.
    """
    if name not in zone_names():
        raise SkyError("zone_unknown", zone=name)
    with files("tzdata").joinpath("zoneinfo", *name.split("/")).open("rb") as rules:
        return ZoneInfo.from_file(rules, key=name)


@cache
def zone_data_version() -> str:
    """Give the version of the zone rules in use (the tzdata package), for fingerprints."""
    return version("tzdata")


def check_season(first: date, last: date) -> None:
    """Refuse reversed dates (`season_reversed`) and dates outside 1972–2050 (`season_outside`)."""
    if last < first:
        raise SkyError("season_reversed", first=first, last=last)
    for day in (first, last):
        if not FIRST_DAY <= day <= LAST_DAY:
            raise SkyError("season_outside", date=day, first_day=FIRST_DAY, last_day=LAST_DAY)


@lru_cache(maxsize=256)
def local_noons(zone: str, first: date, last: date) -> NDArray[np.float64]:
    """Give the Unix times of civil noon of each date from `first` to the day after `last`.

    Shape (nights + 1,). Night k runs from entry k to entry k + 1: 24 h, or 23 or 25 h when clocks
    change. A date that the zone skipped (Pacific/Apia, 2011-12-30) has the noon of the next date,
    so its night has length zero; see `night_exists`.
    """
    kept = zone_of(zone)
    days = (last - first).days + 2
    noons = np.array([_noon(kept, first + timedelta(days=n)) for n in range(days)])
    noons.flags.writeable = False
    return noons


def night_exists(noons: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Tell which nights of `local_noons` are real: shape (…, nights)."""
    return np.diff(noons, axis=-1) > 0


def count_nights(zone: str, first: date, last: date) -> int:
    """Count the nights named `first` to `last`; a date that the zone skipped has none."""
    return int(night_exists(local_noons(zone, first, last)).sum())


def night_holding(instant: datetime, zone: str) -> date:
    """Name the night that an instant is in: before noon it is still yesterday evening's."""
    local = instant.astimezone(zone_of(zone))
    return local.date() - timedelta(days=local.hour < NOON)


def steps_of_night(zone: str, night: date, step_seconds: float) -> NDArray[np.float64]:
    """Give the Unix times from a night's noon on, a step apart, before the next noon."""
    start, end = local_noons(zone, night, night).tolist()
    return np.arange(start, end, step_seconds)


def _noon(zone: ZoneInfo, day: date) -> float:
    return datetime.combine(day, time(NOON), zone).astimezone(UTC).timestamp()
