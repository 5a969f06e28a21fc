"""Windows of the wanted targets: which are needed where, asked for, computed and stored.

Needed are those of every list that a season wants, or was tried with, at every spot of each of its
sites, for each year that the season touches; at a site without spots, over a level horizon.
"""

from __future__ import annotations

import hashlib
import json
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime

from django.db import transaction
from django.db.models import Q

from trips.almanac.windows import (
    WantedRow,
    compute_windows,
    known,
    wanted_rows,
    windows_fingerprint,
)
from trips.models import Job, Season, Site, Spot, TargetEntry, TargetList, TargetWindows, User
from trips.services import jobs

Clock = Callable[[], datetime]
Needs = dict[int, set[WantedRow]]  # by year

KEY = ("target", "light", "least_altitude_degrees", "dark_level")


def request_site(site: Site, *, by: User | None, now: datetime) -> None:
    """Ask for what is missing or stale at a site in the seasons that are not over."""
    for season in site.seasons.current().filter(last_night__gte=now.date()):
        request_season(season, by=by, now=now, sites=[site])


def request_list(target_list: TargetList, *, by: User | None, now: datetime) -> None:
    """Ask for what the seasons need that want this list, or were tried with it."""
    of_list = Q(target_list=target_list) | Q(tried_lists=target_list)
    ahead = Season.objects.current().filter(of_list, last_night__gte=now.date())
    for season in ahead.distinct():
        request_season(season, by=by, now=now)


@transaction.atomic
def request_season(
    season: Season, *, by: User | None, now: datetime, sites: Iterable[Site] | None = None
) -> list[Job]:
    """Ask for the season's missing and stale windows: one job for each site that has any."""
    first, last = season.first_night, season.last_night
    return [
        ask(site, first, last, by=by, now=now)
        for site in (season.sites.current() if sites is None else sites)
        if missing(site, first, last)
    ]


def ask(site: Site, first: date, last: date, *, by: User | None, now: datetime) -> Job:
    work = jobs.Work(Job.Kind.TARGET_WINDOWS, site, first, last, _fingerprint(site, first, last))
    return jobs.ask(work, by=by, now=now)


def places_at(site: Site) -> list[Spot | None]:
    """Give the spots that windows are kept for; of a site without any, the site itself."""
    return list(site.spots.current()) or [None]


def missing(site: Site, first: date, last: date) -> bool:
    """Tell whether any window needed from first to last is not stored as the site is now."""
    needs = _needs(site, first, last)
    return any(
        rows - _fresh(site, spot, year) for spot in places_at(site) for year, rows in needs.items()
    )


def compute(claim: jobs.Claim, clock: Clock) -> None:
    """Do a job of this kind: a spot's year at a time, each stored at once."""
    job = claim.job
    asked = job.fingerprint
    steps = [
        (spot, year, rows)
        for year, rows in sorted(_needs(job.site, job.first_night, job.last_night).items())
        for spot in places_at(job.site)
    ]
    for number, (spot, year, rows) in enumerate(steps, 1):
        _refuse_edited(job, asked)
        wanted = sorted(rows - _fresh(job.site, spot, year))
        _replace(claim, spot, year, compute_windows(job.site, spot, wanted, year))
        jobs.renew(claim, done=job.total * number // len(steps), now=clock())


def _needs(site: Site, first: date, last: date) -> Needs:
    """Gather what is wanted at a site, from the lists of every season there in that time."""
    needs: Needs = defaultdict(set)
    seasons = site.seasons.current().filter(last_night__gte=first, first_night__lte=last)
    for season in seasons:
        rows = rows_of(TargetEntry.objects.filter(target_list__in=_lists_of(season)))
        for year in range(season.first_night.year, season.last_night.year + 1):
            needs[year] |= rows
    return needs


def _lists_of(season: Season) -> list[int]:
    tried = list(season.tried_lists.current().values_list("pk", flat=True))
    return tried if season.target_list_id is None else [season.target_list_id, *tried]


def rows_of(entries: Iterable[TargetEntry]) -> set[WantedRow]:
    return {row for entry in known(entries) for row in wanted_rows(entry)}


def _fresh(site: Site, spot: Spot | None, year: int) -> set[WantedRow]:
    stored = TargetWindows.objects.filter(site=site, spot=spot, year=year)
    present = windows_fingerprint(site, spot)
    return {WantedRow(*row) for row in stored.filter(fingerprint=present).values_list(*KEY)}


def _fingerprint(site: Site, first: date, last: date) -> str:
    """Digest everything the work depends on: a job for less or for other spots is another job."""
    spots = [windows_fingerprint(site, spot) for spot in places_at(site)]
    needs = {year: sorted(map(repr, rows)) for year, rows in _needs(site, first, last).items()}
    return hashlib.sha256(json.dumps([spots, needs], sort_keys=True).encode()).hexdigest()


@transaction.atomic
def _replace(
    claim: jobs.Claim, spot: Spot | None, year: int, rows: Sequence[TargetWindows]
) -> None:
    """Put the rows in place of the old ones, if the claim and the site are still the same."""
    claim.hold()
    Site.objects.select_for_update().get(pk=claim.job.site_id)
    _refuse_edited(claim.job, claim.job.fingerprint)
    kept = TargetWindows.objects.filter(site=claim.job.site, spot=spot, year=year)
    present = windows_fingerprint(claim.job.site, spot)
    kept.exclude(fingerprint=present).delete()
    TargetWindows.objects.bulk_create(rows)


def _refuse_edited(job: Job, asked: str) -> None:
    site = Site.objects.get(pk=job.site_id)
    if _fingerprint(site, job.first_night, job.last_night) != asked:
        raise jobs.EditedSinceError
