"""The season chart of a year: from stored rows to finished SVG, both ways of drawing it.

python -m tests.benchmarks.chart [--tenth]

At most 10 ms and 60 kB. The time is the processor's, and the best of many: a busy machine is not
the chart's fault.
"""

from __future__ import annotations

import gzip
import os
from datetime import UTC, date, datetime, timedelta

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings.testing")
django.setup()

from django.template.loader import render_to_string  # noqa: E402

from tests.benchmarks.measuring import best_ms, hold, is_tenth  # noqa: E402
from trips.almanac.nights import compute_nights  # noqa: E402
from trips.charts.bands import NightBands, bands_of  # noqa: E402
from trips.charts.season import MoonMark, RunMark, season_chart  # noqa: E402
from trips.models import Night, Site  # noqa: E402

FIRST, NIGHTS = date(2027, 1, 1), 365
MOST_MS, MOST_BYTES, TIMES = 10, 60_000, 15
LUNATION = timedelta(days=29.53)
ZONE = "Europe/Madrid"


def main() -> None:
    nights = NIGHTS // 10 if is_tenth(__doc__) else NIGHTS
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone=ZONE)
    rows = compute_nights(site, FIRST, FIRST + timedelta(days=nights - 1))
    judged = [(row, *_block(row)) for row in rows]

    def bands() -> list[NightBands]:
        return [
            bands_of(row, ZONE, dark_level=-18, usable=block, out=out) for row, block, out in judged
        ]

    drawn = _drawn(bands())
    spent = {
        "bands": best_ms(bands, TIMES),
        "with the SVG": best_ms(lambda: _drawn(bands()), TIMES),
    }
    for name, ms in spent.items():
        print(f"{name:14} {ms:6.1f} ms")
    size = len(drawn.encode())
    zipped = len(gzip.compress(drawn.encode()))
    print(f"{'size':14} {size / 1000:6.1f} kB, {zipped / 1000:.1f} gzipped")
    assert size <= MOST_BYTES, f"{size} bytes are more than {MOST_BYTES}"
    hold(spent["with the SVG"], MOST_MS)


def _block(row: Night) -> tuple[tuple[datetime, datetime] | None, list[tuple[float, float]]]:
    """Take the moonless dark before 02:00, and four hours of it, about as planning does."""
    latest = row.end.timestamp() - 10 * 3600
    out = [(start, min(end, latest)) for start, end in row.moonless_18 if start < latest]
    if not out:
        return None, []
    start, end = (datetime.fromtimestamp(edge, UTC) for edge in max(out, key=_length))
    return (start, min(end, start + timedelta(hours=4))), out


def _length(stretch: tuple[float, float]) -> float:
    return stretch[1] - stretch[0]


def _drawn(nights: list[NightBands]) -> str:
    moons = [
        MoonMark(FIRST + timedelta(days=6) + LUNATION * half / 2, "full" if half % 2 else "new")
        for half in range(24)
    ]
    marks = [
        RunMark(number, moon.date, moon.date + timedelta(days=2), "29–31 Jul", f"/{number}/")
        for number, moon in enumerate(moons[4:14:2], start=1)
    ]
    chart = season_chart(
        nights,
        marks=marks,
        moons=moons,
        latest=datetime(2027, 1, 1, 2, tzinfo=UTC).time(),
        today=FIRST,
        title="Every night of 2027",
        description="The year in a sentence.",
    )
    return render_to_string("trips/_season_chart.html", {"chart": chart})


if __name__ == "__main__":
    main()
