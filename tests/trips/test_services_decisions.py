"""What waits for a person, said with what to do; what is settled does not wait."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from tests.conftest import Cast, store_nights
from trips.models import Job, Season, Site
from trips.services.decisions import pending

AT = datetime(2027, 3, 1, tzinfo=UTC)


@pytest.fixture
def known(cast: Cast) -> Cast:
    """The cast with a site of which everything is known."""
    Site.objects.update(night_access="yes")
    return cast


def said(cast: Cast) -> list[str]:
    return [decision.sentence for decision in pending([cast.club], at=AT)]


def test_unknown_access_waits_for_a_decision(cast: Cast) -> None:
    assert said(cast) == ["Is Broom Hill allowed at night? Ask the land manager."]


def test_a_permit_without_number_waits_for_a_decision(cast: Cast) -> None:
    Site.objects.update(night_access="permit")
    assert said(cast) == ["Broom Hill needs a permit and has none."]


def test_a_permit_with_a_number_does_not_wait(cast: Cast) -> None:
    Site.objects.update(night_access="permit", permit_number="27-014")
    assert said(cast) == []


def test_a_site_without_dangers_waits_for_a_decision(known: Cast) -> None:
    known.site.hazards.all().delete()
    assert said(known) == ["No danger is written down for Broom Hill: go once by day."]


def test_a_known_site_does_not_wait(known: Cast) -> None:
    assert said(known) == []


def test_a_failed_job_waits_for_a_decision(known: Cast) -> None:
    Job.objects.update(state="failed", finished_at=datetime(2027, 2, 28, tzinfo=UTC))
    assert said(known) == ["The nights of Broom Hill could not be computed: see why."]


def test_targets_that_could_not_be_computed_are_told_from_nights(known: Cast) -> None:
    failed = {"kind": "target_windows", "state": "failed"}
    Job.objects.update(**failed, finished_at=datetime(2027, 2, 28, tzinfo=UTC))
    assert said(known) == ["The targets at Broom Hill could not be computed: see why."]


def test_an_old_failure_is_no_news(known: Cast) -> None:
    Job.objects.update(state="failed", finished_at=datetime(2027, 1, 1, tzinfo=UTC))
    assert said(known) == []


def test_a_failure_that_was_asked_again_does_not_wait(known: Cast) -> None:
    Job.objects.update(state="failed", finished_at=datetime(2027, 2, 28, tzinfo=UTC))
    known.job.pk, known.job.uid = None, Job._meta.get_field("uid").get_default()
    known.job.state, known.job.created_at = Job.State.QUEUED, AT
    known.job.save()
    assert said(known) == []


def test_a_season_without_sites_waits_for_a_decision(known: Cast) -> None:
    known.season.sites.clear()
    assert said(known) == ["Spring 2027 has no sites: choose some."]


def test_a_season_that_is_over_does_not_wait(known: Cast) -> None:
    known.season.sites.clear()
    Season.objects.update(first_night="2026-01-01", last_night="2026-02-01")
    assert said(known) == []


def test_nights_out_of_date_wait_for_a_decision(known: Cast) -> None:
    store_nights(known.site)
    Job.objects.all().delete()
    Site.objects.filter(pk=known.site.pk).update(elevation_m=900)
    assert said(known) == [
        "Nights of Spring 2027 are out of date at Broom Hill: compute them again."
    ]


def test_nights_out_of_date_that_are_being_computed_do_not_wait(known: Cast) -> None:
    store_nights(known.site)
    Site.objects.filter(pk=known.site.pk).update(elevation_m=900)
    assert said(known) == []


def test_fresh_nights_do_not_wait(known: Cast) -> None:
    store_nights(known.site)
    Job.objects.all().delete()
    assert said(known) == []
