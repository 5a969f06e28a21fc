"""Celery entries: an id in, one service called, nothing out.

The time limits hold in pools of processes; in a pool of threads the lease alone ends a silent job.
"""

from __future__ import annotations

from uuid import UUID

from celery import shared_task
from django.utils import timezone

from trips.services import closing, forgetting, jobs, joining, letters, working
from trips.services.briefs import plans, publishing, reminders
from trips.services.letter_kinds.post import NEWS, ORDINARY, URGENT


@shared_task(name=jobs.TASK, ignore_result=True, soft_time_limit=540, time_limit=600)
def work_on_job(job_uid: str) -> None:
    working.run(UUID(job_uid), clock=timezone.now)


@shared_task(name="trips.sweep_jobs", ignore_result=True, soft_time_limit=50, time_limit=60)
def sweep_jobs() -> None:
    jobs.sweep(now=timezone.now())


@shared_task(name="trips.send_letters", ignore_result=True, soft_time_limit=540, time_limit=600)
def send_letters() -> None:
    for post in (NEWS, ORDINARY):
        letters.send_due(post, clock=timezone.now)


@shared_task(name=publishing.PLANS_TASK, ignore_result=True, soft_time_limit=540, time_limit=600)
def make_plans() -> None:
    plans.make_missing(clock=timezone.now)


@shared_task(name="trips.remind", ignore_result=True, soft_time_limit=540, time_limit=600)
def remind() -> None:
    reminders.remind(now=timezone.now())


@shared_task(name="trips.sweep_places", ignore_result=True, soft_time_limit=50, time_limit=60)
def sweep_places() -> None:
    joining.sweep_places(now=timezone.now())


@shared_task(name="trips.call_out", ignore_result=True)
def call_out() -> None:
    """Called by the worker's own watch, past the beat and the queue: shared/call_out_watch.py."""
    closing.sweep_call_outs(now=timezone.now())
    letters.send_due(URGENT, clock=timezone.now)


@shared_task(name="trips.forget", ignore_result=True, soft_time_limit=540, time_limit=600)
def forget() -> None:
    forgetting.forget_due(now=timezone.now())
