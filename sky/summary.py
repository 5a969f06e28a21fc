"""A season in a few figures for each place: candidate nights, hours by month, the longest run.

Arrays in and out, for many places at once; nothing is made for a single night.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sky.clock import night_exists, zone_of
from sky.constants import CIVIL_DEGREES
from sky.night import DARK_LEVELS, SeasonTable
from sky.sides import below_until, clock_below, evening_and_morning, locate, rows_of

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

NOON = time(12)


@dataclass(frozen=True, slots=True)
class Summary:
    """Figures of a season, a place each.

    `nights`, `candidates`, `longest_run` (place,) counts; `dark_hours`, `moonless_hours` (place,)
    of whole nights; `moonless_by_month` (place, month) hours, the months named (year, month).
    """

    nights: Ints
    candidates: Ints
    longest_run: Ints
    dark_hours: Floats
    moonless_hours: Floats
    months: tuple[tuple[int, int], ...]
    moonless_by_month: Floats


def summarise(
    table: SeasonTable, *, dark_level: int, least_hours: float, out_until: time
) -> Summary:
    """Summarise a season at one of DARK_LEVELS.

    A candidate night has at least `least_hours` of moonless dark, and some, from civil dusk to
    `out_until` of the place's clock (before noon: of the next morning). Without a civil dusk the
    Sun is that low from noon on, or never. Hours are decimal; a season of polar summer is zeros.
    """
    level = DARK_LEVELS.index(dark_level)
    moonless = table.moonless_hours[level]
    out_hours = moonless_hours_out(table, dark_level=dark_level, out_until=out_until)
    candidate = (out_hours > 0) & (out_hours >= least_hours)
    months, starts = _months(table.first, table.nights)
    return Summary(
        nights=night_exists(table.noons).sum(axis=1),
        candidates=candidate.sum(axis=1),
        longest_run=_longest_runs(candidate),
        dark_hours=table.dark_hours[level].sum(axis=1),
        moonless_hours=moonless.sum(axis=1),
        months=months,
        moonless_by_month=np.add.reduceat(moonless, starts, axis=1),
    )


def moonless_hours_out(table: SeasonTable, *, dark_level: int, out_until: time) -> Floats:
    """Give the moonless dark hours (place, night) between civil dusk and `out_until`."""
    noons = table.noons
    dusks, _ = evening_and_morning(table.sun[CIVIL_DEGREES], noons)
    starts = np.where(np.isnan(dusks), noons[:, :-1], dusks)
    ends = [
        _clock_times(place.zone, table.first, table.nights, out_until) for place in table.places
    ]
    ends_inside = np.clip(np.array(ends), starts, noons[:, 1:])
    edges = _moonless_until(table, dark_level, np.concatenate((starts, ends_inside), axis=1))
    result: Floats = (edges[:, table.nights :] - edges[:, : table.nights]) / 3600
    # The difference of two sums of a year is good to a microsecond, not to the last bit.
    return np.where(result > 1e-8, result, 0.0)


def _moonless_until(table: SeasonTable, dark_level: int, at: Floats) -> Floats:
    """Give, up to a constant of its row, the moonless dark seconds until each instant (row, …)."""
    sun, moon = table.sun[float(dark_level)], table.moon
    rows = rows_of(at)
    return clock_below(
        sun,
        locate(sun, at, rows),
        below_until(moon, sun.at, sun.rows),
        below_until(moon, at, rows),
        rows,
    )


@lru_cache(maxsize=256)
def _clock_times(zone: str, first: date, nights: int, clock: time) -> Floats:
    """Give the Unix time of an hour of the clock in each night; before noon the next morning's."""
    kept = zone_of(zone)
    day = first + timedelta(days=1) if clock < NOON else first
    times = np.array(
        [
            datetime.combine(day + timedelta(days=n), clock, kept).astimezone(UTC).timestamp()
            for n in range(nights)
        ]
    )
    times.flags.writeable = False
    return times


def _months(first: date, nights: int) -> tuple[tuple[tuple[int, int], ...], Ints]:
    """Name the months of a season, and give the number of each one's first night."""
    days = [first + timedelta(days=n) for n in range(nights)]
    starts = [n for n, day in enumerate(days) if n == 0 or day.day == 1]
    return tuple((days[n].year, days[n].month) for n in starts), np.array(starts, dtype=np.intp)


def _longest_runs(candidate: NDArray[np.bool_]) -> Ints:
    longest = np.zeros(len(candidate), dtype=np.intp)
    current = longest.copy()
    for night in candidate.T:
        current = np.where(night, current + 1, 0)
        longest = np.maximum(longest, current)
    return longest
