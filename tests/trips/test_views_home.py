"""The first page: the next good nights, what waits, and what to do when there is nothing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, store_nights
from trips.models import Job, Season, Site
from trips.services.decisions import pending
from trips.services.next_nights import next_good_nights


def home(client: Client) -> str:
    text: str = client.get(reverse("home")).content.decode()
    return text


def test_a_club_without_sites_is_told_to_add_one(cast: Cast, coordinator: Client) -> None:
    Site.objects.update(archived_at=datetime(2027, 1, 1, tzinfo=UTC))
    assert "No sites yet." in home(coordinator)
    assert reverse("site_add", args=[cast.club.pk]) in home(coordinator)


def test_a_club_without_a_season_ahead_is_told_to_add_one(cast: Cast, coordinator: Client) -> None:
    Season.objects.all().delete()
    assert "No season lies ahead." in home(coordinator)
    assert reverse("season_add", args=[cast.club.pk]) in home(coordinator)


def test_a_person_without_a_club_is_told_whom_to_ask(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    assert "Ask a coordinator to add you." in home(signed_in("superuser"))


def test_nothing_of_another_club_is_shown(cast: Cast, signed_in: Callable[[str], Client]) -> None:
    text = home(signed_in("stranger"))
    assert "Broom Hill" not in text
    assert "Salt Quay" in text


def test_open_jobs_are_linked(cast: Cast, coordinator: Client) -> None:
    assert reverse("job_detail", args=[cast.job.pk]) in home(coordinator)


def test_the_next_good_nights_skip_the_poor_ones(cast: Cast) -> None:
    store_nights(cast.site)
    at = datetime(2027, 3, 6, 20, tzinfo=UTC)  # that night has 3 h, then 2, 1, 0, 8
    [(site, nights)] = next_good_nights(cast.season, at=at)
    assert site == cast.site
    assert [night.date.day for night in nights] == [6, 7, 10]


def test_until_noon_it_is_still_last_night(cast: Cast) -> None:
    store_nights(cast.site)
    at = datetime(2027, 3, 7, 10, tzinfo=UTC)  # 11:00 in Madrid
    [(_, nights)] = next_good_nights(cast.season, at=at)
    assert nights[0].date == date(2027, 3, 6)


def test_after_noon_last_night_is_over(cast: Cast) -> None:
    store_nights(cast.site)
    at = datetime(2027, 3, 7, 11, 30, tzinfo=UTC)  # 12:30 in Madrid
    [(_, nights)] = next_good_nights(cast.season, at=at)
    assert nights[0].date == date(2027, 3, 7)


def said(cast: Cast) -> list[str]:
    at = datetime(2027, 3, 1, tzinfo=UTC)
    return [decision.sentence for decision in pending([cast.club], at=at)]


def test_unknown_access_waits_for_a_decision(cast: Cast) -> None:
    assert said(cast) == ["Is Broom Hill allowed at night? Ask the land manager."]


def test_a_permit_without_number_waits_for_a_decision(cast: Cast) -> None:
    Site.objects.update(night_access="permit")
    assert said(cast) == ["Broom Hill needs a permit and has none."]


def test_a_site_without_dangers_waits_for_a_decision(cast: Cast) -> None:
    Site.objects.update(night_access="yes")
    cast.site.hazards.all().delete()
    assert said(cast) == ["No danger is written down for Broom Hill: go once by day."]


def test_a_known_site_does_not_wait(cast: Cast) -> None:
    Site.objects.update(night_access="yes")
    assert said(cast) == []


def test_a_failed_job_waits_for_a_decision(cast: Cast) -> None:
    Site.objects.update(night_access="yes")
    Job.objects.update(state="failed", finished_at=datetime(2027, 2, 28, tzinfo=UTC))
    assert said(cast) == ["The nights of Broom Hill could not be computed: see why."]


def test_an_old_failure_is_no_news(cast: Cast) -> None:
    Site.objects.update(night_access="yes")
    Job.objects.update(state="failed", finished_at=datetime(2027, 1, 1, tzinfo=UTC))
    assert said(cast) == []


def test_a_season_without_sites_waits_for_a_decision(cast: Cast) -> None:
    Site.objects.update(night_access="yes")
    cast.season.sites.clear()
    assert said(cast) == ["Spring 2027 has no sites: choose some."]
