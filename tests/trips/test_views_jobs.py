"""A job's progress, how it ends, the stop button, asking again, and the list of jobs."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import WHEN, Cast
from trips.models import Job


def page(client: Client, cast: Cast, name: str = "job_detail", **state: Any) -> str:
    Job.objects.filter(pk=cast.job.pk).update(**state)
    answer: str = client.get(reverse(name, args=[cast.job.pk])).content.decode()
    return answer


def test_progress_is_counted_and_asked_for_again(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast)
    assert "12 of 31 nights computed" in text
    assert f'hx-get="{reverse("job_progress", args=[cast.job.pk])}" hx-trigger="every 2s"' in text


def test_without_script_the_page_reloads(cast: Cast, coordinator: Client) -> None:
    assert '<noscript><meta http-equiv="refresh" content="3"></noscript>' in page(coordinator, cast)


def test_the_part_that_changes_is_not_a_whole_page(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, "job_progress")
    assert "12 of 31 nights computed" in text
    assert "<html" not in text


@pytest.mark.parametrize("name", ["job_detail", "job_progress"])
@pytest.mark.parametrize("state", ["done", "failed", "stopped"])
def test_an_ended_job_is_not_asked_for_again_and_has_no_stop_button(
    name: str, state: str, cast: Cast, coordinator: Client
) -> None:
    text = page(coordinator, cast, name, state=state)
    assert "hx-trigger" not in text
    assert 'http-equiv="refresh"' not in text
    assert reverse("job_stop", args=[cast.job.pk]) not in text


def test_the_end_is_announced(cast: Cast, coordinator: Client) -> None:
    assert 'role="status"' in page(coordinator, cast, "job_progress", state="done")


def test_before_the_first_step_no_time_left_is_said(cast: Cast, coordinator: Client) -> None:
    assert " left" not in page(coordinator, cast, done=0, started_at=WHEN, attempts=1)


def test_after_a_step_the_time_left_is_said(cast: Cast, coordinator: Client) -> None:
    # Begun long ago on whatever day this is run: minutes are left.
    text = page(coordinator, cast, done=12, started_at=WHEN - timedelta(days=900), attempts=1)
    assert "min left" in text


def test_a_job_long_in_the_queue_says_whom_to_ask(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, state="queued", created_at=WHEN - timedelta(days=900))
    assert "whether its worker runs" in text


def test_a_running_job_does_not_speak_of_the_worker(cast: Cast, coordinator: Client) -> None:
    assert "whether its worker runs" not in page(coordinator, cast)


def test_a_done_job_leads_to_its_season(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, state="done", done=31)
    assert "Done: all 31 nights are computed." in text
    assert f'class="button main" href="{reverse("season_detail", args=[cast.season.pk])}' in text


def test_a_done_job_without_a_season_leads_to_its_site(cast: Cast, coordinator: Client) -> None:
    cast.season.sites.clear()
    text = page(coordinator, cast, state="done", done=31)
    assert f'class="button main" href="{reverse("site_detail", args=[cast.site.pk])}' in text


def test_a_season_of_other_nights_is_not_named(cast: Cast, coordinator: Client) -> None:
    later = {"first_night": "2030-01-01", "last_night": "2030-02-01"}
    text = page(coordinator, cast, state="done", **later)
    assert "Spring 2027" not in text


def test_a_failure_is_said_in_plain_words_with_what_to_do(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast, state="failed", error="The ephemeris file is gone.")
    assert "It did not work, and nothing was half-saved." in text
    assert "The ephemeris file is gone." in text
    assert reverse("job_again", args=[cast.job.pk]) in text


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


def test_trying_again_asks_for_the_same_nights(cast: Cast, coordinator: Client) -> None:
    Job.objects.update(state="failed")
    response = coordinator.post(reverse("job_again", args=[cast.job.pk]))
    newer = Job.objects.exclude(pk=cast.job.pk).get()
    assert response.headers["Location"] == reverse("job_detail", args=[newer.pk])
    assert (newer.site, newer.first_night, newer.state) == (
        cast.site,
        cast.job.first_night,
        "queued",
    )


def test_trying_again_what_still_runs_makes_no_second_job(cast: Cast, coordinator: Client) -> None:
    coordinator.post(reverse("job_again", args=[cast.job.pk]))
    assert Job.objects.get() == cast.job


def test_the_list_finds_open_and_ended_jobs_again(cast: Cast, coordinator: Client) -> None:
    address = reverse("job_detail", args=[cast.job.pk])
    assert address in coordinator.get(reverse("job_list")).content.decode()
    Job.objects.update(state="failed", error="The disk was full.", finished_at=WHEN)
    text = coordinator.get(reverse("job_list")).content.decode()
    assert address in text
    assert "The disk was full." in text


def test_the_list_does_not_show_another_clubs_jobs(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    assert "Broom Hill" not in signed_in("stranger").get(reverse("job_list")).content.decode()


def test_open_jobs_can_be_asked_for_by_season_and_by_site(cast: Cast, coordinator: Client) -> None:
    for query in ("", f"?season={cast.season.pk}", f"?site={cast.site.pk}"):
        response = coordinator.get(reverse("jobs_open") + query)
        assert "12 of 31 nights computed" in response.content.decode()
        assert "HX-Refresh" not in response.headers


@pytest.mark.parametrize("query", ["?season=0", "?season=x", "?site=²", "?site=" + "9" * 40])
def test_nonsense_finds_no_open_jobs(query: str, cast: Cast, coordinator: Client) -> None:
    response = coordinator.get(reverse("jobs_open") + query)
    assert "12 of 31" not in response.content.decode()


def test_when_nothing_is_open_any_more_the_page_is_loaded_anew(
    cast: Cast, coordinator: Client
) -> None:
    Job.objects.update(state="done")
    assert coordinator.get(reverse("jobs_open")).headers["HX-Refresh"] == "true"


def test_the_part_of_a_season_asks_again_for_that_season(cast: Cast, coordinator: Client) -> None:
    address = reverse("jobs_open") + f"?season={cast.season.pk}"
    assert f'hx-get="{address}"' in coordinator.get(address).content.decode()
