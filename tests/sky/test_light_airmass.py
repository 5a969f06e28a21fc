"""How much air light comes through; published values are in tests/against/."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.light.airmass import airmass, airmass_scattering

HEIGHTS = st.floats(0, 90)


def test_airmass_is_1_at_the_zenith_and_38_at_the_horizon() -> None:
    assert airmass(np.array([90.0, 0.0])) == pytest.approx([1, 38], abs=0.1)


def test_glow_comes_through_5_airmasses_at_the_horizon_and_no_more_below() -> None:
    assert airmass_scattering(np.array([90.0, 0.0, -20.0])) == pytest.approx([1, 5, 5])


@given(HEIGHTS, HEIGHTS)
def test_the_lower_the_more_air(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert airmass(low) >= airmass(high)
    assert airmass_scattering(low) >= airmass_scattering(high)


@pytest.mark.parametrize("altitude", [-0.001, -20.0])
def test_below_the_horizon_there_is_no_end_of_air(altitude: float) -> None:
    assert airmass(altitude) == float("inf")
