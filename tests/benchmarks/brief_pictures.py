"""The pictures of a night's brief: from a stored night to finished SVG, and a PNG of each.

python -m tests.benchmarks.brief_pictures [--tenth]

At most 3 ms for the values of one, 3 ms for drawing it (5 the whole sky, which has most names) and
12 kB each, over a skyline with a point each degree. The time is the processor's, and the best of
many: a busy machine is not the picture's fault.
"""

from __future__ import annotations

import os
from datetime import UTC, date, datetime, timedelta

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings.testing")
django.setup()

from tests.benchmarks.measuring import best_ms, hold, is_tenth  # noqa: E402
from trips.almanac.finder import finding, named_target, pointed_sky  # noqa: E402
from trips.almanac.nights import compute_nights  # noqa: E402
from trips.models import Landmark, Site, Spot  # noqa: E402
from trips.services.brief_pictures import (  # noqa: E402
    Wanted,
    as_png,
    brief_sky,
    finder,
    night_strip,
    svg,
)

EVENING = date(2027, 6, 5)
AT = datetime(2027, 6, 5, 23, 0, tzinfo=UTC)
CORE, ARCH = Wanted("milky-way:core", "Core", 2), Wanted("milky-way:arch", "Arch", 1)
MOST_VALUES_MS, MOST_DRAWING_MS, MOST_SKY_MS, MOST_BYTES = 3.0, 3.0, 5.0, 12_000
MOST_PNG_MS = 150.0


def main() -> None:
    times = 5 if is_tenth(__doc__) else 50
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    rough = [[at / 10, 4 + (at * 37 % 11) / 4] for at in range(0, 3600, 10)]
    spot = Spot(
        site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600, skyline=rough
    )
    land = [Landmark(name="tower", azimuth_degrees=174, top_degrees=9, is_seen_at_night=True)]
    (row,) = compute_nights(site, EVENING, EVENING)
    targets = {one: named_target(one.key, one.name) for one in (CORE, ARCH)}
    windows = [(1, AT, AT + timedelta(hours=1)), (2, AT, AT + timedelta(hours=2))]
    meet_at, ends_at = AT - timedelta(hours=4), AT + timedelta(hours=4)
    values = {
        "strip": lambda: finding(row, spot, targets[CORE], AT, landmarks=land),
        "arch": lambda: finding(row, spot, targets[ARCH], AT, landmarks=land),
        "sky": lambda: pointed_sky(row, spot, list(targets.values()), AT, landmarks=land),
    }
    drawn = {
        "strip": lambda: finder(row, spot, CORE, AT, landmarks=land),
        "arch": lambda: finder(row, spot, ARCH, AT, landmarks=land),
        "sky": lambda: brief_sky(row, spot, [CORE, ARCH], AT, landmarks=land),
        "night": lambda: night_strip(
            row, site.zone, windows, dark_level=-18, meet_at=meet_at, ends_at=ends_at
        ),
    }
    for name, picture in drawn.items():

        def whole(picture=picture):  # type: ignore[no-untyped-def]
            return svg(picture(), prefix="p")

        drawing = whole()  # type: ignore[no-untyped-call]
        spent = best_ms(values[name], times) if name in values else 0.0
        drawing_ms = best_ms(whole, times) - spent
        png_ms = best_ms(lambda drawing=drawing: as_png(drawing, width=720), max(times // 10, 1))  # type: ignore[misc]
        size = len(drawing.encode())
        print(
            f"{name:6} values {spent:4.1f} ms, drawing {drawing_ms:4.1f} ms, "
            f"{size / 1000:4.1f} kB, PNG {png_ms:5.1f} ms"
        )
        assert size <= MOST_BYTES, f"{size} bytes are more than {MOST_BYTES}"
        hold(spent, MOST_VALUES_MS)
        hold(drawing_ms, MOST_SKY_MS if name == "sky" else MOST_DRAWING_MS)
        hold(png_ms, MOST_PNG_MS)


if __name__ == "__main__":
    main()
