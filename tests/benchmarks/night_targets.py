"""The targets of one night at a spot with a skyline of 36 points: a list, and all that is offered.

python -m tests.benchmarks.night_targets [--tenth]

At most 30 ms for 20 targets and 200 ms for what every kind offers. The time is the processor's,
and the best of many: a busy machine is not the page's fault.
"""

from __future__ import annotations

import os
from datetime import date

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings.testing")
django.setup()

from sky.targets.kinds import all_listings  # noqa: E402
from tests.benchmarks.measuring import best_ms, hold, is_tenth  # noqa: E402
from trips.almanac.night_targets import night_targets  # noqa: E402
from trips.almanac.targets import starter_entries  # noqa: E402
from trips.models import Site, Spot, TargetEntry  # noqa: E402

EVENINGS = {"north-summer": date(2027, 7, 3), "north-autumn": date(2027, 11, 20)}
MOVING = ("mercury", "venus", "mars", "jupiter", "saturn")
TWENTY, MOST_MS, MOST_OF_ALL_MS = 20, 30.0, 200.0


def main() -> None:
    times = 10 if is_tenth(__doc__) else 50
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    skyline = [[azimuth, 6 + 5 * (azimuth // 10 % 3)] for azimuth in range(0, 360, 10)]
    spot = Spot(
        site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600, skyline=skyline
    )
    offered = [TargetEntry(target=one.key, name=one.label) for one in all_listings()]
    for starter, evening in EVENINGS.items():
        moving = [TargetEntry(target=f"planet:{name}", name=name) for name in MOVING]
        listed = [*moving, *starter_entries(starter), *offered][:TWENTY]
        for entries, most in ((listed, MOST_MS), (offered, MOST_OF_ALL_MS)):
            spent = best_ms(
                lambda wanted=entries, night=evening: night_targets(  # type: ignore[misc]
                    wanted, site, spot, night, dark_level=-18
                ),
                times,
            )
            print(f"{evening} {len(entries):4} targets {spent:6.1f} ms")
            hold(spent, most)


if __name__ == "__main__":
    main()
