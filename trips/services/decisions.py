"""What waits for a person: sentences that say what to do, with the row where it can be done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Count
from django.utils.translation import gettext as _

from trips.almanac.fingerprint import site_fingerprint
from trips.models import Job, Night, Organisation, Season, Site, Trip
from trips.services.trip_decisions import trips_waiting

FAILURES_ARE_NEWS = timedelta(days=14)


@dataclass(frozen=True, slots=True)
class Decision:
    """`kind` gathers decisions of one sort; `deed` names what is done about it, at `about`."""

    kind: str
    sentence: str
    deed: str
    about: Job | Season | Site | Trip


def pending(organisations: list[Organisation], *, at: datetime) -> list[Decision]:
    """Give what waits, people who are out first, then what hinders the planning.

    Decisions of one kind stand together.
    """
    sites = list(
        Site.objects.current()
        .filter(organisation__in=organisations)
        .annotate(dangers=Count("hazards"))
    )
    seasons = _seasons_ahead(organisations, at)
    return [
        *(
            Decision(one.kind, one.sentence, _("Open the trip"), one.trip)
            for one in trips_waiting(organisations, at=at)
        ),
        *_failed_jobs(organisations, at),
        *_empty_seasons(seasons),
        *_out_of_date(seasons),
        *(of_site for of_site in map(_access, sites) if of_site),
        *(of_site for of_site in map(_permit, sites) if of_site),
        *(of_site for of_site in map(_dangers, sites) if of_site),
    ]


def _failed_jobs(organisations: list[Organisation], at: datetime) -> Iterator[Decision]:
    """The newest job of a stretch of nights counts: one that was asked again is no news."""
    recent = Job.objects.filter(
        organisation__in=organisations, created_at__gte=at - 2 * FAILURES_ARE_NEWS
    )
    newest: dict[tuple[object, ...], Job] = {}
    for job in recent.select_related("site").order_by("created_at", "pk"):
        newest[job.kind, job.site_id, job.first_night, job.last_night] = job
    for job in newest.values():
        if job.state == Job.State.FAILED and _is_news(job, at):
            words = (
                _("The targets at %(site)s could not be computed: see why.")
                if job.kind == Job.Kind.TARGET_WINDOWS
                else _("The nights of %(site)s could not be computed: see why.")
            )
            yield Decision("failed", words % {"site": job.site}, _("See why"), job)


def _is_news(job: Job, at: datetime) -> bool:
    return job.finished_at is not None and job.finished_at >= at - FAILURES_ARE_NEWS


def _seasons_ahead(organisations: list[Organisation], at: datetime) -> list[Season]:
    ahead = Season.objects.current().filter(
        organisation__in=organisations, last_night__gte=at.date()
    )
    return list(ahead.prefetch_related("sites"))


def _empty_seasons(seasons: list[Season]) -> Iterator[Decision]:
    for season in seasons:
        if not season.sites.all():
            words = _("%(season)s has no sites: choose some.") % {"season": season}
            yield Decision("empty", words, _("Choose sites"), season)


def _out_of_date(seasons: list[Season]) -> Iterator[Decision]:
    """The last night of a season stands for all: nights of a site are computed together."""
    for season in seasons:
        sites = [site for site in season.sites.all() if site.archived_at is None]
        stored = dict(
            Night.objects.filter(site__in=sites, date=season.last_night).values_list(
                "site_id", "fingerprint"
            )
        )
        stale = [
            site for site in sites if stored.get(site.pk, "") not in ("", site_fingerprint(site))
        ]
        if stale and not _is_being_computed(season, stale):
            words = _("Nights of %(season)s are out of date at %(sites)s: compute them again.")
            names = ", ".join(site.name for site in stale[:3]) + (", …" if stale[3:] else "")
            told = words % {"season": season, "sites": names}
            yield Decision("stale", told, _("Open the season"), season)


def _is_being_computed(season: Season, sites: list[Site]) -> bool:
    open_jobs = Job.objects.open().filter(site__in=sites, last_night__gte=season.first_night)
    return bool(open_jobs.exists())


def _access(site: Site) -> Decision | None:
    if site.night_access != Site.Access.UNKNOWN:
        return None
    words = _("Is %(site)s allowed at night? Ask the land manager.") % {"site": site}
    return Decision("access", words, _("Write down the answer"), site)


def _permit(site: Site) -> Decision | None:
    if site.night_access != Site.Access.PERMIT or site.permit_number:
        return None
    words = _("%(site)s needs a permit and has none.") % {"site": site}
    return Decision("permit", words, _("Write down the permit"), site)


def _dangers(site: Site) -> Decision | None:
    if site.dangers:  # type: ignore[attr-defined]  # counted by the query
        return None
    words = _("No danger is written down for %(site)s: go once by day.") % {"site": site}
    return Decision("dangers", words, _("Write down what you saw"), site)
