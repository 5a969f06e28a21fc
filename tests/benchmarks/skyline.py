"""The skyline of a spot with six targets over it: from stored values to finished SVG, both ways.

python -m tests.benchmarks.skyline [--tenth]

At most 25 ms and 25 kB, as a picture that lies and one that stands. The time is the processor's,
and the best of many: a busy machine is not the picture's fault.
"""

from __future__ import annotations

import gzip
import os
from collections.abc import Callable
from datetime import date
from functools import partial

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings.testing")
django.setup()

from django.template.loader import render_to_string  # noqa: E402

from sky.place import Place  # noqa: E402
from sky.targets.kinds import target_of  # noqa: E402
from sky.targets.target import Target  # noqa: E402
from tests.benchmarks.measuring import best_ms, hold, is_tenth  # noqa: E402
from trips.almanac.spots import place_of_spot  # noqa: E402
from trips.almanac.tracks import Track, day_track, night_track  # noqa: E402
from trips.models import Landmark, Site, Spot  # noqa: E402
from trips.views.spot_pictures import ShownTrack, spot_picture  # noqa: E402

EVENING = date(2027, 7, 3)
WANTED = ("milky-way:core", "milky-way:cygnus", "deep-sky:NGC0224", "deep-sky:NGC6523",
          "planet:saturn", "moon:moon")  # fmt: skip
MOST_MS, MOST_BYTES = 25.0, 25_000


def main() -> None:
    times = 5 if is_tenth(__doc__) else 50
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    skyline = [[azimuth, 6 + 5 * (azimuth // 10 % 3)] for azimuth in range(0, 360, 10)]
    spot = Spot(
        site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600, skyline=skyline
    )
    landmarks = [
        Landmark(name=f"Tower {n}", azimuth_degrees=40 * n, top_degrees=18) for n in range(8)
    ]
    place, targets = place_of_spot(spot), [target_of(key) for key in WANTED]

    def drawn(track: Callable[[Target, Place, date], Track]) -> str:
        tracks = [track(target, place, EVENING) for target in targets]
        shown = [ShownTrack(each, is_asked=False) for each in tracks]
        picture = spot_picture(spot, landmarks, shown, "The night of 3 July")
        return render_to_string("trips/_skyline_picture.html", {"picture": picture})

    for name, track in (("day", day_track), ("night", night_track)):
        svg = drawn(track).encode()
        spent = best_ms(partial(drawn, track), times)
        zipped = len(gzip.compress(svg))
        print(f"{name:6} {spent:6.1f} ms {len(svg) / 1000:6.1f} kB, {zipped / 1000:.1f} gzipped")
        assert len(svg) <= MOST_BYTES, f"{len(svg)} bytes are more than {MOST_BYTES}"
        hold(spent, MOST_MS)


if __name__ == "__main__":
    main()
