"""The work of a job: computes a site's nights a year at a time and stores each year at once."""

from __future__ import annotations

import logging
import uuid
from collections.abc import Callable, Iterator
from datetime import date, datetime

from django.db import transaction
from django.utils.translation import gettext as _

from trips.almanac.dates import count_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.nights import compute_nights
from trips.almanac.wording import SkyError, sentence
from trips.models import Night, Site
from trips.services import jobs

logger = logging.getLogger(__name__)

Clock = Callable[[], datetime]


class SiteEditedError(Exception):
    """The site is no longer the one that the job was asked for."""


def run(uid: uuid.UUID, *, clock: Clock) -> None:
    """Work on the job if it can be claimed, and leave its row saying how that ended."""
    claim = jobs.claim(uid, now=clock())
    if claim is None:
        return
    try:
        _compute_and_store(claim, clock)
        jobs.finish(claim, now=clock())
    except jobs.ClaimLostError:
        logger.info("job %s went to another worker", uid)
    except jobs.StopRequestedError:
        jobs.stop(claim, now=clock())
    except SiteEditedError:
        jobs.stop(claim, now=clock(), why=_("The site was edited; a newer job computes it."))
    except SkyError as error:
        # The same input is refused each time.
        jobs.fail(claim, sentence(error), now=clock(), final=True)
    except Exception as error:
        logger.exception("job %s failed", uid)
        jobs.fail(claim, _broke_off(uid, error), now=clock())


def _broke_off(uid: uuid.UUID, error: Exception) -> str:
    words = _("The computation broke off (%(error)s). The worker's log says more: job %(uid)s.")
    return words % {"error": f"{type(error).__name__}: {error}", "uid": uid}


def are_fresh(site: Site, first: date, last: date) -> bool:
    """Whether every night from first to last is stored, computed from the site as it is now."""
    fresh = Night.objects.filter(site=site).between(first, last).fresh(site_fingerprint(site))
    return fresh.count() == count_nights(site.zone, first, last)


def years(first: date, last: date) -> Iterator[tuple[date, date]]:
    """Cut a stretch of nights at the turns of years."""
    for year in range(first.year, last.year + 1):
        yield max(first, date(year, 1, 1)), min(last, date(year, 12, 31))


def _compute_and_store(claim: jobs.Claim, clock: Clock) -> None:
    job, done = claim.job, 0
    for first, last in years(job.first_night, job.last_night):
        _refuse_edited(job.site, job.fingerprint)
        # A year that an earlier attempt stored is not computed again.
        if not are_fresh(job.site, first, last):
            rows = compute_nights(job.site, first, last)
            _replace(claim, first, last, rows)
        done += (last - first).days + 1
        jobs.renew(claim, done=done, now=clock())


@transaction.atomic
def _replace(claim: jobs.Claim, first: date, last: date, rows: list[Night]) -> None:
    """Put the rows in place of the old ones, if the claim and the site are still the same."""
    # Locked until the end: neither a thief of the claim nor an editor of the site comes between.
    if not list(claim.rows().select_for_update().values_list("pk")):
        raise jobs.ClaimLostError
    site = Site.objects.select_for_update().get(pk=claim.job.site_id)
    _refuse_edited(site, claim.job.fingerprint)
    Night.objects.filter(site=site).between(first, last).delete()
    Night.objects.bulk_create(rows)


def _refuse_edited(site: Site, fingerprint: str) -> None:
    if site_fingerprint(site) != fingerprint:
        raise SiteEditedError
