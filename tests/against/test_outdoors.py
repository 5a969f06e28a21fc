"""Dew point and wind chill against the values of their publishers."""

from __future__ import annotations

import pytest

from sky.errors import SkyError
from sky.outdoors import dew_point_c, wind_chill_c
from tests.against.published import row

MPH = 1.609344  # km/h; the international mile is exact


def test_dew_points_are_those_of_the_annex_and_near_another_fit() -> None:
    published = row("outdoors", "J01")
    given = published["inputs"]
    ours = [
        dew_point_c(air, humidity)
        for air, humidity in zip(given["air_c"], given["humidity_percent"], strict=True)
    ]
    assert ours == pytest.approx(published["expected"]["wmo"], abs=0.001)
    near = published["tolerance"]
    assert ours == pytest.approx(published["expected"]["alduchov_eskridge"], abs=near)


def test_wind_chill_is_that_of_the_chart_in_its_own_units() -> None:
    published = row("outdoors", "J03")
    given = published["inputs"]
    ours = [
        fahrenheit(wind_chill_c(celsius(air), wind * MPH))
        for air, wind in zip(given["air_f"], given["wind_mph"], strict=True)
    ]
    assert ours == pytest.approx(published["expected"], abs=published["tolerance"])


def test_wind_chill_is_that_of_the_metric_chart() -> None:
    published = row("outdoors", "J04")
    given = published["inputs"]
    ours = [
        wind_chill_c(air, wind) for air, wind in zip(given["air_c"], given["wind_kmh"], strict=True)
    ]
    assert ours == pytest.approx(published["expected"], abs=published["tolerance"])


def test_wind_chill_is_given_at_its_limits_and_not_beyond() -> None:
    limits = row("outdoors", "definitions-wind-chill")["inputs"]
    warmest, calmest = limits["highest_air_c"], limits["least_wind_kmh"]
    assert wind_chill_c(warmest, calmest) is not None
    assert wind_chill_c(warmest + 0.01, calmest) is None
    assert wind_chill_c(warmest, calmest - 0.01) is None
    assert wind_chill_c(float("nan"), 20.0) is None


def test_dew_point_is_given_over_the_range_of_the_formula_and_not_beyond() -> None:
    assert dew_point_c(-45.0, 50.0) is not None
    assert dew_point_c(-45.1, 50.0) is None
    assert dew_point_c(60.1, 50.0) is None
    assert dew_point_c(float("nan"), 50.0) is None


@pytest.mark.parametrize("humidity", [0.0, -1.0, 100.1, float("nan")])
def test_an_impossible_humidity_is_refused(humidity: float) -> None:
    with pytest.raises(SkyError, match="humidity_out_of_range"):
        dew_point_c(10.0, humidity)


@pytest.mark.parametrize("wind", [-0.1, float("nan")])
def test_an_impossible_wind_is_refused(wind: float) -> None:
    with pytest.raises(SkyError, match="wind_out_of_range"):
        wind_chill_c(0.0, wind)


def celsius(fahrenheit_degrees: float) -> float:
    return (fahrenheit_degrees - 32) / 1.8


def fahrenheit(celsius_degrees: float | None) -> float:
    assert celsius_degrees is not None
    return celsius_degrees * 1.8 + 32
