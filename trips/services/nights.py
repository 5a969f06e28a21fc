"""The work of a job: computes a site's nights a year at a time and stores each year at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime

from django.db import transaction

from trips.almanac.dates import count_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.nights import compute_nights
from trips.almanac.sky_events import tabulate
from trips.models import Job, Night, Site, User
from trips.services import jobs

Clock = Callable[[], datetime]


def ask(site: Site, first: date, last: date, *, by: User | None, now: datetime) -> Job:
    """Ask for a site's nights named first to last, both included."""
    work = jobs.Work(Job.Kind.SITE_NIGHTS, site, first, last, site_fingerprint(site))
    return jobs.ask(work, by=by, now=now)


def are_fresh(site: Site, first: date, last: date) -> bool:
    """Whether every night from first to last is stored, computed from the site as it is now."""
    fresh = Night.objects.filter(site=site).between(first, last).fresh(site_fingerprint(site))
    return fresh.count() == count_nights(site.zone, first, last)


def years(first: date, last: date) -> Iterator[tuple[date, date]]:
    """Cut a stretch of nights at the turns of years."""
    for year in range(first.year, last.year + 1):
        yield max(first, date(year, 1, 1)), min(last, date(year, 12, 31))


def compute(claim: jobs.Claim, clock: Clock) -> None:
    """Do a job of this kind: a year at a time, each stored at once."""
    job, done = claim.job, 0
    for first, last in years(job.first_night, job.last_night):
        _refuse_edited(job.site, job.fingerprint)
        # A year that an earlier attempt stored is not computed again.
        if not are_fresh(job.site, first, last):
            rows = compute_nights(job.site, first, last)
            _replace(claim, first, last, rows)
        done += (last - first).days + 1
        jobs.renew(claim, done=done, now=clock())
    tabulate(job.first_night, job.last_night)


@transaction.atomic
def _replace(claim: jobs.Claim, first: date, last: date, rows: list[Night]) -> None:
    """Put the rows in place of the old ones, if the claim and the site are still the same."""
    # Locked until the end: neither a thief of the claim nor an editor of the site comes between.
    claim.hold()
    site = Site.objects.select_for_update().get(pk=claim.job.site_id)
    _refuse_edited(site, claim.job.fingerprint)
    Night.objects.filter(site=site).between(first, last).delete()
    Night.objects.bulk_create(rows)


def _refuse_edited(site: Site, fingerprint: str) -> None:
    if site_fingerprint(site) != fingerprint:
        raise jobs.EditedSinceError
