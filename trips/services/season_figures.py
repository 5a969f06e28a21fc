"""A season's stored nights, judged and ranked, with what of them is missing or stale."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.local_time import night_at
from trips.almanac.moons import new_moons
from trips.models import Night, Season, Site
from trips.planning.candidates import judge
from trips.planning.nights import JudgedNight
from trips.planning.season_view import RUN_LENGTH, SeasonView, rank

LOOK_AHEAD = timedelta(days=120)
NEXT_NIGHTS = 3

# What planning reads, at all three levels: another column would cost a query a night.
_COLUMNS = ["site", "date", "start", "end", "civil_dusk", "moon_illuminated", "moon_waxing"]
_COLUMNS += [
    f"{name}_{level}"
    for name in ("moonless", "dark_hours", "moonless_hours")
    for level in (18, 15, 12)
]


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Nights of a site that the season asks for and that are not there, or are not true now."""

    site: Site
    missing: int
    stale: int


@dataclass(frozen=True, slots=True)
class SeasonFigures:
    season: Season
    sites: tuple[Site, ...]
    view: SeasonView[Site]
    shortfalls: tuple[Shortfall, ...]
    waxing: Mapping[tuple[int, date], bool]


def season_figures(season: Season, *, run_length: int = RUN_LENGTH) -> SeasonFigures:
    """Judge what is stored, stale or not; the page says which it is."""
    sites = tuple(season.sites.order_by("name"))
    rows = _rows(sites, season.first_night, season.last_night)
    moons = new_moons(season.first_night, season.last_night)
    return SeasonFigures(
        season=season,
        sites=sites,
        view=rank(season, rows, moons, run_length=run_length),
        shortfalls=tuple(_shortfalls(season, rows)),
        waxing={(site.pk, row.date): row.moon_waxing for site, own in rows.items() for row in own},
    )


def next_good_nights(season: Season, *, at: datetime) -> list[tuple[Site, list[JudgedNight]]]:
    """Give the next candidate nights of each site, tonight included."""
    sites = tuple(season.sites.current())
    last = min(season.last_night, (at + LOOK_AHEAD).date())
    rows = _rows(sites, max(season.first_night, (at - timedelta(days=2)).date()), last)
    return [(site, _next(season, site, own, at)) for site, own in rows.items()]


def shortfalls(season: Season) -> list[Shortfall]:
    """Give the sites of the season whose nights are missing or stale."""
    sites = tuple(season.sites.current())
    return _shortfalls(season, _rows(sites, season.first_night, season.last_night))


def _next(season: Season, site: Site, rows: Sequence[Night], at: datetime) -> list[JudgedNight]:
    tonight, found = night_at(at, site.zone), []
    for row in rows:
        if row.date >= tonight and (night := judge(row, season, site.zone)).is_candidate:
            found.append(night)
        if len(found) == NEXT_NIGHTS:
            break
    return found


def _rows(sites: Iterable[Site], first: date, last: date) -> dict[Site, list[Night]]:
    by_id: dict[int, tuple[Site, list[Night]]] = {site.pk: (site, []) for site in sites}
    stored = Night.objects.filter(site__in=by_id).between(first, last)
    for row in stored.only(*_COLUMNS, "fingerprint"):
        by_id[row.site_id][1].append(row)
    return dict(by_id.values())


def _shortfalls(season: Season, rows: Mapping[Site, Sequence[Night]]) -> list[Shortfall]:
    asked = (season.last_night - season.first_night).days + 1
    found = []
    for site, own in rows.items():
        present = site_fingerprint(site)
        stale = sum(row.fingerprint != present for row in own)
        if stale or len(own) < asked:
            found.append(Shortfall(site, asked - len(own), stale))
    return found
