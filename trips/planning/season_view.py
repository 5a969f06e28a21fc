"""A season judged: best nights, best runs and months, site by site.

What the season page and the demo command print.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Generic, Protocol, TypeVar

from sky.night import DARK_LEVELS
from trips.planning.candidates import judge
from trips.planning.nights import JudgedNight, NightRow, SeasonWishes
from trips.planning.runs import Run, best_runs, longest_run

RUN_LENGTH = 3


class ZonedSite(Protocol):
    @property
    def zone(self) -> Any: ...  # a str; mypy checks type arguments before it knows Django's fields


SiteT = TypeVar("SiteT", bound=ZonedSite)


@dataclass(frozen=True, slots=True)
class MonthFigures:
    """One month (year, month) at one site."""

    month: tuple[int, int]
    nights: int
    candidates: int
    dark_hours: float
    moonless_hours: float
    usable_hours: float


@dataclass(frozen=True, slots=True)
class SiteSeason(Generic[SiteT]):
    """One site's season.

    `candidates_by_level` counts candidates at the season's dark level and, where there are none,
    at the levels less dark: never say "none" without saying what the next level gives.
    """

    site: SiteT
    nights: tuple[JudgedNight, ...]
    runs: tuple[Run, ...]
    months: tuple[MonthFigures, ...]
    candidates: int
    longest_run: int
    candidates_by_level: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class RankedNight(Generic[SiteT]):
    """A night at a site, in the order of usable hours; `rank` from 1, shared by equals."""

    rank: int
    site: SiteT
    night: JudgedNight


@dataclass(frozen=True, slots=True)
class RankedRun(Generic[SiteT]):
    """A site's run in the order of usable hours over all sites; `rank` shared by equals."""

    rank: int
    site: SiteT
    run: Run


@dataclass(frozen=True, slots=True)
class SeasonView(Generic[SiteT]):
    """`nights` (candidates with a usable block) and `runs` over all sites, the best first."""

    sites: tuple[SiteSeason[SiteT], ...]
    nights: tuple[RankedNight[SiteT], ...]
    runs: tuple[RankedRun[SiteT], ...]


def rank(
    season: SeasonWishes,
    rows_by_site: Mapping[SiteT, Sequence[NightRow]],
    new_moons: Sequence[datetime],
    *,
    run_length: int = RUN_LENGTH,
) -> SeasonView[SiteT]:
    """Judge every night of every site by the season's wishes; rows of a site sorted by date."""
    sites = tuple(
        _site_season(season, site, rows, new_moons, run_length)
        for site, rows in rows_by_site.items()
    )
    return SeasonView(sites, _ranked_nights(sites), _ranked_runs(sites))


def _site_season(
    season: SeasonWishes,
    site: SiteT,
    rows: Sequence[NightRow],
    new_moons: Sequence[datetime],
    run_length: int,
) -> SiteSeason[SiteT]:
    nights = tuple(judge(row, season, site.zone) for row in rows)
    candidates = sum(night.is_candidate for night in nights)
    return SiteSeason(
        site=site,
        nights=nights,
        runs=tuple(best_runs(nights, run_length, new_moons)),
        months=_months(nights),
        candidates=candidates,
        longest_run=longest_run(nights),
        candidates_by_level={season.dark_level: candidates}
        | ({} if candidates else _at_lighter_levels(season, rows, site.zone)),
    )


def _at_lighter_levels(season: SeasonWishes, rows: Sequence[NightRow], zone: str) -> dict[int, int]:
    return {
        level: sum(judge(row, season, zone, dark_level=level).is_candidate for row in rows)
        for level in DARK_LEVELS
        if level > season.dark_level
    }


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
        usable_hours=sum(night.usable_hours for night in nights),
    )


def _ranked_nights(sites: Sequence[SiteSeason[SiteT]]) -> tuple[RankedNight[SiteT], ...]:
    # Sorting keeps the order of the sites among equals of one date.
    found = [(of.site, night) for of in sites for night in of.nights if night.is_candidate]
    found.sort(key=lambda pair: (-_minutes(pair[1]), pair[1].date))
    ranks = _shared_ranks([_minutes(night) for _, night in found])
    return tuple(
        RankedNight(rank, site, night) for rank, (site, night) in zip(ranks, found, strict=True)
    )


def _ranked_runs(sites: Sequence[SiteSeason[SiteT]]) -> tuple[RankedRun[SiteT], ...]:
    found = [(of.site, run) for of in sites for run in of.runs]
    found.sort(key=lambda pair: (-pair[1].best.minutes, pair[1].first))
    ranks = _shared_ranks([run.best.minutes for _, run in found])
    return tuple(RankedRun(rank, site, run) for rank, (site, run) in zip(ranks, found, strict=True))


def _minutes(night: JudgedNight) -> int:
    return round(night.usable_hours * 60)


def _shared_ranks(ordered: Sequence[int]) -> list[int]:
    """Number sorted figures from 1, equals alike: 9, 7, 7, 4 → 1, 2, 2, 4."""
    ranks: list[int] = []
    for at, figure in enumerate(ordered):
        ranks.append(ranks[-1] if at and figure == ordered[at - 1] else at + 1)
    return ranks
