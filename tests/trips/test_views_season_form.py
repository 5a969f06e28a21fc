"""Seasons added and edited: what is typed is kept or refused in a sentence."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Job, Season

TYPED = {
    "name": "Autumn 2027",
    "first_night": "2027-09-01",
    "last_night": "2027-10-31",
    "dark_level": "-18",
    "out_from": "",
    "out_until": "02:00",
    "most_hours_out": "4",
    "least_hours": "2",
    "run_length": "3",
    "weekdays": ["thu", "fri", "sat"],
    "avoid": "",
}


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
    ("first_night", "soon", "That is no date of the calendar; write it like 2027-03-09."),
    ("first_night", "2027-02-29", "That is no date of the calendar"),
    ("out_until", "25:00", "“25:00” is no hour of the day"),
    ("run_length", "0", "Too small: write 1 or more."),
    ("run_length", "15", "Too large: write 14 or less."),
    ("weekdays", [], "choose at least one day of the week"),
    ("weekdays", ["noday"], "“noday” is no weekday"),
    ("avoid", "Easter", "“Easter” is no date"),
    ("most_hours_out", "0", "0 is out of range: it must be from 0.5 to 24."),
    ("least_hours", "-1", "−1 is out of range"),
    ("dark_level", "-17", "“-17” is not among the choices"),
    ("name", "Spring 2027", "There is already a season named “Spring 2027”"),
    ("sites", [], "No site is chosen; choose at least one."),
    ("most_hours_out", "four", "“four” is not a number; write it like 4."),
    ("out_until", "", "write it like 02:00."),
    ("least_hours", "4.5", "4.5 hours are more than the 4 that you are out at most."),
    ("avoid", "2028-04-14", "runs from 1 September 2027 to 31 October 2027: 14 April 2028."),
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
    assert "is not among the choices" in response.content.decode()
    assert not Season.objects.filter(name="Autumn 2027").exists()


def test_weekdays_and_dates_to_avoid_are_kept(cast: Cast, coordinator: Client) -> None:
    add(coordinator, cast, avoid="25–28 September, 2027-10-12", weekdays=["fri", "mon"])
    season = Season.objects.get(name="Autumn 2027")
    assert season.weekdays == [0, 4]
    assert season.avoid == [["2027-09-25", "2027-09-28"], ["2027-10-12", "2027-10-12"]]


def test_what_is_kept_is_shown_again_as_it_can_be_typed(cast: Cast, coordinator: Client) -> None:
    add(coordinator, cast, avoid="25–28 September", weekdays=["fri"], out_from="21")
    season = Season.objects.get(name="Autumn 2027")
    text = coordinator.get(reverse("season_edit", args=[season.pk])).content.decode()
    assert "2027-09-25 to 2027-09-28" in text
    assert 'value="21:00"' in text


HOURS = [
    ("21:00", "21:00", "“21:00” is not after 21:00"),
    ("22:00", "21:30", "“21:30” is not after 22:00"),
    ("01:00", "23:00", "“23:00” is not after 01:00"),
]


@pytest.mark.parametrize(("start", "end", "sentence"), HOURS)
def test_hours_that_end_before_they_begin_are_refused_at_their_end(
    *, start: str, end: str, sentence: str, cast: Cast, coordinator: Client
) -> None:
    response = add(coordinator, cast, out_from=start, out_until=end)
    [error] = response.context["form"].errors["out_until"]
    assert error.startswith(sentence)
    assert not Season.objects.filter(name="Autumn 2027").exists()


@pytest.mark.parametrize(("start", "end"), [("", "18:00"), ("21:00", "02:00"), ("23:30", "11:59")])
def test_hours_that_end_later_in_the_night_are_taken(
    *, start: str, end: str, cast: Cast, coordinator: Client
) -> None:
    assert add(coordinator, cast, out_from=start, out_until=end).status_code == 302


def test_as_many_least_hours_as_one_is_out_are_taken(cast: Cast, coordinator: Client) -> None:
    assert add(coordinator, cast, least_hours="4").status_code == 302


def test_dates_to_avoid_that_reach_into_the_season_are_taken(
    cast: Cast, coordinator: Client
) -> None:
    assert add(coordinator, cast, avoid="2027-08-25 to 2027-09-02").status_code == 302


def test_hours_with_a_comma_are_read(cast: Cast, coordinator: Client) -> None:
    add(coordinator, cast, most_hours_out="3,5", least_hours="1,5")
    season = Season.objects.get(name="Autumn 2027")
    assert (season.most_hours_out, season.least_hours) == (3.5, 1.5)


def test_a_season_with_the_dates_and_sites_of_another_is_saved_with_a_warning(
    cast: Cast, coordinator: Client
) -> None:
    add(coordinator, cast)
    page = coordinator.post(
        reverse("season_add", args=[cast.club.pk]),
        TYPED | {"name": "Autumn again", "sites": [str(cast.site.pk)]},
        follow=True,
    ).content.decode()
    assert "Autumn 2027 has the same dates and sites" in page
    assert Season.objects.filter(name="Autumn again").exists()


def test_a_season_of_other_dates_is_saved_without_a_warning(
    cast: Cast, coordinator: Client
) -> None:
    typed = TYPED | {"sites": [str(cast.site.pk)]}
    address = reverse("season_add", args=[cast.club.pk])
    page = coordinator.post(address, typed, follow=True).content.decode()
    assert "has the same dates and sites" not in page
