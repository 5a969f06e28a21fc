"""What waits for a person: sentences with the row that they are about."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Count
from django.utils.translation import gettext as _

from trips.models import Job, Organisation, Season, Site

FAILURES_ARE_NEWS = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Decision:
    """`about` is the row where the person can act."""

    sentence: str
    about: Job | Season | Site


def pending(organisations: list[Organisation], *, at: datetime) -> list[Decision]:
    return [
        *_failed_jobs(organisations, at),
        *_empty_seasons(organisations, at),
        *_unknown_sites(organisations),
    ]


def _failed_jobs(organisations: list[Organisation], at: datetime) -> Iterator[Decision]:
    failed = Job.objects.filter(
        organisation__in=organisations,
        state=Job.State.FAILED,
        finished_at__gte=at - FAILURES_ARE_NEWS,
    )
    for job in failed.select_related("site"):
        yield Decision(
            _("The nights of %(site)s could not be computed: see why.") % {"site": job.site}, job
        )


def _empty_seasons(organisations: list[Organisation], at: datetime) -> Iterator[Decision]:
    seasons = Season.objects.current().filter(
        organisation__in=organisations, last_night__gte=at.date()
    )
    for season in seasons.annotate(chosen=Count("sites")).filter(chosen=0):
        yield Decision(_("%(season)s has no sites: choose some.") % {"season": season}, season)


def _unknown_sites(organisations: list[Organisation]) -> Iterator[Decision]:
    sites = Site.objects.current().filter(organisation__in=organisations)
    for site in sites.annotate(dangers=Count("hazards")):
        if site.night_access == Site.Access.UNKNOWN:
            yield Decision(
                _("Is %(site)s allowed at night? Ask the land manager.") % {"site": site}, site
            )
        if site.night_access == Site.Access.PERMIT and not site.permit_number:
            yield Decision(_("%(site)s needs a permit and has none.") % {"site": site}, site)
        if not site.dangers:
            yield Decision(
                _("No danger is written down for %(site)s: go once by day.") % {"site": site}, site
            )
