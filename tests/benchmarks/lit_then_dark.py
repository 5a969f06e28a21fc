"""Lit, then dark: a season for one face, and what a night's page asks of every night.

python -m tests.benchmarks.lit_then_dark [--tenth]
"""

from __future__ import annotations

import os
from datetime import date
from functools import partial

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from sky.focus import focus_stops
from sky.lit_then_dark import lit_and_dark, side_lit_spans
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import skyline_of
from sky.targets.kinds import target_of
from sky.windows import Wanted, find_windows
from tests.benchmarks.measuring import best_ms, hold, is_tenth

PLACE = Place(40.4, -1.1, 1600, "Europe/Madrid")
# A corner every ten degrees.
HILLS = skyline_of([(float(azimuth), 4.0 + azimuth // 10 % 3) for azimuth in range(0, 360, 10)])
FACE = 290.0
SEASONS = {
    "a summer": (date(2027, 6, 1), date(2027, 8, 31)),
    "a year": (date(2027, 1, 1), date(2027, 12, 31)),
    "one night": (date(2027, 7, 10), date(2027, 7, 10)),
}
NIGHTS_OF_A_YEAR = {"milky-way:core": 13, "deep-sky:NGC0224": 40, "planet:jupiter": 23}
MOST_MILLISECONDS, MOST_FOCUS = 100.0, 30.0


def main() -> None:
    times = 2 if is_tenth(__doc__) else 10
    print("milliseconds for one face, the season's table too; nights found")
    for name, dates in SEASONS.items():
        for key, of_a_year in NIGHTS_OF_A_YEAR.items():
            found = _nights(key, *dates)
            assert name != "a year" or found == of_a_year
            spent = best_ms(partial(_nights, key, *dates), times)
            print(f"{name:12}{key:20}{spent:9.1f}{found:8}")
            hold(spent, MOST_MILLISECONDS)
    dusk = 1_804_620_600.0  # 9 March 2027, 19:30 UTC
    spent = best_ms(lambda: focus_stops(PLACE, HILLS, dusk, dusk + 8 * 3600), times)
    print(f"what to focus on in eight hours{spent:10.1f}")
    hold(spent, MOST_FOCUS)


def _nights(key: str, first: date, last: date) -> int:
    table = compute_season([PLACE], first, last)
    lit = side_lit_spans(table, 0, PLACE, HILLS, FACE)
    (windows,) = find_windows([Wanted(target_of(key), "moonless", 8.0)], PLACE, HILLS, table)
    return len(lit_and_dark(table, 0, PLACE, FACE, lit=lit, dark=windows.spans))


if __name__ == "__main__":
    main()
