"""What a night's page warns of: dangers, access, what is closed, what its times leave out."""

from __future__ import annotations

import re

import pytest
from django.test import Client

from tests.conftest import Cast
from tests.trips.one_night import (
    Told,
    store,
    teller,
)
from trips.models import Season, Site


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    return teller(coordinator, cast)


def test_the_dangers_stand_above_the_times(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    text = told()
    assert text.index("Unfenced edge north of the wall") < text.index('id="times"')
    assert "Local rules, land managers and licensed guides decide" in text
    assert "Driving tired" in text


def test_dangers_and_help_are_told_without_a_computed_night_too(cast: Cast, told: Told) -> None:
    Site.objects.update(
        nearest_help="the village",
        minutes_to_help=40,
        night_access="permit",
        permit_number="27-014",
    )
    text = told()
    assert "Unfenced edge north of the wall" in text
    assert "Nearest help: the village, 40 min." in text
    assert "Access: permit 27-014 held." in text


def test_a_site_without_a_danger_written_down_asks_to_go_by_day(cast: Cast, told: Told) -> None:
    asked = "Nobody has written down a danger here: go once by day."
    store(cast.site, 5)
    assert asked not in told()
    cast.site.hazards.all().delete()
    text = told()
    assert text.index('id="cautions"') < text.index(asked) < text.index("Cold and wind")


def test_how_many_may_come_stands_among_the_cautions(cast: Cast, told: Told) -> None:
    assert "Largest group not written down." in told()
    Site.objects.update(largest_group=10)
    assert "At most 10 people." in told()


@pytest.mark.parametrize(
    ("elevation_m", "said"),
    [(1600, "seen from 1600\u00a0m down to the sea by about 1.3°"), (1850, "about 1.4°")],
)
def test_a_high_site_says_how_low_its_own_horizon_may_lie(
    elevation_m: float, said: str, cast: Cast, told: Told
) -> None:
    Site.objects.update(elevation_m=elevation_m)
    store(cast.site, 5)
    assert said in told()


def test_a_low_site_says_nothing_of_it(cast: Cast, told: Told) -> None:
    Site.objects.update(elevation_m=99)
    store(cast.site, 5)
    text = told()
    assert "down to the sea" not in text
    assert "no forecast is used" in text


def test_an_evening_that_is_not_offered_has_no_usable_block(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    offered = told()
    assert "The solid block is what is usable." in offered
    assert 'class="usable"' in offered
    Site.objects.update(months_open=[4, 5])
    text = told()
    assert "4.0\u00a0h would be usable while you are out" in text
    for drawn in ("solid block", 'class="usable"', "Usable from here"):
        assert drawn not in text


def test_a_closed_site_is_said_and_an_open_one_is_not(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    assert "Against this night" not in told()
    Site.objects.update(months_open=[4, 5])
    assert "Against this night: closed in March." in told()


def test_a_weekday_that_the_season_does_not_offer_is_said(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    Season.objects.update(weekdays=[4, 5])
    assert "Spring 2027 does not offer Monday evenings" in told()


def test_a_date_to_avoid_is_said(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    Season.objects.update(avoid=[["2027-03-01", "2027-03-02"]])
    assert "among the dates to avoid of Spring 2027" in told()


def test_a_sensitive_position_is_left_out_and_another_is_not(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    assert "40.4000° north, 1.1000° west, 1600\u00a0m" in told()
    Site.objects.update(position_is_sensitive=True)
    text = told()
    assert "40.4" not in re.sub(r' d="[^"]*"', "", text)  # a line of a picture may pass 40.4
    assert "The position is sensitive and left out here." in text


def test_the_height_of_the_pole_does_not_give_a_sensitive_position_away(
    cast: Cast, told: Told
) -> None:
    store(cast.site, 5)
    assert "40.40° without it (geometric)" in told()
    Site.objects.update(position_is_sensitive=True)
    text = told()
    assert "about 40°: the position is sensitive" in text
    assert "Hour angle" not in text
