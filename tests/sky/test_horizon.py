"""The dip of the horizon: plane geometry, no published source needed."""

from __future__ import annotations

import math

import pytest

from sky.constants import EARTH_MEAN_RADIUS_M, WGS84_FLATTENING, WGS84_RADIUS_KM
from sky.horizon import dip_degrees


@pytest.mark.parametrize(
    ("height_m", "degrees"),
    [(1600, 1.28), (100, 0.32), (3000, 1.76)],  # recomputed: √(2h / R) in degrees
)
def test_a_high_place_looks_down_on_its_horizon(height_m: float, degrees: float) -> None:
    assert dip_degrees(height_m) == pytest.approx(degrees, abs=0.005)


@pytest.mark.parametrize("height_m", [0, -400])
def test_a_low_place_does_not(height_m: float) -> None:
    assert dip_degrees(height_m) == 0


def test_four_times_the_height_is_twice_the_dip() -> None:
    assert dip_degrees(400) / dip_degrees(100) == pytest.approx(2, rel=1e-4)


def test_the_radius_is_that_of_the_ellipsoid() -> None:
    polar_km = WGS84_RADIUS_KM * (1 - WGS84_FLATTENING)
    assert pytest.approx((2 * WGS84_RADIUS_KM + polar_km) / 3 * 1000, abs=0.1) == (
        EARTH_MEAN_RADIUS_M
    )
    assert math.isclose(dip_degrees(1e-6), 0, abs_tol=1e-4)
