"""The page of a spot: what stands over its land, what is asked for and cannot be, what is done."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.drawing import Elements
from trips.models import Hazard, Landmark, Spot, TargetEntry


@pytest.fixture
def address(cast: Cast) -> str:
    return reverse("spot_detail", args=[cast.spot.pk])


def told(client: Client, address: str, **asked: str) -> str:
    response = client.get(address, asked)
    assert response.status_code == 200
    return unescape(response.content.decode())


def lines(client: Client, address: str, **asked: str) -> list[Any]:
    return list(client.get(address, asked).context["tracks"])


def want(cast: Cast, *keys: str) -> None:
    cast.season.target_list = cast.target_list
    cast.season.save()
    cast.target_list.entries.all().delete()
    for order, key in enumerate(keys):
        TargetEntry.objects.create(target_list=cast.target_list, target=key, name=key, order=order)


# The land


def test_a_measured_skyline_is_said_and_drawn_twice(coordinator: Client, address: str) -> None:
    text = told(coordinator, address)
    assert "Land up to 12° toward west, 270°, down to 2° toward north, 0°" in text
    pictures = Elements(text).of("svg", class_="picture")
    assert [one["role"] for one in pictures] == ["img", "img"]  # for wide screens and narrow ones


def test_without_a_skyline_the_horizon_is_level_and_said_to_be(
    cast: Cast, coordinator: Client, address: str
) -> None:
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[])
    assert "Level horizon: nobody has measured it." in told(coordinator, address)


def test_a_wide_gap_in_the_skyline_is_said(cast: Cast, coordinator: Client, address: str) -> None:
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[n, 3] for n in range(0, 360, 30)])
    assert "Nothing was measured" not in told(coordinator, address)
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[n, 3] for n in range(90, 360, 30)])
    assert "Nothing was measured between 330° and 90°" in told(coordinator, address)


def test_how_it_was_measured_is_said_or_that_nobody_wrote_it_down(
    cast: Cast, coordinator: Client, address: str
) -> None:
    assert "How it was measured is not written down" in told(coordinator, address)
    Spot.objects.filter(pk=cast.spot.pk).update(skyline_how="clinometer")
    assert "How it was measured: clinometer." in told(coordinator, address)


def test_a_skyline_is_given_as_a_table(cast: Cast, coordinator: Client) -> None:
    table = coordinator.get(reverse("spot_skyline_csv", args=[cast.spot.pk])).content.decode(
        "utf-8-sig"
    )
    assert table.split() == ["azimuth,altitude", "0.0,2.0", "90.0,6.0", "180.0,3.0", "270.0,12.0"]


# What stands over it


def test_what_is_asked_for_is_shown_of_the_night_asked_for(
    coordinator: Client, address: str
) -> None:
    (line,) = lines(coordinator, address, target="Galactic core", night="2027-05-08")
    assert line.is_asked
    assert re.fullmatch(r"\d\d:\d\d, south-east, 1\d\d°", line.clears)
    assert line.hides == "clear at sunrise"


def test_without_a_night_the_way_is_that_of_a_day_and_has_no_hours(
    coordinator: Client, address: str
) -> None:
    (line,) = lines(coordinator, address, target="Galactic core")
    assert ":" not in line.clears
    assert "choose a night to see the hours" in told(coordinator, address, target="Galactic core")


def test_what_the_land_hides_is_said_to_be_hidden(
    cast: Cast, coordinator: Client, address: str
) -> None:
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[0, 30]])
    assert "not clear of the land" in told(coordinator, address, target="Galactic core")


def test_unasked_the_season_s_targets_are_shown(
    cast: Cast, coordinator: Client, address: str
) -> None:
    want(cast, "milky-way:core", "deep-sky:NGC0224")
    assert [line.is_asked for line in lines(coordinator, address)] == [False, False]
    assert f"Targets of the list {cast.target_list.name}." in told(coordinator, address)


def test_targets_of_the_list_that_are_left_out_are_counted(
    cast: Cast, coordinator: Client, address: str
) -> None:
    want(cast, "milky-way:core", "milky-way:arch")
    assert "1 of the 2 targets of the list" in told(coordinator, address)


def test_the_same_target_twice_is_shown_once(coordinator: Client, address: str) -> None:
    assert len(lines(coordinator, address, target="M 31; NGC 224; m31")) == 1


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"target": "Jupter"}, "No target is named “Jupter”; the nearest names are “Jupiter”"),
        ({"target": "milky-way:arch"}, "it has no track"),
        ({"target": "position:10,95"}, "The declination 95 is outside"),
        ({"night": "2027-02-30"}, "“2027-02-30” is not a date"),
        ({"night": "1900-01-01"}, "is outside the years that can be computed"),
        ({"night": "9999-12-31", "target": "M 31"}, "is outside the years that can be computed"),
        ({"night": "2051-01-01", "target": "M 31"}, "is outside the years that can be computed"),
    ],
)
def test_what_cannot_be_asked_for_is_said_in_a_sentence(
    cast: Cast, coordinator: Client, address: str, asked: dict[str, str], said: str
) -> None:
    want(cast, "milky-way:core")
    assert said in told(coordinator, address, **asked)


@pytest.mark.parametrize("night", ["1972-01-01", "2050-12-31"])
def test_the_first_and_the_last_night_there_are_can_be_asked_for(
    coordinator: Client, address: str, night: str
) -> None:
    assert len(lines(coordinator, address, target="M 31", night=night)) == 1


# Landmarks and dangers


def test_a_landmark_says_what_a_step_aside_does(
    cast: Cast, coordinator: Client, address: str
) -> None:
    Landmark.objects.filter(spot=cast.spot).update(distance_m=500.0)
    assert "one step aside = 0.11°" in told(coordinator, address)  # definitions: a metre at 500 m


def test_a_landmark_leads_to_what_stands_over_it(
    cast: Cast, coordinator: Client, address: str
) -> None:
    (link,) = (
        one["href"]
        for one in Elements(coordinator.get(address).content.decode()).of("a")
        if "?over=" in one["href"]
    )
    form = coordinator.get(link).context["form"]
    assert form["over"].value() == str(cast.spot.landmarks.get().pk)


def test_a_landmark_of_unknown_distance_says_so(coordinator: Client, address: str) -> None:
    text = told(coordinator, address)
    assert "one step aside" not in text
    assert "not known" in text


def test_a_spot_s_own_danger_is_told_with_its_caution(
    cast: Cast, coordinator: Client, address: str
) -> None:
    assert "Nobody has written down a danger of this spot." in told(coordinator, address)
    Hazard.objects.create(site=cast.site, spot=cast.spot, kind="water", text="tide in the gully")
    text = told(coordinator, address)
    assert "tide in the gully" in text
    assert "Nobody has written down" not in text


def test_a_sensitive_position_is_not_linked_to_a_map(
    cast: Cast, coordinator: Client, address: str
) -> None:
    assert 'href="geo:' in told(coordinator, address)
    cast.site.position_is_sensitive = True
    cast.site.save()
    text = told(coordinator, address)
    assert 'href="geo:' not in text
    assert "do not hand it round" in text


# What is done with it


def test_another_spot_can_be_put_first(cast: Cast, coordinator: Client, address: str) -> None:
    other = Spot.objects.create(site=cast.site, name="Pond", latitude=40.4, longitude=-1.1, order=5)
    assert "are judged from this spot" in told(coordinator, address)
    coordinator.post(reverse("spot_first", args=[other.pk]))
    assert "are judged from this spot" not in told(coordinator, address)


def test_an_archived_spot_is_kept_and_left_out_of_its_site(
    cast: Cast, coordinator: Client, address: str
) -> None:
    archive = reverse("spot_archive", args=[cast.spot.pk])
    coordinator.post(archive, {"version": str(cast.spot.version)})
    assert "This spot is archived" in told(coordinator, address)
    site = coordinator.get(reverse("site_detail", args=[cast.site.pk]))
    assert "the site is taken for one point with a level horizon" in site.content.decode()


def test_a_spot_edited_meanwhile_is_not_archived(
    cast: Cast, coordinator: Client, address: str
) -> None:
    seen = str(cast.spot.version)
    Spot.objects.filter(pk=cast.spot.pk).update(version=cast.spot.version + 1)
    coordinator.post(reverse("spot_archive", args=[cast.spot.pk]), {"version": seen})
    assert "This spot is archived" not in told(coordinator, address)


@pytest.mark.parametrize(("top", "said"), [(3.0, True), (12.0, False)])
def test_a_landmark_that_the_land_hides_is_asked_about(
    cast: Cast, coordinator: Client, address: str, *, top: float, said: bool
) -> None:
    cast.spot.landmarks.update(azimuth_degrees=0.0, top_degrees=top)
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[0, 9.7], [180, 2]])
    page = coordinator.get(address).content.decode()
    assert ("is the land in front of it?" in page) is said
