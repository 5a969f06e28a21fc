"""Showers, eclipses and close pairs: of years, and what one more place sees of a year.

    python -m tests.benchmarks.sky_events [--tenth]

The tables of Sun, Moon and planets are at hand, as on a server that has shown the year before.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from functools import partial
from statistics import median

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np

from sky import close_pairs, showers, solar_longitude
from sky.eclipses import discs, local, lunar, solar
from sky.pair_nights import nights_of_pairs
from sky.place import Place
from sky.shower_nights import nights_of_peaks
from tests.benchmarks.measuring import hold, is_tenth, seconds

FIRST, LAST = date(2025, 1, 1), date(2034, 12, 31)
YEAR = date(2027, 1, 1), date(2027, 12, 31)
KEPT = (
    solar_longitude._longitude,
    showers._of_year,
    discs._splines,
    lunar._of_year,
    solar._of_year,
    close_pairs._of_year,
)
MOST_MILLISECONDS_A_PLACE = 300.0


def afresh(deed: Callable[[], object], *, runs: int = 5) -> float:
    """Give the median of runs that find nothing kept from the one before, the first left out."""

    def once() -> float:
        for kept in KEPT:
            kept.cache_clear()
        return seconds(deed)

    once()
    return median(once() for _ in range(runs))


def places(count: int) -> list[Place]:
    rng = np.random.default_rng(3)
    drawn = zip(rng.uniform(-65, 65, count), rng.uniform(-180, 180, count), strict=True)
    return [Place(float(latitude), float(longitude)) for latitude, longitude in drawn]


def year_of(place: Place) -> None:
    nights_of_peaks(showers.peaks(*YEAR), place)
    nights_of_pairs(close_pairs.close_approaches(*YEAR), place)
    for eclipse in lunar.lunar_eclipses(*YEAR):
        lunar.seen_from(eclipse, place)
    for of_sun in solar.solar_eclipses(*YEAR):
        local.local_circumstances(of_sun, place)


def main() -> None:
    some = places(5 if is_tenth(__doc__) else 50)
    print("milliseconds, medians")
    of_moon = afresh(lambda: lunar.lunar_eclipses(FIRST, LAST))
    print(f"eclipses of the Moon, ten years  {of_moon * 1e3:9.1f}")
    of_sun = afresh(lambda: solar.solar_eclipses(FIRST, LAST))
    print(f"eclipses of the Sun, ten years   {of_sun * 1e3:9.1f}")
    peaks = afresh(lambda: showers.peaks(*YEAR))
    print(f"peaks of showers, a year         {peaks * 1e3:9.1f}")
    pairs = afresh(lambda: close_pairs.close_approaches(*YEAR))
    print(f"close pairs, a year              {pairs * 1e3:9.1f}")
    year_of(Place(0, 0))
    mine = median(seconds(partial(year_of, place)) for place in some) * 1e3
    print(f"all of a year, one more place    {mine:9.1f}")
    hold(mine, MOST_MILLISECONDS_A_PLACE, "ms a place")


if __name__ == "__main__":
    main()
