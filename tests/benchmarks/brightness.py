"""The sky's brightness along a night toward a list of targets, every five minutes.

python -m tests.benchmarks.brightness [--tenth]

At most 20 ms for 20 targets, with where they, Sun and Moon stand; the towns' glow is read before.
The time is the processor's, and the best of many: a busy machine is not the page's fault.
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
from trips.almanac.nights import compute_nights  # noqa: E402
from trips.almanac.sky_brightness import night_light  # noqa: E402
from trips.almanac.targets import starter_entries  # noqa: E402
from trips.models import Site, TargetEntry  # noqa: E402

EVENINGS = {"north-summer": date(2027, 7, 3), "north-autumn": date(2027, 11, 20)}
TWENTY, MOST_MS = 20, 20.0


def main() -> None:
    times = 10 if is_tenth(__doc__) else 50
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    site.sky_brightness, site.sky_by_azimuth = 21.3, [[0, 21.0], [90, 19.5], [200, 20.4]]
    offered = [TargetEntry(target=one.key, name=one.label) for one in all_listings()]
    for starter, evening in EVENINGS.items():
        (row,) = compute_nights(site, evening, evening)
        listed = [*starter_entries(starter), *offered]
        seen = night_targets(listed, site, None, evening, dark_level=-18).seen[:TWENTY]
        assert len(seen) == TWENTY
        light = night_light(row, site, None, seen)
        spent = best_ms(
            lambda row=row, seen=seen: night_light(row, site, None, seen),  # type: ignore[misc]
            times,
        )
        print(f"{evening} {len(seen)} targets at {len(light.unix)} instants {spent:5.1f} ms")
        hold(spent, MOST_MS)


if __name__ == "__main__":
    main()
