"""Jobs: asked for, claimed, renewed, ended. Every change of state is one conditional update.

The row is the truth. A message only says "look at this row"; losing or repeating one is harmless.
"""

from __future__ import annotations

import logging
import uuid
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import partial

from celery import current_app
from django.conf import settings
from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.db.models.functions import Coalesce
from django.utils.translation import gettext as _
from kombu.exceptions import OperationalError

from trips.models import Job, Site, User

logger = logging.getLogger(__name__)

TASK = "trips.work_on_job"
# One sweep stays short however long the queue is; the next one goes on.
MOST_POSTED_IN_A_SWEEP = 500
NO_CLAIM = {"lease_owner": None, "lease_expires_at": None}


class ClaimLostError(Exception):
    """The job went to another worker, or the site changed: what was computed may not be stored."""


class StopRequestedError(Exception):
    """A person pressed stop."""


class EditedSinceError(Exception):
    """The site, or what is wanted there, is no longer what the job was asked for."""


@dataclass(frozen=True, slots=True)
class Work:
    """What a job is asked for: nights of a site, first to last, and what they depend on."""

    kind: Job.Kind
    site: Site
    first: date
    last: date
    fingerprint: str


@dataclass(frozen=True, slots=True)
class Claim:
    """The right to work on a job, until the lease runs out without a sign of life."""

    job: Job
    owner: uuid.UUID

    def rows(self) -> QuerySet[Job]:
        """Give the job's row while this claim holds, else no row."""
        running = Job.State.RUNNING
        return Job.objects.filter(pk=self.job.pk, state=running, lease_owner=self.owner)

    def hold(self) -> None:
        """Keep thieves of the claim out until the transaction ends; errors: `ClaimLostError`."""
        if not list(self.rows().select_for_update().values_list("pk")):
            raise ClaimLostError


def ask(work: Work, *, by: User | None, now: datetime) -> Job:
    """Give the open job for this work; make and post it where there is none."""
    same = {
        "kind": work.kind,
        "site": work.site,
        "first_night": work.first,
        "last_night": work.last,
        "fingerprint": work.fingerprint,
    }
    rest = {
        "organisation_id": work.site.organisation_id,
        "total": (work.last - work.first).days + 1,
        "created_by": by,
        "created_at": now,
    }
    with transaction.atomic():
        job: Job
        job, is_new = Job.objects.open().get_or_create(
            **same, state__in=[Job.State.QUEUED, Job.State.RUNNING], defaults=rest
        )
        if is_new:
            transaction.on_commit(partial(post, job, now=now))
    return job


def post(job: Job, *, now: datetime) -> None:
    """Send the job's message. Without a broker it stays unsent, and a sweep sends it later."""
    try:
        current_app.send_task(TASK, args=[str(job.uid)], expires=settings.JOB_MESSAGE_SECONDS)
    except (OperationalError, OSError):
        logger.warning("job %s: the broker does not answer; a sweep will post it", job.uid)
        return
    Job.objects.filter(pk=job.pk).update(posted_at=now)


def claim(uid: uuid.UUID, *, now: datetime) -> Claim | None:
    """Take the job, or give None where it is ended, worn out or in other hands."""
    owner = uuid.uuid4()
    taken = Job.objects.claimable(at=now).filter(uid=uid)
    won = taken.update(
        state=Job.State.RUNNING,
        lease_owner=owner,
        lease_expires_at=_lease_end(now),
        attempts=F("attempts") + 1,
        done=0,
        started_at=Coalesce(F("started_at"), now),
    )
    if won != 1:
        return None
    return Claim(Job.objects.select_related("site").get(uid=uid), owner)


def renew(claim: Claim, *, done: int, now: datetime) -> None:
    """Write progress and a sign of life; errors: `ClaimLostError`, `StopRequestedError`."""
    if claim.rows().update(done=done, lease_expires_at=_lease_end(now)) != 1:
        raise ClaimLostError
    if claim.rows().filter(stop_requested=True).exists():
        raise StopRequestedError


def finish(claim: Claim, *, now: datetime) -> None:
    _end(claim.rows(), Job.State.DONE, now=now, done=F("total"), error="")


def stop(claim: Claim, *, now: datetime, why: str = "") -> None:
    """End a running job whose rest is no longer wanted."""
    _end(claim.rows(), Job.State.STOPPED, now=now, error=why)


def fail(claim: Claim, error: str, *, now: datetime, final: bool = False) -> None:
    """Keep the error for people to read; let the job be tried again while attempts are left."""
    if final or claim.job.attempts >= claim.job.most_attempts:
        _end(claim.rows(), Job.State.FAILED, now=now, error=error)
        return
    claim.rows().update(state=Job.State.QUEUED, posted_at=None, error=error, **NO_CLAIM)


def request_stop(job: Job, *, now: datetime) -> None:
    """Stop a waiting job at once, and a running one at its next sign of life."""
    rows = Job.objects.filter(pk=job.pk)
    if not _end(rows.filter(state=Job.State.QUEUED), Job.State.STOPPED, now=now):
        rows.filter(state=Job.State.RUNNING).update(stop_requested=True)
    job.refresh_from_db()


def sweep(*, now: datetime) -> int:
    """Take back what nobody works on, end what is worn out, post what no message carries."""
    dead = Job.objects.filter(state=Job.State.RUNNING, lease_expires_at__lt=now)
    _end(dead.filter(stop_requested=True), Job.State.STOPPED, now=now)
    dead.update(state=Job.State.QUEUED, posted_at=None, **NO_CLAIM)
    _end_worn_out(now)
    unsent_before = now - timedelta(seconds=settings.JOB_MESSAGE_SECONDS)
    waiting = Job.objects.unattended(at=now, unsent_before=unsent_before).order_by("created_at")
    jobs = list(waiting[:MOST_POSTED_IN_A_SWEEP])
    for job in jobs:
        post(job, now=now)
    return len(jobs)


def _end_worn_out(now: datetime) -> None:
    worn_out = Job.objects.filter(state=Job.State.QUEUED, attempts__gte=F("most_attempts"))
    silent = _("The worker fell silent at each attempt. Look at its log, then ask again.")
    _end(worn_out.filter(error=""), Job.State.FAILED, now=now, error=silent)
    _end(worn_out.filter(~Q(error="")), Job.State.FAILED, now=now)


def _end(rows: QuerySet[Job], state: Job.State, *, now: datetime, **fields: object) -> int:
    return rows.update(state=state, finished_at=now, **NO_CLAIM, **fields)


def _lease_end(now: datetime) -> datetime:
    return now + timedelta(seconds=settings.JOB_LEASE_SECONDS)
