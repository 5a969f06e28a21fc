"""The times of a night at which its sky is shown: full hours from dusk to dawn, or as asked."""

from __future__ import annotations

import re
from datetime import UTC, datetime, time, timedelta
from itertools import islice

from sky.clock import zone_of
from trips.almanac.local_time import local, to_the_minute
from trips.models import Night

ONE_DAY = timedelta(days=1)
MINUTE = timedelta(minutes=1)
QUARTER = timedelta(minutes=15)  # zones differ from UTC by whole quarters of an hour
MOST_TIMES = 9
# The first that a night has bounds the times that are offered.
DUSKS = ("nautical_dusk", "civil_dusk", "sunset", "start")
DAWNS = ("nautical_dawn", "civil_dawn", "sunrise", "end")
CLOCK = re.compile(r"([01]?\d|2[0-3]):([0-5]\d)", re.ASCII)


def sky_times(row: Night, zone: str) -> list[datetime]:
    """Give dusk, the full hours of the zone's clock between, and dawn: at most `MOST_TIMES`.

    Every second or third hour of a long night; none of a night on which the Sun does not set.
    """
    if not has_sky(row):
        return []
    dusk, dawn = (_first_of(row, names, zone) for names in (DUSKS, DAWNS))
    hours = _full_hours(dusk + QUARTER, dawn - QUARTER, zone)
    step = -(-len(hours) // (MOST_TIMES - 2)) or 1
    return [dusk, *islice(hours, 0, None, step), dawn]


def has_sky(row: Night) -> bool:
    """Tell whether the Sun is down for a while."""
    why: str | None = row.absent.get("sunset")
    return why != "sun_never_sets"


def instant_of(text: str, row: Night, zone: str) -> datetime | None:
    """Give when the zone's clock shows "23:30" between the night's noons; None of what is no time.

    Of an hour that comes twice the first is meant; one that is skipped is that much later.
    """
    read = CLOCK.fullmatch(text.strip())
    if read is None:
        return None
    at = time(int(read[1]), int(read[2]), tzinfo=zone_of(zone))
    for day in (row.date, row.date + ONE_DAY):
        instant = datetime.combine(day, at).astimezone(UTC)
        if row.start <= instant < row.end:
            return instant
    return None


def within_sky(instant: datetime, row: Night) -> datetime:
    """Give the nearest instant between sunset and sunrise, each as its clock shows it."""
    sunset, sunrise = row.sunset or row.start, row.sunrise or row.end
    if sunset - MINUTE < instant < sunrise + MINUTE:
        return instant
    return min(max(instant, sunset), sunrise)


def _first_of(row: Night, names: tuple[str, ...], zone: str) -> datetime:
    """Give it to the minute, so that a link to its clock leads back to it."""
    found = next(value for name in names if (value := getattr(row, name)) is not None)
    return to_the_minute(found, zone).replace(second=0, microsecond=0).astimezone(UTC)


def _full_hours(start: datetime, end: datetime, zone: str) -> list[datetime]:
    """Give the instants at which the clock shows a full hour, each reading of the clock once."""
    first = -(-start.timestamp() // QUARTER.total_seconds()) * QUARTER.total_seconds()
    found: dict[str, datetime] = {}
    at = datetime.fromtimestamp(first, UTC)
    while at <= end:
        if local(at, zone).minute == 0:
            found.setdefault(f"{local(at, zone):%H}", at)
        at += QUARTER
    return list(found.values())
