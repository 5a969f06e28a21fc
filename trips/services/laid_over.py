"""Two sites' nights on one clock, for laying over each other. Reads rows in one query."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from trips.charts.bands import COLUMNS, NightBands, NightRow, bands_of
from trips.models import Night, Season, Site
from trips.planning.comparing import Compared
from trips.planning.laying_over import SharedHours, shared_hours, usable_pairs
from trips.planning.nights import JudgedNight

# A picture holds a year: of a longer season it shows the first.
MOST_NIGHTS = 366

# Read as tuples with names: a year of model instances would take longer than the picture.


@dataclass(frozen=True, slots=True)
class LaidOver:
    """The nights of two sites from `first_night` to `last_night`, on the first site's clock.

    What is `out` in them is what counts as usable, of evenings that are offered.
    """

    first: list[NightBands]
    second: list[NightBands]
    hours: SharedHours
    first_night: date
    last_night: date
    is_cut: bool  # more nights are computed than are drawn


def lay_over(season: Season, first: Compared[Site], second: Compared[Site]) -> LaidOver:
    """Take the nights that are stored of both sites, which must have some."""
    start = min(site.nights[0].date for site in (first, second))
    end = max(site.nights[-1].date for site in (first, second))
    last = min(end, start + timedelta(days=MOST_NIGHTS - 1))
    columns = ("site_id", *COLUMNS, f"dark_{-season.dark_level}")
    stored = Night.objects.filter(site__in=[first.site, second.site]).between(start, last)
    rows = {(row.site_id, row.date): row for row in stored.values_list(*columns, named=True)}
    judged = [[night for night in site.nights if night.date <= last] for site in (first, second)]
    ours, theirs = (
        [
            _bands(row, night, first.site.zone, season.dark_level)
            for night in nights
            if (row := rows.get((site.site.pk, night.date)))
        ]
        for site, nights in zip((first, second), judged, strict=True)
    )
    return LaidOver(ours, theirs, shared_hours(*judged), start, last, is_cut=last < end)


def _bands(row: NightRow, night: JudgedNight, zone: str, dark_level: int) -> NightBands:
    return bands_of(row, zone, dark_level=dark_level, out=usable_pairs(night))
