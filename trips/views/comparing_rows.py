"""The rows of the compare page: a site with its months, and what is wrong with its nights."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from trips.models import Job, Season, Site
from trips.planning.comparing import Compared, Month, MonthHours
from trips.services.judged import Gap


@dataclass(frozen=True, slots=True)
class Trouble:
    """Nights that are missing or stale, windows of targets that are, and the job that computes
    them or failed to."""

    missing: int
    stale: int
    windows: int
    job: Job | None

    @property
    def is_open(self) -> bool:
        return self.job is not None and self.job.finished_at is None


@dataclass(frozen=True, slots=True)
class Row:
    found: Compared[Site]
    months: tuple[MonthHours | None, ...]  # None where no night of it is computed
    only_here_hours: float  # of nights that no other site offers
    trouble: Trouble | None
    lighter: Sequence[tuple[str, int]]  # where no night is a candidate: what other levels give


def rows_of(
    sites: Sequence[Compared[Site]],
    months: Sequence[Month],
    troubles: Mapping[int, Trouble],
    lighter: Mapping[int, Sequence[tuple[str, int]]],
    alone: Mapping[Site, float],
) -> list[Row]:
    """Give the rows in the order of the sites."""
    return [
        Row(
            found=site,
            months=tuple(site.months.get(month) for month in months),
            only_here_hours=alone.get(site.site, 0.0),
            trouble=troubles.get(site.site.pk),
            lighter=lighter.get(site.site.pk, ()),
        )
        for site in sites
    ]


def troubles_of(season: Season, gaps: Iterable[Gap]) -> dict[int, Trouble]:
    """Give what is missing or stale, by site, with the newest job that has to do with it."""
    short = list(gaps)
    jobs = {job.site_id: job for job in _jobs(season, short)} if short else {}
    return {
        gap.site.pk: Trouble(gap.missing, gap.stale, gap.windows, jobs.get(gap.site.pk))
        for gap in short
    }  # fmt: skip


def _jobs(season: Season, gaps: Sequence[Gap]) -> QuerySet[Job]:
    """Give the jobs that are open or ended badly, the newest last."""
    return Job.objects.filter(
        site__in=[gap.site for gap in gaps],
        first_night__lte=season.last_night,
        last_night__gte=season.first_night,
    ).exclude(state=Job.State.DONE).order_by("created_at", "pk")  # fmt: skip
