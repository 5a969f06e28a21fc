"""A season judged, site by site: nights, best runs and months.

What the season page, the comparison and the commands tell.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Generic, Protocol, TypeVar

from sky.night import DARK_LEVELS
from trips.planning.candidates import judge_nights
from trips.planning.closures import Openings
from trips.planning.nights import JudgedNight, NightRow, Wishes, column
from trips.planning.offered import why_not
from trips.planning.runs import Run, best_runs, longest_run
from trips.planning.weighing import WantedSpans


class PlannedSite(Openings, Protocol):
    """A site as planning reads it; loosely typed, as a Django row gives it."""

    @property
    def zone(self) -> Any: ...
    @property
    def drive_minutes(self) -> Any: ...


SiteT = TypeVar("SiteT", bound=PlannedSite)
RowsBySite = Mapping[SiteT, Sequence[NightRow]]


@dataclass(frozen=True, slots=True)
class MonthFigures:
    """One month (year, month) at one site."""

    month: tuple[int, int]
    nights: int
    candidates: int
    dark_hours: float
    moonless_hours: float
    usable_dark_hours: float
    usable_hours: float


@dataclass(frozen=True, slots=True)
class SiteSeason(Generic[SiteT]):
    """One site's season.

    `candidates_by_level` counts candidates at the dark level asked for and, where there are none,
    at the levels less dark: never say "none" without saying what the next level gives.
    `never_dark_by_level` does the same for nights that never get dark. `left_out` counts the
    candidate nights that are not offered, by why.
    """

    site: SiteT
    nights: tuple[JudgedNight, ...]
    runs: tuple[Run, ...]
    months: tuple[MonthFigures, ...]
    candidates: int
    longest_run: int
    candidates_by_level: dict[int, int]
    never_dark_by_level: Mapping[int, int]
    left_out: Mapping[str, int]

    @property
    def usable_hours(self) -> float:
        return sum(month.usable_hours for month in self.months)

    @property
    def offered_hours(self) -> float:
        """Sum the usable hours of the evenings that suit and on which the site is open."""
        return sum(night.usable_hours for night in self.nights if night.why_not is None)


@dataclass(frozen=True, slots=True)
class SeasonView(Generic[SiteT]):
    """The sites of a season in the order in which they were given."""

    sites: tuple[SiteSeason[SiteT], ...]

    @property
    def best_first(self) -> list[SiteSeason[SiteT]]:
        """Order the sites by their best run, then by the hours of all evenings offered."""
        return sorted(self.sites, key=_standing)

    @property
    def runs_together(self) -> list[tuple[SiteT, Run]]:
        """Put the runs of all sites into one order, ranked among each other; equals share a rank.

        Among equals the one with more hours in hand stands first, then the earlier.
        """
        pairs = [(found.site, run) for found in self.sites for run in found.runs]
        pairs.sort(key=lambda pair: pair[1].best.order)
        ranks: dict[int, int] = {}
        return [
            (site, replace(run, rank=ranks.setdefault(run.best.minutes, place)))
            for place, (site, run) in enumerate(pairs, 1)
        ]


def rank(
    wishes: Wishes,
    rows_by_site: RowsBySite[SiteT],
    new_moons: Sequence[datetime],
    *,
    at_all_levels: Callable[[Sequence[SiteT]], RowsBySite[SiteT]] | None = None,
    wanted: Mapping[SiteT, Sequence[WantedSpans]] | None = None,
) -> SeasonView[SiteT]:
    """Judge every night of every site by what is wished; rows of a site sorted by date.

    `wanted` is what counts at each site; None: the moonless dark.

    The rows need their moonless spans at the level wished for; `at_all_levels` gives those of
    sites where no night is a candidate with the spans of every level.
    """
    sites = {
        site: _site_season(wishes, site, rows, new_moons, wanted[site] if wanted else None)
        for site, rows in rows_by_site.items()
    }
    empty = [site for site, found in sites.items() if not found.candidates]
    if empty:
        every = at_all_levels(empty) if at_all_levels else rows_by_site
        sites |= {site: _with_lighter_levels(sites[site], wishes, every[site]) for site in empty}
    return SeasonView(tuple(sites.values()))


def _with_lighter_levels(
    found: SiteSeason[SiteT], wishes: Wishes, rows: Sequence[NightRow]
) -> SiteSeason[SiteT]:
    lighter = {
        level: sum(
            night.is_candidate
            for night in judge_nights(rows, wishes, found.site.zone, dark_level=level)
        )
        for level in _from(wishes.dark_level)[1:]
    }
    return replace(found, candidates_by_level=found.candidates_by_level | lighter)


def _site_season(
    wishes: Wishes,
    site: SiteT,
    rows: Sequence[NightRow],
    new_moons: Sequence[datetime],
    wanted: Sequence[WantedSpans] | None,
) -> SiteSeason[SiteT]:
    reasons = [why_not(site, wishes, row.date) for row in rows]
    nights = tuple(judge_nights(rows, wishes, site.zone, why_not=reasons, wanted=wanted))
    candidates = sum(night.is_candidate for night in nights)
    return SiteSeason(
        site=site,
        nights=nights,
        runs=tuple(best_runs(nights, wishes.run_length, new_moons)),
        months=_months(nights),
        candidates=candidates,
        longest_run=longest_run(nights),
        candidates_by_level={wishes.dark_level: candidates},
        never_dark_by_level=_never_dark(wishes, rows),
        left_out=_left_out(nights),
    )


def _left_out(nights: Sequence[JudgedNight]) -> dict[str, int]:
    return dict(Counter(night.why_not for night in nights if night.is_candidate and night.why_not))


def _never_dark(wishes: Wishes, rows: Sequence[NightRow]) -> dict[int, int]:
    """Count the nights without any dark, level by level until there are none."""
    counts: dict[int, int] = {}
    for level in _from(wishes.dark_level):
        counts[level] = column(rows, "dark_hours", level).count(0)
        if not counts[level]:
            break
    return counts


def _from(dark_level: int) -> list[int]:
    return [level for level in DARK_LEVELS if level >= dark_level]


def _months(nights: Sequence[JudgedNight]) -> tuple[MonthFigures, ...]:
    by_month: dict[tuple[int, int], list[JudgedNight]] = defaultdict(list)
    for night in nights:
        by_month[night.date.year, night.date.month].append(night)
    return tuple(_month(month, of_month) for month, of_month in sorted(by_month.items()))


def _month(month: tuple[int, int], nights: Sequence[JudgedNight]) -> MonthFigures:
    return MonthFigures(
        month=month,
        nights=len(nights),
        candidates=sum(night.is_candidate for night in nights),
        dark_hours=sum(night.dark_hours for night in nights),
        moonless_hours=sum(night.moonless_hours for night in nights),
        usable_dark_hours=sum(night.usable_dark_hours for night in nights),
        usable_hours=sum(night.usable_hours for night in nights),
    )


def _standing(found: SiteSeason[SiteT]) -> tuple[float, ...]:
    best = found.runs[0].best if found.runs else None
    return (-best.minutes if best else 0, -round(found.offered_hours * 60))
