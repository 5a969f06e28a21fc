"""A job is asked for once, held by one, renewed, ended, and taken back when its holder is gone."""

from __future__ import annotations

from collections.abc import Callable
from unittest.mock import Mock

import pytest
from celery import current_app
from django.conf import settings
from kombu.exceptions import OperationalError
from pytest_django.fixtures import DjangoCaptureOnCommitCallbacks

from tests.trips.making import FIRST, LAST, NOON, make_site, seconds_later
from trips.models import Job
from trips.services import jobs, nights

pytestmark = pytest.mark.django_db

AFTER_THE_LEASE = settings.JOB_LEASE_SECONDS + 1


@pytest.fixture(autouse=True)
def broker(monkeypatch: pytest.MonkeyPatch) -> Mock:
    """Stands for the broker: keeps what was sent."""
    sent = Mock()
    monkeypatch.setattr(current_app, "send_task", sent)
    return sent


@pytest.fixture
def job() -> Job:
    return nights.ask(make_site(), FIRST, LAST, by=None, now=NOON)


@pytest.fixture
def claimed(job: Job) -> jobs.Claim:
    claim = jobs.claim(job.uid, now=NOON)
    assert claim is not None
    return claim


def test_asking_twice_gives_the_same_open_job(job: Job) -> None:
    assert nights.ask(job.site, FIRST, LAST, by=None, now=NOON) == job


def test_asking_again_after_the_end_gives_another_job(job: Job, claimed: jobs.Claim) -> None:
    jobs.finish(claimed, now=NOON)
    assert nights.ask(job.site, FIRST, LAST, by=None, now=NOON) != job


def test_the_message_is_sent_after_the_commit_and_carries_the_id_alone(
    broker: Mock, django_capture_on_commit_callbacks: DjangoCaptureOnCommitCallbacks
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        job = nights.ask(make_site(), FIRST, LAST, by=None, now=NOON)
        broker.assert_not_called()
    broker.assert_called_once_with(
        jobs.TASK, args=[str(job.uid)], expires=settings.JOB_MESSAGE_SECONDS
    )
    job.refresh_from_db()
    assert job.posted_at == NOON


def test_a_silent_broker_does_not_lose_the_job(job: Job, broker: Mock) -> None:
    broker.side_effect = OperationalError("nobody there")
    jobs.post(job, now=NOON)
    broker.side_effect = None
    assert jobs.sweep(now=NOON) == 1
    assert Job.objects.get().posted_at == NOON


def test_one_worker_claims_a_job_and_a_second_does_not(job: Job) -> None:
    assert jobs.claim(job.uid, now=NOON) is not None
    assert jobs.claim(job.uid, now=seconds_later(1)) is None


def test_a_job_whose_lease_ran_out_can_be_claimed_and_the_first_holder_is_told(
    job: Job, claimed: jobs.Claim
) -> None:
    late = seconds_later(AFTER_THE_LEASE)
    assert jobs.claim(job.uid, now=late) is not None
    with pytest.raises(jobs.ClaimLostError):
        jobs.renew(claimed, done=1, now=late)


def test_a_lost_claim_does_not_end_the_job(job: Job, claimed: jobs.Claim) -> None:
    jobs.claim(job.uid, now=seconds_later(AFTER_THE_LEASE))
    jobs.finish(claimed, now=seconds_later(AFTER_THE_LEASE))
    assert Job.objects.get().state == Job.State.RUNNING


def test_a_sign_of_life_renews_the_lease(job: Job, claimed: jobs.Claim) -> None:
    jobs.renew(claimed, done=4, now=seconds_later(AFTER_THE_LEASE - 2))
    assert jobs.claim(job.uid, now=seconds_later(AFTER_THE_LEASE)) is None
    assert Job.objects.get().done == 4


def test_finishing_says_that_all_is_done(claimed: jobs.Claim) -> None:
    jobs.finish(claimed, now=seconds_later(3))
    job = Job.objects.get()
    assert (job.state, job.done, job.finished_at) == ("done", job.total, seconds_later(3))
    assert job.lease_owner is None


def test_a_failed_attempt_is_tried_again_with_its_error_kept(claimed: jobs.Claim) -> None:
    jobs.fail(claimed, "the disk is full", now=NOON)
    job = Job.objects.get()
    assert (job.state, job.error) == ("queued", "the disk is full")


def test_the_last_attempt_is_not_tried_again(job: Job) -> None:
    for _attempt in range(job.most_attempts):
        claim = jobs.claim(job.uid, now=NOON)
        assert claim is not None
        jobs.fail(claim, "the disk is full", now=NOON)
    assert jobs.claim(job.uid, now=NOON) is None
    job.refresh_from_db()
    assert (job.state, job.error) == ("failed", "the disk is full")


def test_a_worker_that_dies_at_each_attempt_ends_the_job_with_a_sentence(job: Job) -> None:
    for attempt in range(job.most_attempts):
        assert jobs.claim(job.uid, now=seconds_later(attempt * AFTER_THE_LEASE)) is not None
    jobs.sweep(now=seconds_later(job.most_attempts * AFTER_THE_LEASE))
    job.refresh_from_db()
    assert job.state == Job.State.FAILED
    assert "fell silent" in job.error


def test_a_sweep_takes_back_what_nobody_works_on(
    job: Job, claimed: jobs.Claim, broker: Mock
) -> None:
    late = seconds_later(AFTER_THE_LEASE)
    assert jobs.sweep(now=late) == 1
    job.refresh_from_db()
    assert (job.state, job.posted_at) == ("queued", late)
    broker.assert_called_once()


def test_a_sweep_does_not_touch_a_job_with_a_lease(
    job: Job, claimed: jobs.Claim, broker: Mock
) -> None:
    assert jobs.sweep(now=seconds_later(1)) == 0
    broker.assert_not_called()


def test_a_sweep_does_not_post_twice_what_was_just_posted(job: Job) -> None:
    assert jobs.sweep(now=NOON) == 1
    assert jobs.sweep(now=seconds_later(5)) == 0
    assert jobs.sweep(now=seconds_later(settings.JOB_MESSAGE_SECONDS + 1)) == 1


def test_stopping_a_waiting_job_ends_it_at_once(job: Job) -> None:
    jobs.request_stop(job, now=NOON)
    assert job.state == Job.State.STOPPED
    assert jobs.claim(job.uid, now=NOON) is None


def test_stopping_a_running_job_is_heard_at_its_next_sign_of_life(
    job: Job, claimed: jobs.Claim
) -> None:
    jobs.request_stop(job, now=NOON)
    assert job.state == Job.State.RUNNING
    with pytest.raises(jobs.StopRequestedError):
        jobs.renew(claimed, done=1, now=NOON)


def test_a_stopped_job_whose_worker_died_is_not_tried_again(job: Job, claimed: jobs.Claim) -> None:
    jobs.request_stop(job, now=NOON)
    assert jobs.sweep(now=seconds_later(AFTER_THE_LEASE)) == 0
    job.refresh_from_db()
    assert job.state == Job.State.STOPPED


@pytest.mark.parametrize("end", [jobs.finish, jobs.stop])
def test_an_ended_job_is_not_stopped_again(
    job: Job, claimed: jobs.Claim, end: Callable[..., None]
) -> None:
    end(claimed, now=NOON)
    before = Job.objects.values().get()
    jobs.request_stop(job, now=seconds_later(9))
    assert Job.objects.values().get() == before
