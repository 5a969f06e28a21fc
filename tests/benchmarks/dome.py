"""The whole sky over a spot: from a stored night to finished SVG, in the dark and in twilight.

python -m tests.benchmarks.dome [--tenth]

At most 10 ms and 25 kB each. The time is the processor's, and the best of many: a busy machine is
not the picture's fault.
"""

from __future__ import annotations

import gzip
import os
from datetime import UTC, date, datetime, timedelta

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings.testing")
django.setup()

from django.template.loader import render_to_string  # noqa: E402

from sky.place import Place  # noqa: E402
from sky.stars import bright_stars, directions_at_once  # noqa: E402
from sky.targets.kinds import target_of  # noqa: E402
from tests.benchmarks.measuring import best_ms, hold, is_tenth  # noqa: E402
from trips.almanac.nights import compute_nights  # noqa: E402
from trips.almanac.whole_sky import whole_sky  # noqa: E402
from trips.almanac.whole_sky_words import description  # noqa: E402
from trips.charts.dome import dome  # noqa: E402
from trips.models import Site, Spot  # noqa: E402

EVENING = date(2027, 7, 3)
DARK = datetime(2027, 7, 3, 23, 3, tzinfo=UTC)
DUSK = datetime(2027, 7, 3, 20, 20, tzinfo=UTC)
WANTED = ("milky-way:core", "milky-way:arch", "deep-sky:NGC0224", "planet:saturn", "moon:moon")
MOST_MS, MOST_BYTES, MOST_STARS_MS = 10.0, 25_000, 2.0


def main() -> None:
    times = 5 if is_tenth(__doc__) else 50
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    skyline = [[azimuth, 6 + 5 * (azimuth // 10 % 3)] for azimuth in range(0, 360, 10)]
    spot = Spot(
        site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600, skyline=skyline
    )
    (row,) = compute_nights(site, EVENING, EVENING)
    wanted = [target_of(key) for key in WANTED]

    def drawn(instant: datetime) -> str:
        sky = whole_sky(row, site, spot, instant, wanted)
        said = description(sky)
        picture = dome(sky, clock="01:03", rim="from Wall", title="The sky", description=said)
        return render_to_string("trips/_dome.html", {"dome": picture})

    for name, instant in (("dark", DARK), ("dusk", DUSK), ("dawn", DARK + timedelta(hours=5))):
        size = len(drawn(instant).encode())
        zipped = len(gzip.compress(drawn(instant).encode()))
        spent = best_ms(lambda at=instant: drawn(at), times)  # type: ignore[misc]
        print(f"{name:6} {spent:6.1f} ms {size / 1000:6.1f} kB, {zipped / 1000:.1f} gzipped")
        assert size <= MOST_BYTES, f"{size} bytes are more than {MOST_BYTES}"
        hold(spent, MOST_MS)
    _stars(times)


def _stars(times: int) -> None:
    place, vectors = Place(40.4, -1.1, 1600), bright_stars().vectors
    spent = best_ms(lambda: directions_at_once(vectors, place, DARK), times)
    print(f"{'stars':6} {spent:6.2f} ms for {len(vectors)}")
    hold(spent, MOST_STARS_MS)


if __name__ == "__main__":
    main()
