"""A season as its readers see it: the stored nights judged, and what is missing or stale in them.

Reads rows and changes none. Two queries, however many sites, three more where targets are wanted,
and one more where sites have no candidate night.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from trips.almanac.dates import count_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.moons import new_moons
from trips.models import Night, Season, Site
from trips.planning.nights import NightRow, Wishes
from trips.planning.season_view import SeasonView, rank
from trips.planning.weighing import WantedSpans
from trips.services.wanted import wanted_by

# What planning reads of a night. Another column would cost a query a night; every one left out
# saves its decoding for each of a season's thousands of rows, the spans above all.
_READ = ("site_id", "date", "civil_dusk", "moon_illuminated", "usable_hours", "fingerprint")
LEVELS = Season.DarkLevel.values
_HOURS = tuple(f"{name}_{-level}" for name in ("dark_hours", "moonless_hours") for level in LEVELS)


class StoredNight(NightRow, Protocol):
    """A row of `_READ` columns."""

    @property
    def fingerprint(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Gap:
    """What is not there of a site, or was computed before it was edited: nights, windows."""

    site: Site
    missing: int
    stale: int
    windows: int = 0


@dataclass(frozen=True, slots=True)
class JudgedSeason:
    view: SeasonView[Site]
    gaps: tuple[Gap, ...]
    wanted: Mapping[Site, Sequence[WantedSpans]] | None = None  # what counts; None: the dark


def judge_season(season: Season, wishes: Wishes | None = None) -> JudgedSeason:
    """Judge every stored night by the season's own wishes or by others.

    `gaps` names the sites where not all is there.
    """
    asked = wishes or Wishes.of(season)
    sites = list(season.sites.current())
    rows_by_site = _rows_by_site(season, sites, [asked.dark_level])
    here = wanted_by(season, asked, sites)
    wanted = {site: found.spans for site, found in here.items()} if here is not None else None
    moons = new_moons(season.first_night, season.last_night)

    def at_all_levels(empty: Sequence[Site]) -> dict[Site, list[StoredNight]]:
        return _rows_by_site(season, empty, LEVELS)

    view = rank(asked, rows_by_site, moons, at_all_levels=at_all_levels, wanted=wanted)
    gaps = (
        _gap(season, site, rows, here[site].missing if here else 0)
        for site, rows in rows_by_site.items()
    )
    short = tuple(gap for gap in gaps if gap.missing or gap.stale or gap.windows)
    return JudgedSeason(view, short, wanted)


def _rows_by_site(
    season: Season, sites: Sequence[Site], levels: Sequence[int]
) -> dict[Site, list[StoredNight]]:
    rows: dict[int, list[StoredNight]] = defaultdict(list)
    stored = Night.objects.filter(site__in=sites).between(season.first_night, season.last_night)
    spans = [f"moonless_{-level}" for level in levels]
    # Plain tuples with names: thousands of model instances would take half of a page's time.
    for night in stored.values_list(*_READ, *_HOURS, *spans, named=True):
        rows[night.site_id].append(night)
    return {site: rows[site.pk] for site in sites}


def _gap(season: Season, site: Site, rows: list[StoredNight], windows: int) -> Gap:
    nights = count_nights(site.zone, season.first_night, season.last_night)
    present = site_fingerprint(site)
    stale = sum(row.fingerprint != present for row in rows)
    return Gap(site, missing=nights - len(rows), stale=stale, windows=windows)
