"""The season's page: ranked, drawn, re-ranked; what is stale, missing or empty is said."""

from __future__ import annotations

import re
from datetime import date
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, LAST, Cast, store_nights
from tests.trips.season_pages import add_site, page, text_of, without_dark
from trips.models import Job, Season, Site


def test_the_answer_comes_first_then_the_runs_then_every_night(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast)
    text = text_of(response)
    # Moonless from 20:00 UTC; out until 02:00 in Madrid, so at most 01:00 UTC, or 24:00 in summer.
    best = response.context["shown"].runs[0]
    assert best.run.first == date(2027, 3, 1)
    assert best.run.hours == pytest.approx(12)
    assert "Best at Broom Hill: Monday 1 to Wednesday 3 March 2027, with 12.0 h" in text
    places = [text.index(part) for part in ("Best at", "Best runs of 3", "Every night", "Night by")]
    assert places == sorted(places)


def test_a_run_says_what_the_moon_costs(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    # Dark from 20:00 to 01:00 UTC while out; without the Moon 5, 5 and 5 of its 8, 7 and 6 hours.
    runs = page(coordinator, cast, "?run=6").context["shown"].runs
    # 8, 7, 6, 5, 4, 3: the Moon rises one hour and two hours before the sixth and fifth end.
    costs = [reason for reason in runs[0].cons if reason.code == "moon_costs"]
    assert [cost.fields["hours"] for cost in costs] == [pytest.approx(3)]


def test_a_month_that_is_none_shows_the_month_of_the_best_run(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    for asked in ("2027-04", "soon", "2027-3", ""):
        assert page(coordinator, cast, f"?month={asked}").context["window"].months == (FIRST,)


def test_a_site_of_another_club_is_no_better_than_nonsense(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast, f"?site={cast.far_site.pk}"))
    assert "is not a site of this season" in text
    assert "Salt Quay" not in text


def test_the_page_shows_the_site_asked_for(cast: Cast, coordinator: Client) -> None:
    other = add_site(cast, "Wether Fell")
    for site in (cast.site, other):
        store_nights(site)
    assert page(coordinator, cast, f"?site={other.pk}").context["found"].site == other


def test_without_a_site_asked_for_the_best_one_is_shown(cast: Cast, coordinator: Client) -> None:
    better = add_site(cast, "Wether Fell")
    store_nights(cast.site, last=date(2027, 3, 2))
    store_nights(better)
    assert page(coordinator, cast).context["found"].site == better


def test_the_same_nights_elsewhere_stand_beside_a_run(cast: Cast, coordinator: Client) -> None:
    add_site(cast, "Wether Fell", latitude=40.4, longitude=-1.1)
    closed = add_site(cast, "Alder Moss", night_access=Site.Access.NO)
    for site in cast.season.sites.all():
        store_nights(site)
    response = page(coordinator, cast, f"?site={cast.site.pk}")
    said = (
        "The same nights elsewhere: Wether Fell 12.0 h (access not known), Alder Moss not allowed"
    )
    assert said in text_of(response).replace(" ,", ",")
    assert f"?site={closed.pk}" in response.content.decode()


def test_every_night_of_the_months_shown_is_linked(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast).content.decode()
    linked = set(re.findall(rf'"/sites/{cast.site.pk}/nights/(2027-03-\d\d)/\?season=', text))
    assert len(linked) == 31
    assert "Times are local at the site, Europe/Madrid" in text


def test_stale_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(elevation_m=900)
    assert "31 nights of Broom Hill are out of date" in text_of(page(coordinator, cast))


def test_missing_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site, last=date(2027, 3, 30))
    assert "1 night of Broom Hill is not computed yet" in text_of(page(coordinator, cast))


def test_fresh_nights_are_not_called_stale_or_missing(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast))
    assert "out of date:" not in text
    assert "not computed yet" not in text


def test_a_season_of_which_nothing_is_computed_offers_to_compute_it(
    cast: Cast, coordinator: Client
) -> None:
    Job.objects.all().delete()
    text = text_of(page(coordinator, cast))
    assert "No night is computed yet." in text
    assert "Compute its nights" in text


def test_a_season_that_is_being_computed_shows_how_far_it_is_and_offers_no_second_time(
    cast: Cast, coordinator: Client
) -> None:
    text = text_of(page(coordinator, cast))
    assert "Its nights are being computed" in text
    assert "12 of 31 nights computed" in text
    assert "Compute" not in text


def test_an_open_job_is_linked_with_its_counts(cast: Cast, coordinator: Client) -> None:
    response = page(coordinator, cast)
    assert reverse("job_detail", args=[cast.job.pk]) in response.content.decode()
    assert "Broom Hill running, 12 of 31 nights" in text_of(response)


def test_a_season_without_dark_says_what_the_next_level_gives(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    without_dark()
    text = text_of(page(coordinator, cast))
    assert "No run of 3 nights at Broom Hill has a usable hour" in text
    # Of each nine nights, 8 to 0 hours: seven have two or more.
    assert "Where “dark” means Sun 15° down, 25 nights would be candidates." in text
    assert "31 nights never get dark (Sun 18° down). With “Sun 15° down” it would be none." in text


def test_a_season_with_dark_does_not_offer_lighter_levels(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast))
    assert "would be candidates" not in text
    assert "never get" not in text


def test_a_run_longer_than_the_season_is_said_to_be(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site, last=date(2027, 3, 5))
    cast.season.last_night = date(2027, 3, 5)
    cast.season.save()
    text = text_of(page(coordinator, cast, "?run=7"))
    assert "The season has 5 nights here: no run of 7 fits into it." in text


def test_a_season_without_sites_says_what_to_do(cast: Cast, coordinator: Client) -> None:
    cast.season.sites.clear()
    response = page(coordinator, cast)
    assert "This season has no sites yet." in text_of(response)
    assert reverse("season_edit", args=[cast.season.pk]) in response.content.decode()


@pytest.mark.parametrize(
    "name", ["Ложбина <b>", "星見ヶ丘", "تل النجوم", "O'Hill & “Dale”", "x" * 120]
)
def test_names_in_any_script_are_shown_and_escaped(
    name: str, cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(name=name)
    Season.objects.filter(pk=cast.season.pk).update(name=name)
    response = page(coordinator, cast)
    assert response.status_code == 200
    assert name in unescape(response.content.decode())
    assert "Ложбина <b>" not in response.content.decode()


@pytest.mark.parametrize("sites", [1, 6])
def test_a_season_page_takes_at_most_twelve_queries(
    sites: int, cast: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    for n in range(1, sites):
        store_nights(add_site(cast, f"Site {n}"))
    store_nights(cast.site)
    with django_assert_max_num_queries(12):
        assert page(coordinator, cast).status_code == 200


def test_a_year_at_six_sites_is_a_page_of_at_most_300_kb(cast: Cast, coordinator: Client) -> None:
    cast.season.first_night, cast.season.last_night = date(2027, 1, 1), date(2027, 12, 31)
    cast.season.save()
    for n in range(1, 6):
        add_site(cast, f"Site {n}", longitude=n)
    for site in cast.season.sites.all():
        store_nights(site, date(2027, 1, 1), date(2027, 12, 31))
    assert len(page(coordinator, cast).content) <= 300_000


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


def test_a_closed_site_offers_no_run_and_says_why(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(night_access=Site.Access.NO)
    response = page(coordinator, cast)
    assert response.context["shown"].runs == ()
    assert "not offered: 25 not allowed at night" in text_of(response)


def test_an_open_site_does_not_speak_of_access(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(night_access=Site.Access.YES)
    assert "not allowed at night" not in text_of(page(coordinator, cast))
