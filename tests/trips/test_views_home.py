"""The first page: the next good nights, what waits, and what to do when there is nothing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, store_nights
from trips.models import Job, Membership, Night, Organisation, Season, Site


def home(client: Client) -> str:
    text: str = client.get(reverse("home")).content.decode()
    return text


def main_buttons(text: str) -> int:
    return text.count('class="button main"') + text.count('<button class="main">')


@pytest.fixture
def ahead(cast: Cast) -> Cast:
    """The cast with a season that lies ahead on whatever day this is run."""
    Season.objects.update(first_night=date(2050, 3, 1), last_night=date(2050, 4, 10))
    cast.season.refresh_from_db()
    return cast


def test_whoever_is_not_signed_in_reads_what_it_is_and_may_sign_in(
    client: Client, db: None
) -> None:
    text = home(client)
    assert "Which nights are worth the drive?" in text
    assert reverse("sign_in") in text


def test_whoever_is_not_signed_in_sees_nothing_of_a_club(cast: Cast, client: Client) -> None:
    assert "Broom Hill" not in home(client)
    assert "Meadow" not in home(client)


def test_a_club_without_sites_is_asked_for_the_first_one(cast: Cast, coordinator: Client) -> None:
    Site.objects.update(archived_at=datetime(2027, 1, 1, tzinfo=UTC))
    text = home(coordinator)
    assert "No sites yet." in text
    assert f'action="{reverse("site_add", args=[cast.club.pk])}"' in text
    assert 'name="latitude"' in text


def test_a_club_with_sites_is_not_asked_for_a_first_one(cast: Cast, coordinator: Client) -> None:
    assert 'name="latitude"' not in home(coordinator)


def test_of_two_clubs_each_without_sites_has_its_button(cast: Cast, coordinator: Client) -> None:
    Site.objects.all().delete()
    second = Organisation.objects.create(name="Second Club")
    Membership.objects.create(user=cast.coordinator, organisation=second, role="instructor")
    text = home(coordinator)
    for club in (cast.club, second):
        assert reverse("site_add", args=[club.pk]) in text


def test_a_club_without_a_season_ahead_is_told_to_add_one(cast: Cast, coordinator: Client) -> None:
    Season.objects.all().delete()
    Job.objects.all().delete()
    text = home(coordinator)
    assert "No season lies ahead." in text
    assert reverse("season_add", args=[cast.club.pk]) in text
    assert main_buttons(text) == 1


def test_a_club_with_a_season_ahead_is_not_told_to_add_one(
    ahead: Cast, coordinator: Client
) -> None:
    assert "No season lies ahead." not in home(coordinator)


def test_a_person_without_a_club_is_told_whom_to_ask(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    text = home(signed_in("superuser"))
    assert "Ask a coordinator to add you." in text
    assert "root@meadow.example" in text
    assert main_buttons(text) == 1


def test_nothing_of_another_club_is_shown(cast: Cast, signed_in: Callable[[str], Client]) -> None:
    text = home(signed_in("stranger"))
    assert "Broom Hill" not in text
    assert "Salt Quay" in text


def test_open_jobs_are_counted_and_linked(cast: Cast, coordinator: Client) -> None:
    text = home(coordinator)
    assert "12 of 31 nights computed" in text
    assert reverse("job_detail", args=[cast.job.pk]) in text


def test_without_open_jobs_the_page_does_not_reload(cast: Cast, coordinator: Client) -> None:
    Job.objects.update(state="done")
    text = home(coordinator)
    assert 'http-equiv="refresh"' not in text
    assert "hx-trigger" not in text


def test_the_soonest_night_is_the_first_line(ahead: Cast, coordinator: Client) -> None:
    store_nights(ahead.site, ahead.season.first_night, ahead.season.last_night)
    text = home(coordinator)
    assert "Next candidate night:" in text
    assert reverse("night_detail", args=[ahead.site.pk, ahead.season.first_night]) in text


def test_the_nights_stand_with_hours_times_and_moon(ahead: Cast, coordinator: Client) -> None:
    store_nights(ahead.site, ahead.season.first_night, ahead.season.last_night)
    text = home(coordinator)
    assert "Moon waning, 23 % lit" in text
    assert "4.0\u00a0h" in text
    assert '<svg class="strip' in text


def test_a_season_being_computed_says_so(ahead: Cast, coordinator: Client) -> None:
    text = home(coordinator)
    assert "The nights are being computed." in text


def test_a_season_that_nobody_computes_says_where_to_ask(ahead: Cast, coordinator: Client) -> None:
    Job.objects.all().delete()
    text = home(coordinator)
    assert "None of its nights are computed yet." in text
    assert f'action="{reverse("season_recompute", args=[ahead.season.pk])}"' in text


def test_one_site_that_nobody_computes_says_where_to_ask(ahead: Cast, coordinator: Client) -> None:
    Job.objects.all().delete()
    store_nights(ahead.site, ahead.season.first_night, ahead.season.last_night)
    other = Site.objects.create(
        organisation=ahead.club, name="Wether Fell", latitude=40, longitude=1, zone="UTC"
    )
    ahead.season.sites.add(other)
    text = home(coordinator)
    assert "not computed yet:" in text
    assert "being computed" not in text


def test_no_good_night_ahead_says_what_the_next_level_gives(
    ahead: Cast, coordinator: Client
) -> None:
    Job.objects.all().delete()
    store_nights(ahead.site, ahead.season.first_night, ahead.season.last_night)
    Night.objects.update(moonless_18=[], moonless_hours_18=0, dark_18=[], dark_hours_18=0)
    text = home(coordinator)
    assert "No candidate night is known ahead" in text
    assert "With “Sun 15° down” there would be" in text


def test_a_closed_site_says_what_was_passed_over(ahead: Cast, coordinator: Client) -> None:
    store_nights(ahead.site, ahead.season.first_night, ahead.season.last_night)
    Site.objects.update(night_access="no")
    text = home(coordinator)
    assert "candidate nights are passed over" in text
    assert "not allowed at night" in text


def test_decisions_stand_with_what_to_do(cast: Cast, coordinator: Client) -> None:
    text = home(coordinator)
    assert "Is Broom Hill allowed at night? Ask the land manager." in text
    assert reverse("site_edit", args=[cast.site.pk]) in text


def test_no_decision_is_said_too(cast: Cast, coordinator: Client) -> None:
    Site.objects.update(night_access="yes")
    assert "Nothing: every site says" in home(coordinator)


def two_hundred(cast: Cast) -> None:
    Site.objects.bulk_create(
        Site(
            organisation=cast.club,
            name=f"Site {n} " + "very long and windy name " * 3,
            latitude=40,
            longitude=n / 10,
            zone="UTC",
        )
        for n in range(200)
    )
    cast.season.sites.add(*Site.objects.filter(organisation=cast.club))


def test_two_hundred_sites_do_not_drown_the_page(
    ahead: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    two_hundred(ahead)
    with django_assert_max_num_queries(25):
        text = home(coordinator)
    assert "191 more sites" in text
    assert "198 more like these" in text


def test_a_name_in_any_script_is_shown_as_it_is(ahead: Cast, coordinator: Client) -> None:
    Site.objects.filter(pk=ahead.site.pk).update(name="Ψηλορείτης 星の丘 قمة <b>")
    text = home(coordinator)
    assert "Ψηλορείτης 星の丘 قمة &lt;b&gt;" in text
    assert "<b>" not in text


def test_a_season_that_is_over_is_not_coming(cast: Cast, coordinator: Client) -> None:
    Season.objects.update(first_night=date(2020, 1, 1), last_night=date(2020, 2, 1))
    assert "Spring 2027" not in home(coordinator)


def test_a_failed_job_is_among_the_decisions(cast: Cast, coordinator: Client) -> None:
    # Failed after any day on which this is run.
    Job.objects.update(
        state="failed",
        created_at=datetime(2050, 2, 1, tzinfo=UTC),
        finished_at=datetime(2050, 2, 1, tzinfo=UTC),
    )
    text = home(coordinator)
    assert "The nights of Broom Hill could not be computed: see why." in text
    assert reverse("job_detail", args=[cast.job.pk]) in text
