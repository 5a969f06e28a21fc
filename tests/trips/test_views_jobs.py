"""A job's progress, how it ends, and the stop button."""

from __future__ import annotations

from typing import Any

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Job


def page(client: Client, cast: Cast, **state: Any) -> str:
    Job.objects.filter(pk=cast.job.pk).update(**state)
    answer: str = client.get(reverse("job_detail", args=[cast.job.pk])).content.decode()
    return answer


def test_progress_is_counted_and_the_page_reloads(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast)
    assert "12 of 31 nights computed." in text
    assert '<meta http-equiv="refresh" content="3">' in text


def test_an_ended_job_does_not_reload_and_has_no_stop_button(
    cast: Cast, coordinator: Client
) -> None:
    text = page(coordinator, cast, state="done", done=31)
    assert 'http-equiv="refresh"' not in text
    assert reverse("job_stop", args=[cast.job.pk]) not in text


def test_a_failure_is_said_in_plain_words(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, state="failed", error="The ephemeris file is gone.")
    assert "It did not work, and nothing was half-saved. The ephemeris file is gone." in text


def test_a_failed_attempt_that_is_tried_again_is_said(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, state="queued", attempts=2, error="The disk was full.")
    assert "Attempt 2 of 5 failed; it is tried again. The disk was full." in text


def test_a_first_attempt_is_not_called_failed(cast: Cast, coordinator: Client) -> None:
    assert "failed" not in page(coordinator, cast, attempts=1)


def test_a_stopped_job_says_why(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, state="stopped", error="The site was edited.")
    assert "It was stopped." in text
    assert "The site was edited." in text


def test_stop_asks_a_running_job_to_stop(cast: Cast, coordinator: Client) -> None:
    coordinator.post(reverse("job_stop", args=[cast.job.pk]))
    cast.job.refresh_from_db()
    assert cast.job.stop_requested
    assert "Stopping" in page(coordinator, cast)


def test_stop_ends_a_waiting_job_at_once(cast: Cast, coordinator: Client) -> None:
    Job.objects.update(state="queued")
    coordinator.post(reverse("job_stop", args=[cast.job.pk]))
    cast.job.refresh_from_db()
    assert cast.job.state == "stopped"


def test_stop_does_not_touch_a_finished_job(cast: Cast, coordinator: Client) -> None:
    Job.objects.update(state="done")
    coordinator.post(reverse("job_stop", args=[cast.job.pk]))
    cast.job.refresh_from_db()
    assert (cast.job.state, cast.job.stop_requested) == ("done", False)
