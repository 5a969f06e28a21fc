"""Waiting for jobs: their progress, read from the rows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from trips.models import Job


@dataclass(frozen=True, slots=True)
class Progress:
    """Nights done of nights asked for; `errors` in the words kept with the jobs that failed."""

    done: int
    total: int
    is_over: bool
    errors: tuple[str, ...]


def progress_of(jobs: Iterable[Job]) -> Progress:
    rows = list(Job.objects.filter(pk__in=[job.pk for job in jobs]).select_related("site"))
    failed = [row for row in rows if row.state in (Job.State.FAILED, Job.State.STOPPED)]
    return Progress(
        done=sum(row.total if row.state == Job.State.DONE else row.done for row in rows),
        total=sum(row.total for row in rows),
        is_over=all(row.finished_at for row in rows),
        errors=tuple(f"{row.site.name}: {row.error or row.get_state_display()}" for row in failed),
    )
