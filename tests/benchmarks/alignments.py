"""Alignments of a year, milliseconds a target, with the season's table at hand.

python -m tests.benchmarks.alignments [--tenth]
"""

from __future__ import annotations

import os
from datetime import date
from functools import partial
from statistics import median

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from sky.aim import Aim
from sky.alignments import find_alignments
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, skyline_of
from sky.targets.kinds import target_of
from tests.benchmarks.measuring import hold, is_tenth, seconds

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
PLACE = Place(40.4, -1.1, 1600, "Europe/Madrid")
# A corner every ten degrees.
HILLS = skyline_of([(float(azimuth), 4.0 + azimuth // 10 % 3) for azimuth in range(0, 360, 10)])
CASES = {
    "core over an azimuth": ("position:266.41667,-29.00778", Aim(180.0), LEVEL),
    "core over a landmark": ("position:266.41667,-29.00778", Aim(172.0, 19.5), LEVEL),
    "core over land": ("position:266.41667,-29.00778", Aim(180.0), HILLS),
    "a galaxy over a landmark": ("position:10.68471,41.26875", Aim(74.0, 55.0), LEVEL),
    "Venus over an azimuth": ("planet:venus", Aim(250.0), LEVEL),
    "Venus over land": ("planet:venus", Aim(250.0), HILLS),
    "the Moon over a landmark": ("moon:moon", Aim(110.0, 10.0), LEVEL),
    "the Moon over land": ("moon:moon", Aim(110.0, 10.0), HILLS),
}
MOST_MILLISECONDS = 50.0


def main() -> None:
    runs = 3 if is_tenth(__doc__) else 30
    table = compute_season([PLACE], FIRST, LAST)
    print("milliseconds a target-year, median; alignments found")
    for name, (key, aim, skyline) in CASES.items():
        target = target_of(key)
        search = partial(find_alignments, target, aim, table, skyline=skyline)
        found = len(search(light="any"))  # warm
        took = 1e3 * median(seconds(search) for _ in range(runs))
        print(f"{name:28}{took:9.1f}{found:8}")
        hold(took, MOST_MILLISECONDS)


if __name__ == "__main__":
    main()
