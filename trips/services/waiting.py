"""Waiting for jobs: how far they are, and how long they will still take, read from the rows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from trips.models import Job


@dataclass(frozen=True, slots=True)
class Progress:
    """Nights done of nights asked for; `errors` in the words kept with the jobs that failed."""

    done: int
    total: int
    is_over: bool
    errors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Work:
    """Open jobs, and how far they are with those that were asked for together with them.

    `seconds_left` is None before the first step and where an attempt is repeated.
    """

    jobs: tuple[Job, ...]
    jobs_done: int
    jobs_total: int
    done: int
    total: int
    seconds_left: float | None


def progress_of(jobs: Iterable[Job]) -> Progress:
    rows = list(Job.objects.filter(pk__in=[job.pk for job in jobs]).select_related("site"))
    failed = [row for row in rows if row.state in (Job.State.FAILED, Job.State.STOPPED)]
    return Progress(
        done=sum(_nights_done(row) for row in rows),
        total=sum(row.total for row in rows),
        is_over=all(row.finished_at for row in rows),
        errors=tuple(f"{row.site.name}: {row.error or row.get_state_display()}" for row in failed),
    )


def work_of(open_jobs: Iterable[Job], *, now: datetime) -> Work | None:
    """Put open jobs together with the rest of their batch; None where nothing is open."""
    waiting = tuple(open_jobs)
    if not waiting:
        return None
    batch = list(
        Job.objects.filter(
            organisation__in={job.organisation_id for job in waiting},
            created_at__in={job.created_at for job in waiting},
        ).exclude(state__in=[Job.State.FAILED, Job.State.STOPPED])
    )
    return Work(
        jobs=waiting,
        jobs_done=sum(job.state == Job.State.DONE for job in batch),
        jobs_total=len(batch),
        done=sum(_nights_done(job) for job in batch),
        total=sum(job.total for job in batch),
        seconds_left=seconds_left(batch, now=now),
    )


def seconds_left(jobs: Sequence[Job], *, now: datetime) -> float | None:
    """Estimate from the rate so far: what is done, over the time since the first one started.

    None before the first step, and in a repeated attempt: when that one began is not kept.
    """
    starts = [job.started_at for job in jobs if job.started_at is not None]
    done, total = sum(_nights_done(job) for job in jobs), sum(job.total for job in jobs)
    if not starts or not done or any(job.attempts > 1 for job in jobs):
        return None
    spent = (now - min(starts)).total_seconds()
    return max(0.0, spent * (total - done) / done)


def _nights_done(job: Job) -> int:
    return job.total if job.state == Job.State.DONE else job.done
