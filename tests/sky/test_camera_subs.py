"""Sub-exposures: what saves time and what costs it, and what is refused."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.camera.lens import Lens
from sky.camera.sensor import COMMON_SENSORS
from sky.camera.subs import Detector, SubPlan, dimmed_mag, plan_subs
from sky.errors import SkyError

FULL_FRAME = COMMON_SENSORS["full-frame"]


def refused(code: str) -> pytest.RaisesExc[SkyError]:
    return pytest.raises(SkyError, check=lambda error: error.code == code)


def planned(lens: Lens | None = None, **asked: Any) -> SubPlan:
    usual = {
        "f_number": 2.8,
        "seconds": 60.0,
        "target_mag": 23.0,
        "sky_mag": 21.5,
        "altitude": 60.0,
        "extinction": 0.172,
        "signal_to_noise": 10.0,
    }
    return plan_subs(lens or Lens(135), FULL_FRAME, **{**usual, **asked})


@given(st.floats(18, 26), st.floats(17, 22), st.floats(1, 600), st.floats(1, 100))
def test_so_many_subs_are_enough_and_one_less_is_not(
    target: float, sky: float, seconds: float, wanted: float
) -> None:
    found = planned(target_mag=target, sky_mag=sky, seconds=seconds, signal_to_noise=wanted)
    assert found.signal_to_noise >= wanted * (1 - 1e-9)
    fewer = found.signal_to_noise * ((found.number - 1) / found.number) ** 0.5
    assert fewer < wanted * (1 + 1e-9)
    assert found.total_seconds == found.number * seconds


def test_twice_the_signal_over_noise_takes_four_times_as_long() -> None:
    once, twice = (planned(signal_to_noise=wanted).number for wanted in (20, 40))
    assert twice == pytest.approx(4 * once, rel=0.01)


def test_under_a_bright_sky_a_magnitude_of_it_costs_two_and_a_half_times_the_time() -> None:
    dark, bright = (planned(sky_mag=sky, signal_to_noise=50).number for sky in (19.0, 18.0))
    assert bright == pytest.approx(2.512 * dark, rel=0.02)


def test_longer_subs_save_time_until_read_noise_is_drowned() -> None:
    drowned = planned().drowned_seconds
    shorter, there, longer = (
        planned(seconds=share * drowned, signal_to_noise=100).total_seconds
        for share in (0.1, 1.0, 10.0)
    )
    # Read noise that adds a twentieth to the noise adds a tenth to the time.
    assert there == pytest.approx(longer * 1.09, rel=0.02)
    assert shorter > 1.7 * there


def test_pixels_taken_together_count_as_subs_do() -> None:
    single, four = (planned(pixels=pixels, signal_to_noise=100).number for pixels in (1, 4))
    assert single == pytest.approx(4 * four, rel=0.01)


def test_at_one_f_number_the_focal_length_of_a_glow_does_not_matter() -> None:
    """What a longer lens gathers more it spreads over more pixels."""
    assert planned(Lens(50)).target_electrons == pytest.approx(planned().target_electrons)


def test_low_in_the_sky_more_is_lost_and_without_air_nothing() -> None:
    assert dimmed_mag(22, altitude=90, extinction=0.2) == pytest.approx(22.2, abs=0.001)
    assert dimmed_mag(22, altitude=30, extinction=0.2) == pytest.approx(22.399, abs=0.001)
    assert dimmed_mag(22, altitude=30, extinction=0) == 22
    assert planned(altitude=20).number > planned(altitude=60).number


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"f_number": 0}, "f_number_outside"),
        ({"seconds": 0}, "exposure_time_outside"),
        ({"target_mag": 31}, "target_magnitude_outside"),
        ({"sky_mag": 24}, "sky_magnitude_outside"),
        ({"altitude": -1}, "altitude_outside"),
        ({"extinction": -0.1}, "extinction_outside"),
        ({"signal_to_noise": 0}, "signal_to_noise_outside"),
        ({"pixels": 0}, "sensor_pixels_outside"),
    ],
)
def test_what_cannot_be_counted_is_refused(wrong: dict[str, Any], code: str) -> None:
    with refused(code):
        planned(**wrong)


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"quantum_efficiency": 1.1}, "efficiency_outside"),
        ({"transmission": 0}, "efficiency_outside"),
        ({"read_noise": -1}, "read_noise_outside"),
    ],
)
def test_what_no_detector_has_is_refused(wrong: dict[str, float], code: str) -> None:
    with refused(code):
        Detector(**wrong)
