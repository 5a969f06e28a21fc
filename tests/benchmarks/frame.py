"""The frame of a camera on a spot: from a stored night to finished SVG, wide, narrow and all-sky.

python -m tests.benchmarks.frame [--tenth]

At most 10 ms and 25 kB each. The time is the processor's, and the best of many: a busy machine is
not the picture's fault.
"""

from __future__ import annotations

import gzip
import math
import os
from datetime import UTC, date, datetime

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings.testing")
django.setup()

from django.template.loader import render_to_string  # noqa: E402

from sky.camera.frame import Pointing  # noqa: E402
from sky.camera.lens import Lens  # noqa: E402
from sky.camera.sensor import COMMON_SENSORS  # noqa: E402
from sky.targets.kinds import target_of  # noqa: E402
from tests.benchmarks.measuring import best_ms, hold, is_tenth  # noqa: E402
from trips.almanac.frame import Shot, sketch_of  # noqa: E402
from trips.almanac.nights import compute_nights  # noqa: E402
from trips.charts.frame import frame_picture  # noqa: E402
from trips.models import Landmark, Site, Spot  # noqa: E402

EVENING = date(2027, 7, 3)
DARK = datetime(2027, 7, 3, 23, 3, tzinfo=UTC)
MOST_MS, MOST_BYTES = 10.0, 25_000
SOUTH, UP = Pointing(180.0, 20.0), Pointing(180.0, 90.0)
FRAMES = {
    "14 mm": (Lens(14.0), SOUTH),
    "24 mm": (Lens(24.0), SOUTH),
    "135 mm": (Lens(135.0), SOUTH),
    "15 mm fisheye": (Lens(15.0, None, "equisolid"), SOUTH),
    "8 mm, whole sky": (Lens(8.0, None, "equidistant"), UP),
}


def main() -> None:
    times = 5 if is_tenth(__doc__) else 100
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    skyline = [[azimuth, 4 + 3 * math.sin(azimuth / 7)] for azimuth in range(0, 360, 3)]
    spot = Spot(
        site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600, skyline=skyline
    )
    landmarks = [
        Landmark(name=f"Mark {at}", azimuth_degrees=at, top_degrees=11) for at in (165, 205)
    ]
    (row,) = compute_nights(site, EVENING, EVENING)
    wanted = [target_of("milky-way:core")]

    def drawn(lens: Lens, pointing: Pointing) -> str:
        shot = Shot(lens, COMMON_SENSORS["full-frame"], 15.0)
        sketch = sketch_of(
            row, site, spot, DARK,
            shot=shot, pointing=pointing, wanted=wanted, landmarks=landmarks,
        )  # fmt: skip
        picture = frame_picture(sketch, title="The frame", description="What it says.")
        return render_to_string("trips/_frame_picture.html", {"picture": picture})

    for name, (lens, pointing) in FRAMES.items():
        svg = drawn(lens, pointing).encode()
        spent = best_ms(lambda held=(lens, pointing): drawn(*held), times)  # type: ignore[misc]
        zipped = len(gzip.compress(svg)) / 1000
        print(f"{name:16} {spent:5.1f} ms {len(svg) / 1000:5.1f} kB, {zipped:.1f} gzipped")
        assert len(svg) <= MOST_BYTES, f"{len(svg)} bytes are more than {MOST_BYTES}"
        hold(spent, MOST_MS)


if __name__ == "__main__":
    main()
