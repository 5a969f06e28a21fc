"""The moments of a night at which a frame is looked at: dusk, the best, dawn, and steps between."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from trips.almanac.local_time import clock
from trips.almanac.night_target_words import why_words
from trips.almanac.night_targets import night_targets
from trips.almanac.sky_times import has_sky, instant_of, sky_times, within_sky
from trips.almanac.targets import Target
from trips.models import Night, Season, Site, Spot, TargetEntry

STEPS_MINUTES = (-60, -10, 10, 60)
MOST_TRIES = 12
DARK_LEVEL = Season.DarkLevel.ASTRONOMICAL.value


@dataclass(frozen=True, slots=True)
class Best:
    """When a target stands best; else why it does not stand right in this night."""

    instant: datetime | None
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class Step:
    """Another moment, and how many minutes from this one it is."""

    minutes: int
    instant: datetime


def best_of(target: Target, site: Site, spot: Spot | None, row: Night) -> Best:
    """Find the best moment of a target in a night, in the light in which its kind is wanted."""
    entry = TargetEntry(target=target.key, name=target.name)
    found = night_targets([entry], site, spot, row.date, dark_level=DARK_LEVEL)
    if found.seen:
        return Best(datetime.fromtimestamp(found.seen[0].best.at, UTC))
    return Best(None, why_words(found.absent[0]) if found.absent else "")


def usual_moment(row: Night, best: Best) -> datetime:
    """Give the best moment, else the middle of the night."""
    start, end = row.sunset or row.start, row.sunrise or row.end
    return within_sky(best.instant or start + (end - start) / 2, row)


def named_moments(row: Night, zone: str) -> tuple[datetime, datetime] | None:
    """Give dusk and dawn; nothing of a night on which the Sun does not set."""
    times = sky_times(row, zone)
    return (times[0], times[-1]) if has_sky(row) else None


def steps(row: Night, zone: str, instant: datetime) -> Iterator[Step]:
    """Give the moments around one that are between sunset and sunrise.

    An hour that the clock shows twice is the first in an address: a step onward leads past it.
    """
    for minutes in STEPS_MINUTES:
        for times in range(1, MOST_TRIES):
            wanted = instant + timedelta(minutes=minutes * times)
            found = instant_of(clock(wanted, zone), row, zone)
            if found is None or within_sky(found, row) != found:
                break
            if (found - instant).total_seconds() * minutes > 0:
                yield Step(minutes * times, found)
                break
