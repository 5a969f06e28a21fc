"""Windows of wanted targets as jobs store them, invented: so many hours after 20:00 UTC."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np

from sky.windows import Windows
from trips.almanac.windows import stored, usable_row, wanted_row, windows_fingerprint
from trips.models import Site, Spot, TargetEntry, TargetWindows

Hours = tuple[float, float]
EIGHT_PM = 20


def store_windows(
    entry: TargetEntry,
    site: Site,
    windows: dict[date, Hours],
    *,
    spot: Spot | None = None,
    dark_level: int = -18,
    fingerprint: str = "",
    year: int = 2027,
    in_usable_dark: bool = False,
) -> TargetWindows:
    """Store windows, one a night, from and to hours after 20:00 UTC; the best is their middle."""
    row = usable_row(entry) if in_usable_dark else wanted_row(entry, dark_level)
    return TargetWindows.objects.create(
        site=site,
        spot=spot,
        year=year,
        fingerprint=fingerprint or windows_fingerprint(site, spot),
        **stored(row, _windows(windows)),
    )


def unix(day: date, hours: float) -> float:
    return datetime(day.year, day.month, day.day, EIGHT_PM, tzinfo=UTC).timestamp() + hours * 3600


def _windows(windows: dict[date, Hours]) -> Windows:
    days = sorted(windows)
    spans = np.array([[unix(day, hour) for hour in windows[day]] for day in days]).reshape(-1, 2)
    night, degrees = np.arange(len(days)), np.full(len(days), 40.0)
    return Windows(spans, night, night, spans.mean(axis=1), degrees, degrees - 0.02, degrees + 140)
