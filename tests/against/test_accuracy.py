"""Every crossing of a year at random places, held against Skyfield's search and its altitudes.

Referee: Skyfield 1.55 with JPL DE421 and its built-in timescale. Ordinary crossings within 1 s;
grazing ones within 0.5″ of altitude, and absent or extra only there.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import numpy as np
import pytest

from sky.nights import SUN_LEVELS, season_crossings
from sky.place import Place
from tests.against import skyfield_search as referee
from tests.against.random_places import random_place_years

ORDINARY_DEGREES_PER_HOUR = 0.5
ALLOWANCE_DEGREES = 0.5 / 3600


@pytest.fixture(scope="module")
def kernel() -> Iterator[Any]:
    with referee.kernel() as opened:
        yield opened


@pytest.mark.parametrize(("place", "year"), random_place_years(30, seed=2027))
def test_every_crossing_of_a_year_agrees_with_the_referee(
    kernel: Any, place: Place, year: int
) -> None:
    sun, moon = season_crossings([place], date(year, 1, 1), date(year, 12, 31))
    for level in [*SUN_LEVELS, None]:
        ours = (moon if level is None else sun[level]).row(0)
        theirs, start, end = referee.crossings_of_a_year(kernel, place, year, level)
        ours = ours[(ours > start) & (ours < end)]
        for root in unmatched(ours, theirs):
            height = referee.height_above_level(kernel, place, np.array([root]), level)
            assert abs(height[0]) <= ALLOWANCE_DEGREES, (level, root)
            assert rate(kernel, place, root, level) <= ORDINARY_DEGREES_PER_HOUR
        for root in unmatched(theirs, ours):
            really = referee.crossings_near(kernel, place, root, level)
            assert really == np.sum(np.abs(ours - root) < referee.HOUR)


def unmatched(some: referee.Floats, others: referee.Floats) -> referee.Floats:
    """Give those of `some` without a counterpart within a second."""
    if not len(others):
        return some
    nearest = np.min(np.abs(some[:, None] - others[None, :]), axis=1)
    alone: referee.Floats = some[nearest > 1.0]
    return alone


def rate(kernel: Any, place: Place, root: float, level: float | None) -> float:
    """Give degrees per hour at a crossing."""
    around = np.array([root - 30, root + 30])
    before, after = referee.height_above_level(kernel, place, around, level)
    return float(abs(after - before) * 60)


def slow_and_random_windows() -> list[tuple[Place, date, float | None]]:
    """Name days on which the body only just reaches a level, and a few taken at random."""
    tangent: list[tuple[Place, date, float | None]] = [
        (Place(57.0, 10.0), date(2027, 4, 29), -18.0),
        (Place(57.0, 10.0), date(2027, 4, 30), -18.0),
        (Place(48.6, 2.0), date(2027, 6, 21), -18.0),
        (Place(54.5, -3.0), date(2027, 6, 21), -12.0),
        (Place(60.6, 25.0), date(2027, 6, 21), -6.0),
        (Place(65.7, 25.0), date(2027, 6, 21), -0.8333333333),
        (Place(70.0, 0.0), date(2023, 2, 19), None),
        (Place(69.6, 18.9), date(2027, 11, 27), -0.8333333333),
        (Place(-77.8, 166.7), date(2027, 8, 20), -0.8333333333),
    ]
    rng = np.random.default_rng(7)
    for place, year in random_place_years(20, seed=99):
        day = date(year, 1, 1).toordinal() + int(rng.integers(0, 365))
        level = [None, *SUN_LEVELS][int(rng.integers(0, 6))]
        tangent.append((place, date.fromordinal(day), level))
    return tangent


@pytest.mark.parametrize(("place", "day", "level"), slow_and_random_windows())
def test_no_crossing_of_a_day_is_missed_or_invented(
    kernel: Any, place: Place, day: date, level: float | None
) -> None:
    noon = (day.toordinal() - date(1970, 1, 1).toordinal()) * 86400.0 + 43200.0
    unix = noon + np.arange(0.0, 86400.0 + 10, 10.0)
    height = referee.height_above_level(kernel, place, unix, level)
    theirs = unix[:-1][(height[1:] > 0) != (height[:-1] > 0)]
    sun, moon = season_crossings([place], day, day)
    key = None if level is None else min(SUN_LEVELS, key=lambda known: abs(known - level))
    ours = (moon if key is None else sun[key]).row(0)
    ours = ours[(ours > unix[0]) & (ours < unix[-1])]
    lonely = [root for root in ours if not np.any(np.abs(theirs + 5 - root) < 6)]
    missed = [root for root in theirs if not np.any(np.abs(ours - root - 5) < 6)]
    extremum = float(np.min(np.abs(height)))
    assert not (lonely or missed) or extremum <= ALLOWANCE_DEGREES, (lonely, missed, extremum)
