"""The next good nights of a season, as the first page tells them: candidates in which something
counts, the dark or a wanted target."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta
from typing import Protocol

from trips.almanac.local_time import night_at
from trips.models import Night, Season, Site
from trips.planning.candidates import judge_nights
from trips.planning.nights import JudgedNight, NightRow, Wishes
from trips.planning.offered import why_not
from trips.services.wanted import WantedHere, wanted_by

NEXT_NIGHTS = 3
# Most sites have three good nights within a Moon; only the others are read further ahead.
LOOKS_AHEAD = tuple(timedelta(days=days) for days in (32, 130, 400, 1200))

# What judging reads. Another column would cost a query a night.
_READ = (
    "site_id", "date", "start", "end", "civil_dusk", "moon_illuminated", "moon_waxing",
    "usable_hours",
)  # fmt: skip
_LEVELS = (-18, -15, -12)
_READ_BY_LEVEL = tuple(
    f"{name}_{-level}" for name in ("moonless", "dark_hours", "moonless_hours") for level in _LEVELS
)


class AheadRow(NightRow, Protocol):
    @property
    def moon_waxing(self) -> bool: ...


@dataclass(frozen=True, slots=True)
class NextNight:
    night: JudgedNight
    moon_waxing: bool


@dataclass(frozen=True, slots=True)
class Outlook:
    """One site's next good nights that are offered, tonight included.

    `passed_over` holds the sooner candidates that are not offered: closed, avoided, another
    weekday. Where there is no candidate in the rest of the season `is_computed` tells whether any
    night of it is stored, and `by_lighter_level` counts what a lighter level would give.
    `windows_missing`: not all is computed of when the wanted targets stand right.
    """

    season: Season
    site: Site
    nights: tuple[NextNight, ...]
    passed_over: tuple[JudgedNight, ...] = ()
    is_computed: bool = True
    windows_missing: bool = False
    by_lighter_level: Mapping[int, int] = field(default_factory=dict)


def next_good_nights(season: Season, *, at: datetime) -> list[Outlook]:
    """Give each site's outlook. Two queries where every site has good nights soon, and three more
    where targets are wanted."""
    sites = list(season.sites.current())
    wanted = wanted_by(season, Wishes.of(season), sites) or {}
    found: dict[int, list[NextNight]] = {site.pk: [] for site in sites}
    for first, last in _windows(season, at):
        short = [site for site in sites if _offered(found[site.pk]) < NEXT_NIGHTS]
        rows = _rows(short, first, last) if short else {}
        for site in short:
            more = _good(season, site, rows.get(site.pk, ()), at, wanted.get(site))
            found[site.pk] += _until_enough(more, _offered(found[site.pk]))
    empty = _empty(season, [site for site in sites if not found[site.pk]], at)
    uncomputed = {site.pk for site, here in wanted.items() if here.missing}
    return [
        replace(
            empty.get(site.pk) or _outlook(season, site, found[site.pk]),
            windows_missing=site.pk in uncomputed,
        )
        for site in sites
    ]


def _outlook(season: Season, site: Site, found: Sequence[NextNight]) -> Outlook:
    offered = tuple(each for each in found if each.night.why_not is None)
    passed_over = tuple(each.night for each in found if each.night.why_not)
    return Outlook(season, site, offered, passed_over)


def _offered(found: Sequence[NextNight]) -> int:
    return sum(each.night.why_not is None for each in found)


def _until_enough(more: Iterator[NextNight], offered: int) -> Iterator[NextNight]:
    for each in more:
        if offered == NEXT_NIGHTS:
            return
        offered += each.night.why_not is None
        yield each


def _first_ahead(season: Season, at: datetime) -> date:
    # Two days back: nowhere on Earth is it an earlier night.
    return max(season.first_night, (at - timedelta(days=2)).date())


def _windows(season: Season, at: datetime) -> Iterator[tuple[date, date]]:
    first = _first_ahead(season, at)
    start = first
    for ahead in LOOKS_AHEAD:
        last = min(season.last_night, start + ahead)
        if first <= last:
            yield first, last
        first = last + timedelta(days=1)


def _rows(sites: Sequence[Site], first: date, last: date) -> dict[int, list[AheadRow]]:
    rows: dict[int, list[AheadRow]] = defaultdict(list)
    stored = Night.objects.filter(site__in=sites).between(first, last)
    for row in stored.values_list(*_READ, *_READ_BY_LEVEL, named=True):
        rows[row.site_id].append(row)
    return rows


def _good(
    season: Season,
    site: Site,
    rows: Sequence[AheadRow],
    at: datetime,
    wanted: WantedHere | None,
) -> Iterator[NextNight]:
    tonight, wishes = night_at(at, site.zone), Wishes.of(season)
    ahead = [row for row in rows if row.date >= tonight]
    reasons = [why_not(site, wishes, row.date) for row in ahead]
    spans = wanted.spans if wanted else None
    nights = judge_nights(ahead, wishes, site.zone, why_not=reasons, wanted=spans)
    for row, night in zip(ahead, nights, strict=True):
        if night.is_candidate and night.block:
            yield NextNight(night, row.moon_waxing)


def _empty(season: Season, sites: Sequence[Site], at: datetime) -> dict[int, Outlook]:
    """Say of sites without a candidate ahead what lighter levels would give them."""
    if not sites:
        return {}
    rows = {
        site.pk: [row for row in of_site if row.date >= night_at(at, site.zone)]
        for site, of_site in _rows_by_site(season, sites, at)
    }
    return {
        site.pk: Outlook(
            season,
            site,
            (),
            is_computed=bool(rows[site.pk]),
            by_lighter_level=_by_lighter_level(season, site, rows[site.pk]),
        )
        for site in sites
    }


def _rows_by_site(
    season: Season, sites: Sequence[Site], at: datetime
) -> list[tuple[Site, list[AheadRow]]]:
    rows = _rows(sites, _first_ahead(season, at), season.last_night)
    return [(site, rows[site.pk]) for site in sites]


def _by_lighter_level(season: Season, site: Site, rows: Sequence[AheadRow]) -> dict[int, int]:
    return {
        level: sum(
            night.is_candidate for night in judge_nights(rows, season, site.zone, dark_level=level)
        )
        for level in _LEVELS
        if level > season.dark_level
    }


def in_order(outlooks: Sequence[Outlook]) -> list[Outlook]:
    """Sort sites by their next good night, the longest first on the same night; empty ones last."""
    return sorted(outlooks, key=_next_first)


def _next_first(outlook: Outlook) -> tuple[bool, date, float]:
    if not outlook.nights:
        return True, date.max, 0.0
    night = outlook.nights[0].night
    return False, night.date, -night.usable_hours


def soonest(outlooks: Sequence[Outlook]) -> tuple[Outlook, JudgedNight] | None:
    """Give the first good night that is offered anywhere; the longest one of that evening."""
    offered = [(outlook, each.night) for outlook in outlooks for each in outlook.nights]
    return min(offered, key=lambda pair: (pair[1].date, -pair[1].usable_hours), default=None)
