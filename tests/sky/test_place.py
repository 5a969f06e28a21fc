"""A place is checked once, where it is made."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.errors import SkyError
from sky.place import Place


def code(latitude: float, longitude: float, elevation_m: float = 0, zone: str = "UTC") -> str:
    with pytest.raises(SkyError) as refused:
        Place(latitude, longitude, elevation_m, zone)
    return refused.value.code


def test_a_place_keeps_what_it_was_given() -> None:
    place = Place(40.4, -1.1, 1600, "Europe/Madrid")
    assert place.latitude == 40.4
    assert place.longitude == pytest.approx(-1.1)
    assert (place.elevation_m, place.zone) == (1600, "Europe/Madrid")


@pytest.mark.parametrize("latitude", [-90, 0, 90])
def test_the_poles_are_places(latitude: float) -> None:
    assert Place(latitude, 0).latitude == latitude


@pytest.mark.parametrize("latitude", [-90.001, 90.001, 400])
def test_a_latitude_beyond_the_poles_is_refused(latitude: float) -> None:
    assert code(latitude, 0) == "latitude_out_of_range"


@pytest.mark.parametrize("longitude", [-180.001, 360.001])
def test_a_longitude_beyond_the_circle_is_refused(longitude: float) -> None:
    assert code(0, longitude) == "longitude_out_of_range"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_is_refused_and_named(value: float) -> None:
    with pytest.raises(SkyError) as refused:
        Place(0, value)
    assert refused.value.code == "not_a_number"
    assert refused.value.fields["field"] == "longitude"
    assert code(value, 0) == "not_a_number"
    assert code(0, 0, value) == "not_a_number"


@pytest.mark.parametrize("elevation_m", [-451, 9001])
def test_an_elevation_off_the_land_is_refused(elevation_m: float) -> None:
    assert code(0, 0, elevation_m) == "elevation_out_of_range"


@pytest.mark.parametrize("elevation_m", [-450, 9000])
def test_the_lowest_shore_and_the_highest_summit_are_not_refused(elevation_m: float) -> None:
    assert Place(0, 0, elevation_m).elevation_m == elevation_m


@pytest.mark.parametrize("zone", ["Europe/Nowhere", "", "../../etc/passwd", "CEST+2"])
def test_an_unknown_zone_is_refused(zone: str) -> None:
    assert code(0, 0, 0, zone) == "zone_unknown"


def test_a_refusal_carries_the_value_and_what_would_be_right() -> None:
    with pytest.raises(SkyError) as refused:
        Place(95, 0)
    assert refused.value.fields == {"value": 95, "low": -90.0, "high": 90.0}


@given(st.floats(0, 180, exclude_max=True))
def test_a_longitude_and_the_same_less_a_circle_are_one_place(longitude: float) -> None:
    assert Place(0, longitude).longitude == pytest.approx(longitude, abs=1e-9)
    if longitude + 180 <= 360:
        turned = Place(0, longitude + 180).longitude
        assert turned == pytest.approx(longitude - 180, abs=1e-9)


def test_the_date_line_has_one_longitude() -> None:
    assert Place(0, 180).longitude == Place(0, -180).longitude == -180
