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
    ("first_night", "soon", "Enter a valid date."),
    ("first_night", "2027-02-29", "Enter a valid date."),
    ("out_until", "25:00", "“25:00” is no hour of the day"),
    ("run_length", "0", "greater than or equal to 1"),
    ("run_length", "15", "less than or equal to 14"),
    ("weekdays", [], "choose at least one day of the week"),
    ("weekdays", ["noday"], "“noday” is no weekday"),
    ("avoid", "Easter", "“Easter” is no date"),
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
