"""Events of a year at many places: ours beside Skyfield and PyEphem, in one run.

    python -m tests.benchmarks.events [--tenth]

Four levels of the Sun, and the Moon, both directions. The table is stated apart, since it serves
every place. The floor is the least that any such method must do over the same grid: the products
of places and columns for Sun and Moon, and the Moon's norm.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import UTC, date, datetime
from statistics import median

# One thread: a ratio of single cores is a ratio that can be compared.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import ephem
import numpy as np

from sky import altitude, ephemeris, nights
from sky.constants import SUN_RISE_SET_DEGREES
from sky.place import Place
from tests.against import skyfield_search
from tests.benchmarks.measuring import is_tenth, seconds

YEAR = 2027
FIRST, LAST = date(YEAR, 1, 1), date(YEAR, 12, 31)
LEVELS = (SUN_RISE_SET_DEGREES, -6.0, -12.0, -18.0)
LEAST_OF_SKYFIELD, LEAST_OF_PYEPHEM = 200, 400


def places(count: int) -> list[Place]:
    rng = np.random.default_rng(1)
    drawn = zip(rng.uniform(-60, 60, count), rng.uniform(-180, 180, count), strict=True)
    return [Place(float(latitude), float(longitude)) for latitude, longitude in drawn]


def typical(deed: Callable[[], object], *, runs: int = 7) -> float:
    return median(seconds(deed) for _ in range(runs))


def ours(some: list[Place]) -> None:
    nights.season_crossings(some, FIRST, LAST, levels=LEVELS)


def floor(some: list[Place]) -> None:
    sun, moon = altitude.point_track("sun", FIRST, LAST), altitude.moon_track(FIRST, LAST)
    for begin in range(0, len(some), nights.BLOCK):
        seen_from = altitude.observers(some[begin : begin + nights.BLOCK])
        _ = seen_from.up @ sun.columns[:3]
        east, north, up = (
            moon.columns[axis] / moon.columns[3] - seen_from.position[:, axis, None]
            for axis in range(3)
        )
        distance = np.sqrt(east * east + north * north + up * up)
        _ = (seen_from.up @ moon.columns[:3]) / distance


def skyfield_year(some: list[Place]) -> None:
    with skyfield_search.kernel() as kernel:
        for place in some:
            for level in (*LEVELS, None):
                skyfield_search.crossings_of_a_year(kernel, place, YEAR, level)


def pyephem_year(some: list[Place]) -> None:
    for place in some:
        for level in LEVELS:
            pyephem_body(place, ephem.Sun(), level)
        pyephem_body(place, ephem.Moon(), -34 / 60)


def pyephem_body(place: Place, body: object, level: float) -> None:
    seen = ephem.Observer()
    seen.lat, seen.lon = str(place.latitude), str(place.longitude)
    seen.pressure, seen.horizon = 0, str(level)
    end = ephem.Date(datetime(YEAR + 1, 1, 1, tzinfo=UTC))
    for following in (seen.next_rising, seen.next_setting):
        seen.date = ephem.Date(datetime(YEAR, 1, 1, tzinfo=UTC))
        while seen.date < end:
            try:
                seen.date = following(body, use_center=level < -1) + ephem.minute
            except (ephem.AlwaysUpError, ephem.NeverUpError):
                seen.date += 1


def main() -> None:
    count = 20 if is_tenth(__doc__) else 200
    some, few = places(count), places(count)[: max(2, count // 20)]
    table = typical(lambda: ephemeris._computed(YEAR, ("sun", "moon")), runs=3)
    ours(some)
    mine = typical(lambda: ours(some)) / len(some)
    whole = typical(lambda: nights.compute_season(some, FIRST, LAST)) / len(some)
    least = typical(lambda: floor(some)) / len(some)
    skyfield = typical(lambda: skyfield_year(few), runs=1) / len(few)
    pyephem = typical(lambda: pyephem_year(few), runs=1) / len(few)
    print(f"{count} places, year {YEAR}, milliseconds a place-year")
    print(f"table, once                 {table * 1e3:9.1f}")
    print(f"events, ours                {mine * 1e3:9.3f}")
    print(f"whole nights, ours          {whole * 1e3:9.3f}")
    print(f"floor                       {least * 1e3:9.3f}   ours is {mine / least:.1f} times it")
    print(f"Skyfield                    {skyfield * 1e3:9.1f}   {skyfield / mine:.0f} times ours")
    print(f"PyEphem                     {pyephem * 1e3:9.1f}   {pyephem / mine:.0f} times ours")
    assert skyfield / mine >= LEAST_OF_SKYFIELD, "fewer times Skyfield than promised"
    assert pyephem / mine >= LEAST_OF_PYEPHEM, "fewer times PyEphem than promised"


if __name__ == "__main__":
    main()
