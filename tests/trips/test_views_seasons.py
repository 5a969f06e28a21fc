"""Seasons: added, edited, ranked, compared; what is stale, missing or empty is said."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, LAST, Cast, invented_night, store_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.models import Job, Night, Season, Site

TYPED = {
    "name": "Autumn 2027",
    "first_night": "2027-09-01",
    "last_night": "2027-10-31",
    "dark_level": "-18",
    "out_from": "",
    "out_until": "02:00",
    "most_hours_out": "4",
    "least_hours": "2",
}


def page(client: Client, cast: Cast, query: str = "") -> Any:
    return client.get(reverse("season_detail", args=[cast.season.pk]) + query)


def add(client: Client, cast: Cast, **changed: Any) -> Any:
    typed = TYPED | {"sites": [str(cast.site.pk)]} | changed
    return client.post(reverse("season_add", args=[cast.club.pk]), typed)


def test_a_season_is_saved_and_its_nights_are_asked_for(cast: Cast, coordinator: Client) -> None:
    add(coordinator, cast)
    season = Season.objects.get(name="Autumn 2027")
    assert list(season.sites.all()) == [cast.site]
    job = Job.objects.get(first_night=date(2027, 9, 1))
    assert (job.site, job.last_night, job.total) == (cast.site, date(2027, 10, 31), 61)


REFUSED = [
    ("last_night", "2027-08-31", "is before the first"),
    ("last_night", "2030-09-01", "is more than three years"),
    ("first_night", "1971-12-31", "1971-12-31 is outside the years"),
    ("last_night", "2051-01-01", "2051-01-01 is outside the years"),
    ("first_night", "soon", "Enter a valid date."),
    ("first_night", "2027-02-29", "Enter a valid date."),
    ("out_until", "25:00", "Enter a valid time."),
    ("most_hours_out", "0", "greater than or equal to 0.5"),
    ("least_hours", "-1", "greater than or equal to 0"),
    ("dark_level", "-17", "Select a valid choice"),
    ("name", "Spring 2027", "There is already a season named “Spring 2027”"),
    ("sites", [], "This field is required."),
]


@pytest.mark.parametrize(("field", "value", "sentence"), REFUSED)
def test_what_cannot_be_is_refused_in_a_sentence(
    *, field: str, value: Any, sentence: str, cast: Cast, coordinator: Client
) -> None:
    response = add(coordinator, cast, **{field: value})
    assert response.status_code == 200
    assert sentence in response.content.decode()
    assert not Season.objects.exclude(pk=cast.season.pk).exists()
    assert not Job.objects.exclude(pk=cast.job.pk).exists()


def test_three_years_to_the_day_are_taken(cast: Cast, coordinator: Client) -> None:
    assert add(coordinator, cast, last_night="2030-08-31").status_code == 302


def test_a_site_of_another_club_cannot_be_chosen(cast: Cast, coordinator: Client) -> None:
    response = add(coordinator, cast, sites=[str(cast.far_site.pk)])
    assert "Select a valid choice" in response.content.decode()
    assert not Season.objects.filter(name="Autumn 2027").exists()


def test_the_second_of_two_editors_is_told(cast: Cast, coordinator: Client) -> None:
    address = reverse("season_edit", args=[cast.season.pk])
    typed = TYPED | {"sites": [str(cast.site.pk)], "version": "1"}
    coordinator.post(address, typed | {"name": "First"})
    again = coordinator.post(address, typed | {"name": "Second"})
    assert "was changed by somebody else meanwhile" in again.content.decode()
    cast.season.refresh_from_db()
    assert cast.season.name == "First"


def test_runs_come_first_with_their_hours(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast)
    text = response.content.decode()
    # Moonless from 20:00 UTC; out until 02:00 in Madrid, so at most 01:00 UTC, or 24:00 in summer.
    best = response.context["runs"][0]
    assert best.first == date(2027, 3, 1)
    assert best.hours == pytest.approx(12)
    assert "12 h usable" in text
    assert text.index("The best runs of 3 nights") < text.index("The best nights")
    assert text.index("The best nights") < text.index("Every night at Broom Hill")


def test_the_run_length_can_be_chosen(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast, "?run=2")
    assert "The best runs of 2 nights" in response.content.decode()
    best = response.context["runs"][0]
    assert (best.last - best.first).days == 1


@pytest.mark.parametrize("asked", ["0", "15", "-3", "three", "3.5", "³", "9" * 5000, ""])
def test_a_nonsense_run_length_is_said_and_the_usual_one_shown(
    asked: str, cast: Cast, coordinator: Client
) -> None:
    text = page(coordinator, cast, f"?run={asked}").content.decode()
    assert "is not a number of nights from 1 to 14" in text
    assert "The best runs of 3 nights" in text


def test_the_calendar_shows_the_site_asked_for(cast: Cast, coordinator: Client) -> None:
    other = Site.objects.create(
        organisation=cast.club, name="Wether Fell", latitude=40.6, longitude=-1.5,
        zone="Europe/Madrid",
    )  # fmt: skip
    cast.season.sites.add(other)
    text = page(coordinator, cast, f"?site={other.pk}").content.decode()
    assert "Every night at Wether Fell" in text
    assert "Every night at Broom Hill" not in text


@pytest.mark.parametrize("asked", ["0", "here", "1e3", "", "far"])
def test_a_nonsense_site_is_said_and_the_first_one_shown(
    asked: str, cast: Cast, coordinator: Client
) -> None:
    # A site of another club is no better than nonsense.
    asked = str(cast.far_site.pk) if asked == "far" else asked
    text = page(coordinator, cast, f"?site={asked}").content.decode()
    assert "is not a site of this season" in text
    assert "Every night at Broom Hill" in text
    assert "Salt Quay" not in text


def test_the_calendar_has_every_night_in_the_time_of_the_site(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast).content.decode()
    assert text.count(f"/sites/{cast.site.pk}/nights/2027-03-") >= 31
    assert "Times in Europe/Madrid" in text
    assert "21:00–01:00" in text  # 20:00 to 00:00 UTC, the four hours that people are out


def test_stale_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(elevation_m=900)
    assert "31 nights of Broom Hill are out of date" in page(coordinator, cast).content.decode()


def test_missing_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site, last=date(2027, 3, 30))
    assert "1 night of Broom Hill is not computed yet" in page(coordinator, cast).content.decode()


def test_fresh_nights_are_not_called_stale_or_missing(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast).content.decode()
    assert "out of date:" not in text
    assert "not computed yet" not in text


def test_an_open_job_is_linked_with_its_counts(cast: Cast, coordinator: Client) -> None:
    text = page(coordinator, cast).content.decode()
    assert reverse("job_detail", args=[cast.job.pk]) in text
    assert "Computing Broom Hill: 12 of 31 nights" in text


def test_a_season_without_dark_says_what_the_next_level_gives(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    Night.objects.update(moonless_18=[], moonless_hours_18=0, dark_18=[], dark_hours_18=0)
    text = page(coordinator, cast).content.decode()
    assert "Broom Hill has no candidate night with “Sun 18° down”" in text
    # Of each nine nights, 8 to 0 hours: seven have two or more.
    assert "With “Sun 15° down” it would have 25" in text


def test_a_season_with_dark_does_not_offer_lighter_levels(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    assert "has no candidate night with" not in page(coordinator, cast).content.decode()


def test_a_season_without_sites_says_what_to_do(cast: Cast, coordinator: Client) -> None:
    cast.season.sites.clear()
    text = page(coordinator, cast).content.decode()
    assert "This season has no sites yet." in text
    assert reverse("season_edit", args=[cast.season.pk]) in text


@pytest.mark.parametrize("sites", [1, 6])
def test_a_season_page_takes_at_most_twelve_queries(
    sites: int, cast: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    for n in range(1, sites):
        site = Site.objects.create(
            organisation=cast.club, name=f"Site {n}", latitude=40, longitude=n, zone="UTC"
        )
        cast.season.sites.add(site)
        store_nights(site)
    store_nights(cast.site)
    with django_assert_max_num_queries(12):
        assert page(coordinator, cast).status_code == 200


def test_a_year_at_six_sites_is_a_page_of_at_most_300_kb(cast: Cast, coordinator: Client) -> None:
    cast.season.first_night, cast.season.last_night = date(2027, 1, 1), date(2027, 12, 31)
    cast.season.save()
    for n in range(1, 6):
        site = Site.objects.create(
            organisation=cast.club, name=f"Site {n}", latitude=40, longitude=n, zone="UTC"
        )
        cast.season.sites.add(site)
    for site in cast.season.sites.all():
        store_nights(site, date(2027, 1, 1), date(2027, 12, 31))
    assert len(page(coordinator, cast).content) <= 300_000


def test_compare_sets_sites_against_months(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = coordinator.get(reverse("season_compare", args=[cast.season.pk]))
    row = response.context["rows"][0]
    assert response.context["months"] == [date(2027, 3, 1)]
    # 31 nights of 8, 7, … 0, 8, … hours: three rounds of 36 and 8 + 7 + 6 + 5.
    assert row["moonless_hours"] == pytest.approx(3 * 36 + 26)
    assert row["cells"][0].candidates == 25
    assert row["found"].longest_run == 7


def test_compare_of_nothing_says_so(cast: Cast, coordinator: Client) -> None:
    text = coordinator.get(reverse("season_compare", args=[cast.season.pk])).content.decode()
    assert "Nothing to compare yet" in text


def test_computing_again_asks_for_what_is_stale(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(elevation_m=900)
    coordinator.post(reverse("season_recompute", args=[cast.season.pk]))
    newest = Job.objects.exclude(pk=cast.job.pk).get()
    assert (newest.first_night, newest.last_night) == (FIRST, LAST)


def test_computing_again_does_nothing_where_all_is_fresh(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    address = reverse("season_recompute", args=[cast.season.pk])
    response = coordinator.post(address, follow=True)
    assert "nothing to compute" in response.content.decode()
    assert list(Job.objects.all()) == [cast.job]


def test_sites_that_agree_share_one_entry(cast: Cast, coordinator: Client) -> None:
    twin = Site.objects.create(
        organisation=cast.club, name="Twin Hill", latitude=40.4, longitude=-1.1,
        zone="Europe/Madrid",
    )  # fmt: skip
    cast.season.sites.add(twin)
    store_nights(cast.site)
    store_nights(twin)
    response = page(coordinator, cast)
    assert "Broom Hill, Twin Hill: 12 h usable" in response.content.decode()
    assert [site.name for site in response.context["runs"][0].sites] == ["Broom Hill", "Twin Hill"]


def test_equal_nights_that_do_not_fit_are_counted(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    # Four hours out: nights of 8, 7, 6, 5 and 4 hours are all worth four; 3 × 5 + 4 of them.
    response = page(coordinator, cast)
    assert "9 more nights are as good as the last of these." in response.content.decode()


def test_a_hand_made_night_is_judged_on_its_own(cast: Cast, coordinator: Client) -> None:
    night = invented_night(
        cast.site, FIRST, moonless_hours=1, fingerprint=site_fingerprint(cast.site)
    )
    night.save()
    response = page(coordinator, cast)
    assert list(response.context["best_nights"]) == []
    assert "No candidate night among those computed so far." in response.content.decode()


def test_a_run_at_a_closed_site_says_so(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(night_access=Site.Access.NO)
    text = page(coordinator, cast).content.decode()
    assert f"{cast.site.name} (not allowed at night)" in text


def test_a_run_at_an_open_site_does_not_speak_against_it(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(night_access=Site.Access.YES)
    assert "not allowed at night" not in page(coordinator, cast).content.decode()
