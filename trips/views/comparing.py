"""The sites of a season beside each other, as a page and as a table for a spreadsheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from trips.charts.bars import scale_of
from trips.charts.dots import Dot, DotPlot, dot_plot
from trips.forms.controls import wished_query
from trips.models import Season, Site
from trips.planning.choosing import Drives, answer, drives
from trips.planning.comparing import Compared, Month, compared, figure, in_order
from trips.planning.only_here import only_here
from trips.services.judged import JudgedSeason, judge_season
from trips.views.comparing_asked import ORDERS, Asked, key_of, read
from trips.views.comparing_map import whereabouts
from trips.views.comparing_records import heading, record, wishes_written
from trips.views.comparing_rows import rows_of, troubles_of
from trips.views.downloads import csv_file
from trips.views.laying_over import laid_over
from trips.views.members import season_of

# A wider season is shown whole, and by the year where somebody asks.
MOST_MONTHS = 12


@dataclass(frozen=True, slots=True)
class Head:
    """The head of a column: where its link leads, and how the table is sorted by it, if it is."""

    key: str
    month: date | None  # its first day
    address: str
    aria_sort: str  # "" where the table is sorted by another column


@require_safe
@login_required
def season_compare(request: HttpRequest, season_id: int) -> HttpResponse:
    season, wished = wished_query(request.GET, season_of(request, season_id))
    judged = judge_season(season)
    asked, sites = _read(request.GET, judged, wished)
    ordered = in_order(sites, asked.column, most_first=asked.most_first)
    months, troubles = _months(sites), troubles_of(season, judged.gaps)
    targets = season.target_list if asked.by_targets else None
    alone = only_here(sites)
    weighed = drives([site.site for site in ordered])
    context = {
        "season": season,
        "targets": targets,  # the list whose hours count; None: the dark alone
        "asked": asked,
        "wished": f"&{urlencode(wished, doseq=True)}" if wished else "",
        "years": [(year, asked.address(year=str(year))) for year in _years(judged)],
        "heads": {column: _head(asked, column) for column in ORDERS},
        "month_heads": [_head(asked, month) for month in months],
        "has_years": len({year for year, _month in months}) > 1,
        # Beside so many months nobody would find the figures.
        "months_last": len(months) > MOST_MONTHS,
        "rows": rows_of(ordered, months, troubles, _lighter(judged), alone),
        # Every bar to one scale.
        "tallest": scale_of(
            max(month.ink, month.usable) for site in sites for month in site.months.values()
        ),
        "last_without": figure(ordered[-1], asked.column) is None if ordered else False,
        "answer": answer(sites),
        "has_nights": any(site.nights for site in sites),
        "is_narrowed": any(site.left_out for site in sites),
        "troubles": troubles,
        "lacks_nights": any(trouble.missing or trouble.stale for trouble in troubles.values()),
        "lacks_windows": any(trouble.windows for trouble in troubles.values()),
        # The season's own list is computed, not one that is only in the address.
        "are_foreign_targets": "targets" in wished,
        "laid": laid_over(season, sites, request.GET, alone, by_targets=asked.by_targets),
        "drives": weighed,
        "plot": _plot(weighed),
        "where": whereabouts([site.site for site in ordered]),
    }
    return render(request, "trips/season_compare.html", context)


@require_safe
@login_required
def season_compare_csv(request: HttpRequest, season_id: int) -> HttpResponse:
    season, wished = wished_query(request.GET, season_of(request, season_id))
    judged = judge_season(season)
    asked, sites = _read(request.GET, judged, wished)
    ordered = in_order(sites, asked.column, most_first=asked.most_first)
    months, gaps = _months(sites), {gap.site.pk: gap for gap in judged.gaps}
    alone, wishes = only_here(sites), wishes_written(season)
    rows = (
        [
            *record(
                site,
                months,
                gaps.get(site.site.pk),
                alone.get(site.site),
                by_targets=asked.by_targets,
            ),
            *wishes,
        ]
        for site in ordered
    )
    return csv_file(["sites", season.name], heading(months, by_targets=asked.by_targets), rows)


def _read(
    query: QueryDict, judged: JudgedSeason, wished: Mapping[str, Any]
) -> tuple[Asked, list[Compared[Site]]]:
    sites = judged.view.sites
    every_month = sorted({each.month for site in sites for each in site.months})
    by_targets = judged.wanted is not None
    numbers = {str(site.site.pk) for site in sites}
    asked = read(query, every_month, numbers, wished, by_targets=by_targets)
    return asked, [compared(site, asked.year, by_targets=by_targets) for site in sites]


def _months(sites: Sequence[Compared[Site]]) -> list[Month]:
    return sorted({month for site in sites for month in site.months})


def _years(judged: JudgedSeason) -> list[int]:
    """Give the years to choose from; none where the whole season fits."""
    months = {each.month for site in judged.view.sites for each in site.months}
    return sorted({year for year, _month in months}) if len(months) > MOST_MONTHS else []


def _head(asked: Asked, column: str | Month) -> Head:
    is_sorted = column == asked.column
    return Head(
        key=key_of(column),
        month=date(*column, 1) if isinstance(column, tuple) else None,
        address=asked.sorted_by(column),
        aria_sort=asked.aria_sort if is_sorted else "",
    )


def _lighter(judged: JudgedSeason) -> dict[int, list[tuple[str, int]]]:
    """Give, of sites without a candidate night, how many lighter levels would give."""
    labels = {level.value: str(level.label) for level in Season.DarkLevel}
    return {
        found.site.pk: [
            (labels[level], n) for level, n in list(found.candidates_by_level.items())[1:]
        ]
        for found in judged.view.sites
        if found.nights and not found.candidates
    }


def _plot(weighed: Drives[Site]) -> DotPlot | None:
    worth = [(site, True) for site in weighed.worth]
    others = [(site, False) for site, _instead in weighed.not_darker]
    return dot_plot(
        [
            Dot(site.name, site.drive_minutes or 0, site.sky_brightness or 0, is_worth)
            for site, is_worth in worth + others
        ]
    )
