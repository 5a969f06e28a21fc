"""A season as its readers see it: the stored nights judged, and what is missing or stale in them.

Reads rows and changes none. Two queries, however many sites.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Protocol

from trips.almanac.dates import count_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.moons import new_moons
from trips.models import Night, Season, Site
from trips.planning.nights import NightRow, Wishes
from trips.planning.season_view import SeasonView, rank

# What planning reads of a night. Another column would cost a query a night; every one left out
# saves its decoding for each of a season's thousands of rows.
_READ = ("site_id", "date", "start", "end", "civil_dusk", "moon_illuminated", "fingerprint")
_READ_BY_LEVEL = tuple(
    f"{name}_{level}"
    for name in ("moonless", "dark_hours", "moonless_hours")
    for level in (18, 15, 12)
)


class StoredNight(NightRow, Protocol):
    """A row of `_READ` columns."""

    @property
    def fingerprint(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Gap:
    """Nights of a site that are not there, or were computed before the site was edited."""

    site: Site
    missing: int
    stale: int


@dataclass(frozen=True, slots=True)
class JudgedSeason:
    view: SeasonView[Site]
    gaps: tuple[Gap, ...]


def judge_season(season: Season, wishes: Wishes | None = None) -> JudgedSeason:
    """Judge every stored night by the season's own wishes or by others.

    `gaps` names the sites where not all is there.
    """
    rows_by_site = _rows_by_site(season)
    moons = new_moons(season.first_night, season.last_night)
    view = rank(wishes or Wishes.of(season), rows_by_site, moons)
    gaps = (_gap(season, site, rows) for site, rows in rows_by_site.items())
    return JudgedSeason(view, tuple(gap for gap in gaps if gap.missing or gap.stale))


def _rows_by_site(season: Season) -> dict[Site, list[StoredNight]]:
    sites = list(season.sites.current())
    rows: dict[int, list[StoredNight]] = defaultdict(list)
    stored = Night.objects.filter(site__in=sites).between(season.first_night, season.last_night)
    # Plain tuples with names: thousands of model instances would take half of a page's time.
    for night in stored.values_list(*_READ, *_READ_BY_LEVEL, named=True):
        rows[night.site_id].append(night)
    return {site: rows[site.pk] for site in sites}


def _gap(season: Season, site: Site, rows: list[StoredNight]) -> Gap:
    nights = count_nights(site.zone, season.first_night, season.last_night)
    present = site_fingerprint(site)
    stale = sum(row.fingerprint != present for row in rows)
    return Gap(site, missing=nights - len(rows), stale=stale)
