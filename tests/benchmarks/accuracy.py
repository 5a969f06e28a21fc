"""The accuracy table: every crossing of random place-years against Skyfield's search.

python -m tests.benchmarks.accuracy [--tenth]
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

import numpy as np

from sky.nights import SUN_LEVELS, season_crossings
from tests.against import skyfield_search as referee
from tests.against.random_places import random_place_years
from tests.benchmarks.measuring import is_tenth

NAMES = dict(zip(SUN_LEVELS, ("Sun −0.8333°", "−6°", "−12°", "−15°", "−18°"), strict=True))
ALLOWANCE_ARCSECONDS = 0.5


@dataclass
class Tally:
    compared: int = 0
    apart: list[float] = field(default_factory=list)
    slow: list[float] = field(default_factory=list)
    absent: int = 0

    def line(self, name: str) -> str:
        within = np.array(self.apart)
        slow = f"{max(self.slow):.2f}″" if self.slow else "none"
        return (
            f"{name:14s}{self.compared:8d}{np.median(within):9.3f}{within.max():9.3f}"
            f"{len(self.slow):7d} {slow:>8s}{self.absent:8d}"
        )


def main() -> None:
    count = 30 if is_tenth(__doc__) else 300
    tallies: dict[float | None, Tally] = {level: Tally() for level in (*SUN_LEVELS, None)}
    with referee.kernel() as kernel:
        for place, year in random_place_years(count, seed=300):
            sun, moon = season_crossings([place], date(year, 1, 1), date(year, 12, 31))
            for level, tally in tallies.items():
                ours = (moon if level is None else sun[level]).row(0)
                theirs, start, end = referee.crossings_of_a_year(kernel, place, year, level)
                ours = ours[(ours > start) & (ours < end)]
                _count(tally, ours, theirs)
                tally.absent += sum(
                    referee.crossings_near(kernel, place, root, level)
                    > np.sum(np.abs(ours - root) < referee.HOUR)
                    for root in theirs[_nearest(theirs, ours) > 1.0]
                )
                lonely = ours[_nearest(ours, theirs) > 1.0]
                if len(lonely):
                    height = referee.height_above_level(kernel, place, lonely, level)
                    tally.slow += (np.abs(height) * 3600).tolist()
    print(f"{count} place-years, 80° S to 80° N, 1972 to 2050; Skyfield 1.55 and DE421 as referee")
    print("level          compared   median s    max s  > 1 s altitude  absent")
    print(
        "(altitude: our distance from the level, by the referee, where its search differs by > 1 s)"
    )
    for level, tally in tallies.items():
        print(tally.line("Moon" if level is None else NAMES[level]))
    assert not any(tally.absent for tally in tallies.values())
    assert max(max(tally.slow, default=0) for tally in tallies.values()) <= ALLOWANCE_ARCSECONDS


def _count(tally: Tally, ours: referee.Floats, theirs: referee.Floats) -> None:
    near = _nearest(ours, theirs)
    tally.compared += len(ours)
    tally.apart += near[near <= 1.0].tolist()


def _nearest(some: referee.Floats, others: referee.Floats) -> referee.Floats:
    """Give how far each of `some` is from the nearest of `others`, in seconds."""
    if not len(others):
        return np.full(len(some), np.inf)
    after = np.clip(np.searchsorted(others, some), 1, max(len(others) - 1, 1))
    candidates = others[np.clip(np.stack((after - 1, after)), 0, len(others) - 1)]
    result: referee.Floats = np.min(np.abs(candidates - some), axis=0)
    return result


if __name__ == "__main__":
    main()
