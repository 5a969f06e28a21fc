"""Directions between places of the ground: the four points of the compass, across the date line."""

from __future__ import annotations

import pytest

from sky.bearings import bearing_between
from sky.place import Place


@pytest.mark.parametrize(
    ("north", "east", "azimuth"),
    [(0.01, 0, 0), (0, 0.01, 90), (-0.01, 0, 180), (0, -0.01, 270)],
)
def test_a_place_lies_where_a_map_has_it(north: float, east: float, azimuth: float) -> None:
    found = bearing_between(Place(40, -1), Place(40 + north, -1 + east))
    turned = (found.azimuth_degrees - azimuth + 180) % 360 - 180
    assert turned == pytest.approx(0, abs=0.01)


def test_a_minute_of_latitude_is_a_nautical_mile_within_the_ellipsoids_half_per_cent() -> None:
    found = bearing_between(Place(45, 7), Place(45 + 1 / 60, 7))
    assert found.distance_m == pytest.approx(1852, rel=0.005)


def test_the_date_line_is_no_border() -> None:
    found = bearing_between(Place(0, 179.999), Place(0, -179.999))
    assert found.azimuth_degrees == pytest.approx(90, abs=0.01)
    assert found.distance_m == pytest.approx(222.6, abs=0.1)


def test_what_is_higher_is_seen_up_and_what_is_lower_down() -> None:
    here = Place(40, -1, 1000)
    up, down = (bearing_between(here, Place(40.01, -1, height)) for height in (1100, 900))
    assert up.altitude_degrees > 4 > -4 > down.altitude_degrees


def test_a_place_lies_from_itself_nowhere() -> None:
    found = bearing_between(Place(40, -1), Place(40, -1))
    assert (found.azimuth_degrees, found.distance_m) == (0, 0)
