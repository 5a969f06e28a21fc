"""Windows: 120 targets over a year and a ridge, 1 000 spots, and the same through two libraries.

python -m tests.benchmarks.windows [--tenth]

Measured after the season's table, with the tables of frames warm. Of many spots each has a position
and a skyline of its own; there the season's tables count too, and two processes share the work.
"""

from __future__ import annotations

import os
import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from datetime import date
from functools import partial

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import numpy as np
from numpy.typing import NDArray

from sky.lights import grid_between, light_spans
from sky.moving import SAMPLE_SECONDS
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import Skyline, skyline_of
from sky.span_arrays import intersect
from sky.targets.kinds import all_listings, target_of
from sky.targets.target import FixedPoint
from sky.windows import Wanted, find_windows
from tests.benchmarks.measuring import best_ms, hold, is_tenth
from tests.benchmarks.windows_elsewhere import (
    Directions,
    Question,
    astropy_directions,
    skyfield_directions,
    spans_by,
    spans_closely,
)

Floats = NDArray[np.float64]

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
PLACE = Place(40.4, -1.1, 1600, "Europe/Madrid")
MOVING = (
    "moon:moon", "planet:mercury", "planet:venus", "planet:mars", "planet:jupiter",
    "planet:saturn", "milky-way:arch",
)  # fmt: skip
LIST = ("milky-way:core", "milky-way:arch", "planet:venus", "planet:jupiter", "planet:saturn")
TARGETS, OF_A_LIST = 120, 20
ZONES = ("Europe/Madrid", "America/Santiago", "Australia/Sydney", "America/Denver")
LEAST_DEGREES = 25.0
MOST_MS, MOST_SECONDS, PROCESSES, LEAST_TIMES = 150.0, 60.0, 2, 20.0
# However few the spots, each process makes the tables of four zones.
TABLES_SECONDS = 2.0
# Straight between twenty minutes: 15 s of curve, and a ridge's corners cut off.
MOST_MEDIAN_SECONDS, MOST_HOURS_SHARE = 20.0, 0.005
PARTNER_SECONDS, CLOSE_SECONDS, MOST_MISSED_SECONDS = 1800.0, 0.5, 1.0

# A window that one side has and the other has not: the number of its target, and its span.
Stray = tuple[int, Floats]


def main() -> None:
    is_small = is_tenth(__doc__)
    fixed, line = deep_sky(TARGETS), ridge(36, seed=1)
    took = milliseconds(fixed, line, runs := 3 if is_small else 15)
    mixed = [*map(target_of, MOVING), *(one.target for one in fixed)][:TARGETS]
    with_moving = milliseconds([Wanted.as_usual(each) for each in mixed], line, runs)
    print(f"{TARGETS} targets, a year, one spot, a skyline of 36 points; processor's milliseconds")
    print(f"  deep sky                                {took:8.1f}")
    print(f"  {len(MOVING)} of them Moon, planets, arch         {with_moving:8.1f}")
    hold(took, MOST_MS)

    compare(fixed, line)

    count = 100 if is_small else 1000
    clock, processors, spans = many_spots(count)
    print(f"{count} spots, {OF_A_LIST} targets, a year, {PROCESSES} processes, tables and all")
    print(f"  {clock:.1f} s by the clock, {processors:.1f} s of each processor, {spans} windows")
    hold(processors, MOST_SECONDS * count / 1000 + TABLES_SECONDS, "s")


def deep_sky(count: int) -> list[Wanted]:
    keys = [one.key for one in all_listings() if one.key.startswith("deep-sky:")]
    return [Wanted(target_of(key), "moonless", LEAST_DEGREES) for key in keys[:count]]


def ridge(points: int, *, seed: int) -> Skyline:
    heights = np.random.default_rng(seed).uniform(0, 35, points)
    return skyline_of([(n * 360 / points, float(each)) for n, each in enumerate(heights)])


def milliseconds(wanted: Sequence[Wanted], line: Skyline, runs: int) -> float:
    table = compute_season([PLACE], FIRST, LAST)
    return best_ms(partial(find_windows, wanted, PLACE, line, table), runs)


def compare(wanted: Sequence[Wanted], line: Skyline) -> None:
    """Measure the processor's time of both libraries and ours, and hold spans to spans."""
    table = compute_season([PLACE], FIRST, LAST)
    search = partial(find_windows, wanted, PLACE, line, table)
    ours, took = [one.spans for one in search()], best_ms(search, 5) / 1e3
    points = [one.target.points[0] for one in wanted]
    asked = Question(
        [point for point in points if isinstance(point, FixedPoint)],
        PLACE,
        line.raised_to(LEAST_DEGREES),
        light_spans(table, 0, "moonless"),
        grid_between(float(table.noons[0][0]), float(table.noons[0][-1]), SAMPLE_SECONDS),
    )
    print(f"the same by {SAMPLE_SECONDS:.0f} s; ours {took * 1e3:.0f} ms")
    libraries: dict[str, Directions] = {
        "Astropy": astropy_directions, "Skyfield": skyfield_directions,
    }  # fmt: skip
    for name, directions in libraries.items():
        start = time.process_time()
        theirs = spans_by(directions, asked)
        times = (time.process_time() - start) / took
        apart, share = differences(ours, theirs)
        strays = without_partner(ours, theirs)
        off = missed(asked, ours, strays)
        longest = max(span[1] - span[0] for _, span in strays)
        print(
            f"  {name:9} {times * took:6.1f} s, {times:5.0f} times ours; edges apart, median "
            f"{apart:.1f} s; hours {share:.3%} apart"
        )
        print(
            f"    {len(strays)} windows that only one has, the longest {longest:.0f} s; Astropy, "
            f"asked every {CLOSE_SECONDS:.1f} s, has ours to {off:.2f} s"
        )
        assert apart <= MOST_MEDIAN_SECONDS, name
        assert share <= MOST_HOURS_SHARE, name
        assert times >= LEAST_TIMES, name
        assert longest < SAMPLE_SECONDS, name
        assert off <= MOST_MISSED_SECONDS, name


def differences(ours: list[Floats], theirs: list[Floats]) -> tuple[float, float]:
    """Give the median seconds between edges that the light does not make, and the share of hours
    that is apart."""
    pairs = zip(ours, theirs, strict=True)
    apart = [np.abs(one - other).ravel() for one, other in pairs if len(one) == len(other)]
    hours = [sum(float(np.diff(each).sum()) for each in spans) for spans in (ours, theirs)]
    found = np.concatenate(apart)
    return float(np.median(found[found > 0])), abs(hours[1] / hours[0] - 1)


def without_partner(ours: list[Floats], theirs: list[Floats]) -> list[Stray]:
    """Give the windows that only one side has, each with the number of its target.

    Between twenty minutes a straight line misses the peak over a notch, and where it ends a few
    seconds off it makes or loses a sliver of dusk, dawn or moonrise.
    """
    found: list[Stray] = []
    for number, (one, other) in enumerate(zip(ours, theirs, strict=True)):
        middles = one.mean(axis=1), other.mean(axis=1)
        alone = *one[~partners(*middles)], *other[~partners(*middles[::-1])]
        found += [(number, span) for span in alone]
    return found


def missed(asked: Question, ours: list[Floats], strays: list[Stray]) -> float:
    """Give the most seconds by which our edges around strays miss those that Astropy has closely;
    infinity where it has another number of windows."""
    most = 0.0
    for number, span in strays:
        middle = span.mean()
        around = grid_between(middle - PARTNER_SECONDS, middle + PARTNER_SECONDS, CLOSE_SECONDS)
        theirs = spans_closely(
            replace(asked, points=asked.points[number : number + 1], unix=around)
        )
        here = intersect(ours[number], around[None, [0, -1]])
        if len(here) != len(theirs):
            return float("inf")
        most = max(most, float(np.abs(here - theirs).max(initial=0.0)))
    return most


def partners(ours: Floats, theirs: Floats) -> NDArray[np.bool_]:
    """Tell which middles have another nearby."""
    if not len(theirs):
        return np.zeros(len(ours), np.bool_)
    has_one: NDArray[np.bool_] = np.abs(ours[:, None] - theirs).min(axis=1) < PARTNER_SECONDS
    return has_one


def many_spots(count: int) -> tuple[float, float, int]:
    """Give the seconds of all spots, by the clock and by each processor, and all windows."""
    shares = [range(count)[part::PROCESSES] for part in range(PROCESSES)]
    start = time.perf_counter()
    with ProcessPoolExecutor(PROCESSES) as pool:
        worked, found = zip(*pool.map(windows_at, shares), strict=True)
    return time.perf_counter() - start, sum(worked) / PROCESSES, sum(found)


def windows_at(numbers: Sequence[int]) -> tuple[float, int]:
    """Give the processor's seconds of some spots, and how many windows they have."""
    start = time.process_time()
    rng = np.random.default_rng(7)
    latitudes, longitudes = rng.uniform(-60, 60, 1000), rng.uniform(-20, 20, 1000)
    # Neighbours in one zone, as a club's spots are.
    places = sorted(
        (
            Place(float(latitudes[n]), float(longitudes[n]), 500, ZONES[n // 2 % len(ZONES)])
            for n in numbers
        ),
        key=lambda place: place.zone or "",
    )
    table, wanted = compute_season(places, FIRST, LAST), a_list()
    found = sum(
        len(one.spans)
        for n, place in enumerate(places)
        for one in find_windows(wanted, place, ridge(36, seed=n), table, index=n)
    )
    return time.process_time() - start, found


def a_list() -> list[Wanted]:
    known = [Wanted.as_usual(target_of(key)) for key in LIST]
    return [*known, *deep_sky(OF_A_LIST - len(known))]


if __name__ == "__main__":
    main()
