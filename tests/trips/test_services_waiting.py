"""How far jobs are, and how long they will still take, from the rate so far."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest

from tests.conftest import WHEN, Cast
from trips.models import Job, Site
from trips.services.waiting import seconds_left, work_of


def job_of(cast: Cast, **fields: Any) -> Job:
    Job.objects.filter(pk=cast.job.pk).update(**fields)
    cast.job.refresh_from_db()
    return cast.job


def later(seconds: float) -> Any:
    return WHEN + timedelta(seconds=seconds)


def test_the_time_left_follows_from_the_rate_so_far(cast: Cast) -> None:
    job = job_of(cast, done=10, total=30, started_at=WHEN, attempts=1)
    assert seconds_left([job], now=later(5)) == pytest.approx(10)


def test_before_the_first_step_nothing_is_estimated(cast: Cast) -> None:
    job = job_of(cast, done=0, started_at=WHEN, attempts=1)
    assert seconds_left([job], now=later(60)) is None


def test_a_waiting_job_has_no_estimate(cast: Cast) -> None:
    job = job_of(cast, state="queued", done=0, started_at=None)
    assert seconds_left([job], now=later(60)) is None


def test_a_repeated_attempt_has_no_estimate(cast: Cast) -> None:
    job = job_of(cast, done=10, started_at=WHEN, attempts=2)
    assert seconds_left([job], now=later(60)) is None


def another(cast: Cast, **fields: Any) -> Job:
    site = Site.objects.create(
        organisation=cast.club, name="Wether Fell", latitude=40, longitude=1, zone="UTC"
    )
    values = {"organisation": cast.club, "kind": "site_nights", "site": site, "total": 31}
    dates = {"first_night": cast.job.first_night, "last_night": cast.job.last_night}
    return Job.objects.create(**values | dates | {"created_at": WHEN} | fields)


def test_jobs_asked_for_together_are_counted_together(cast: Cast) -> None:
    job_of(cast, done=0, started_at=None, state="queued")
    another(cast, state="done", done=31, started_at=WHEN, attempts=1)
    work = work_of(Job.objects.open(), now=later(4))
    assert work is not None
    assert (work.jobs_done, work.jobs_total, work.done, work.total) == (1, 2, 31, 62)
    assert work.seconds_left == pytest.approx(4)


def test_jobs_of_another_time_are_not_counted_with_them(cast: Cast) -> None:
    another(cast, state="done", done=31, created_at=later(-3600))
    work = work_of(Job.objects.open(), now=later(4))
    assert work is not None
    assert work.jobs_total == 1


def test_a_stopped_job_of_the_batch_is_not_waited_for(cast: Cast) -> None:
    another(cast, state="stopped")
    work = work_of(Job.objects.open(), now=later(4))
    assert work is not None
    assert work.total == 31


def test_nothing_open_is_no_work(cast: Cast) -> None:
    job_of(cast, state="done")
    assert work_of(Job.objects.open(), now=WHEN) is None
