"""Focus on a night's page: what to take when, from the spot and inside the hours."""

from __future__ import annotations

import re
from datetime import date, time
from typing import Any

import pytest
from django.test import Client

from tests.conftest import FIRST, Cast
from tests.trips.drawing import Elements
from tests.trips.one_night import Told, another_site, compute, teller
from trips.models import Landmark, TargetEntry


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    """Of 1 March 2027 at 40° N: nautical dusk at 19:54, out until 02:00."""
    compute(cast.site, FIRST)
    return teller(coordinator, cast)


def focus(told: Told, *where: Any, **asked: Any) -> str:
    """Give the words of the section."""
    (found,) = re.findall(r'<section id="focus".*?</section>', told(*where, **asked), re.DOTALL)
    return " ".join(re.sub(r"<[^>]+>", " ", str(found)).split())


def hours(cast: Cast, **changed: Any) -> None:
    for name, value in changed.items():
        setattr(cast.season, name, value)
    cast.season.save()


def test_the_page_leads_to_it(told: Told) -> None:
    assert [one for one in Elements(told()).of("a") if one["href"] == "#focus"]


def test_it_begins_at_nautical_dusk_with_the_brightest(told: Told) -> None:
    text = focus(told)
    assert "First at nautical dusk, 19:54." in text
    assert re.search(r"19:54 Jupiter −2\.\d", text)


def test_stops_end_with_the_hours_of_the_season(cast: Cast, told: Told) -> None:
    assert "23:54" in focus(told)
    hours(cast, out_until=time(22))
    assert "21:54" in focus(told)
    assert "23:54" not in focus(told)


def test_who_comes_later_focuses_later(cast: Cast, told: Told) -> None:
    hours(cast, out_from=time(21, 30))
    assert "First at 21:30, when you come out" in focus(told)


def test_who_leaves_before_dusk_focuses_by_day(cast: Cast, told: Told) -> None:
    hours(cast, out_until=time(19, 30))
    assert "You are back before it is dark enough: focus by day." in focus(told)


def test_a_target_that_stands_right_in_twilight_is_focused_for(cast: Cast, told: Told) -> None:
    TargetEntry.objects.create(
        target_list=cast.target_list, target="planet:jupiter", name="Jupiter", light="twilight"
    )
    hours(cast, target_list=cast.target_list)
    assert "First at 19:23, when a wanted target stands right." in focus(told)


def test_a_list_to_begin_with_is_nothing_that_is_wanted(told: Told) -> None:
    assert "wanted target" not in focus(told)


def test_where_the_sun_stays_up_it_is_done_by_day(cast: Cast, coordinator: Client) -> None:
    site = another_site(cast, "North", latitude=69.6, longitude=18.9, zone="Europe/Oslo")
    summer = date(2027, 6, 20)
    compute(site, summer)
    text = focus(teller(coordinator, cast), summer, site)
    assert "It does not get dark enough for stars: focus by day." in text
    assert "First" not in text


def test_in_the_polar_night_any_hour_is_dark(cast: Cast, coordinator: Client) -> None:
    site = another_site(cast, "Ice", latitude=-85.0, longitude=0.0, zone="UTC")
    winter = date(2027, 6, 20)
    compute(site, winter)
    assert "At any hour" in focus(teller(coordinator, cast), winter, site)


def test_fists_are_counted_from_what_is_seen_at_night(cast: Cast, told: Told) -> None:
    assert cast.spot.landmarks.count() == 1
    assert "No landmark of this spot is marked as seen" in focus(told)
    Landmark.objects.filter(spot=cast.spot).update(is_seen_at_night=True, azimuth_degrees=120.0)
    text = focus(told)
    assert re.search(
        r"fists? (left|right) of Kiln, \w+( and a half)? up toward \d+°, \d\d° high", text
    )
    assert "No landmark" not in text.split("By day")[0]


def test_the_farthest_landmark_is_for_the_day(cast: Cast, told: Told) -> None:
    assert cast.spot.landmarks.count() == 1
    assert "No landmark of this spot has a distance yet" in focus(told)
    Landmark.objects.create(spot=cast.spot, name="Dam", azimuth_degrees=9.0, distance_m=2345.0)
    Landmark.objects.filter(name="Kiln").update(distance_m=80.0)
    text = focus(told)
    assert "is Dam, 2.3 km away: far enough for lenses to 200 mm at f/2.8" in text


def test_a_landmark_beside_the_tripod_is_too_near(cast: Cast, told: Told) -> None:
    Landmark.objects.create(spot=cast.spot, name="Post", azimuth_degrees=9.0, distance_m=8.0)
    assert "Post, 8 m away, and that is too near" in focus(told)


def test_the_edge_of_the_moon_does_as_well_while_it_is_up(cast: Cast, told: Told) -> None:
    half_lit = date(2027, 3, 15)
    compute(cast.site, half_lit)
    assert "the edge of the Moon, " in focus(told, half_lit)
    assert "the edge of the Moon" not in focus(told)


def test_the_sun_is_warned_of(told: Told) -> None:
    assert "Never aim at the Sun." in focus(told)
