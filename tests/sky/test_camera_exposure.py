"""Times, ISO and their steps: what more light does, where series end, what is refused."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.camera.exposure import exposure_of, iso_for, iso_step, seconds_for
from sky.camera.lens import Lens
from sky.camera.sensor import COMMON_SENSORS
from sky.camera.steps import ISO_STEPS, SHUTTER_STEPS, longest_step, nearest_step
from sky.errors import SkyError

FULL_FRAME = COMMON_SENSORS["full-frame"]

THIRD = 2 ** (1 / 3)


def refused(code: str) -> pytest.RaisesExc[SkyError]:
    return pytest.raises(SkyError, check=lambda error: error.code == code)


# Steps


@pytest.mark.parametrize("steps", [ISO_STEPS, SHUTTER_STEPS])
def test_steps_are_thirds_of_a_stop_as_cameras_round_them(steps: list[float]) -> None:
    # What is written is rounded; the worst is 1/6 s.
    for lower, upper in pairwise(steps):
        assert 1.13 < upper / lower < 1.45
    thirds = (len(steps) - 1) / 3
    assert steps[-1] / steps[0] == pytest.approx(2**thirds, rel=0.09)


@given(st.floats(0.001, 3600))
def test_the_longest_step_is_no_longer_than_allowed_and_the_next_would_be(seconds: float) -> None:
    step = longest_step(seconds)
    assert step <= seconds
    assert all(other > seconds for other in SHUTTER_STEPS if other > step)


def test_a_limit_shorter_than_any_shutter_gives_the_shortest() -> None:
    assert longest_step(1e-6) == SHUTTER_STEPS[0]


def test_the_nearest_step_is_nearest_in_stops() -> None:
    assert nearest_step(113, [100, 125]) == 125  # 112.5 is nearer to neither in numbers
    assert nearest_step(111, [100, 125]) == 100


# ISO


@given(st.floats(10, 23), st.floats(1, 60), st.floats(0.95, 22))
def test_iso_is_undone_by_the_time_it_was_made_for(
    sky_mag: float, seconds: float, f_number: float
) -> None:
    iso = iso_for(f_number=f_number, seconds=seconds, sky_mag=sky_mag)
    if 1e-6 < iso <= 1_000_000:
        back = seconds_for(f_number=f_number, iso=iso, sky_mag=sky_mag)
        assert back == pytest.approx(seconds)


def test_a_stop_is_a_stop_wherever_it_comes_from() -> None:
    asked = {"f_number": 2.8, "seconds": 10.0, "sky_mag": 20.0}
    iso = iso_for(**asked)
    assert iso_for(**{**asked, "seconds": 20.0}) == pytest.approx(iso / 2)
    assert iso_for(**{**asked, "f_number": 2.8 * 2**0.5}) == pytest.approx(iso * 2)
    assert iso_for(**asked, stops_below=2.5) == pytest.approx(iso / 2)
    assert iso_for(**{**asked, "sky_mag": 20.0 + 2.5}) == pytest.approx(iso * 10)


def test_the_step_is_within_a_sixth_of_a_stop() -> None:
    found = iso_step(8418)
    assert found.step == 8000
    assert not found.is_at_end
    assert abs(found.stops_off) < 1 / 6


@pytest.mark.parametrize(
    ("exact", "top", "step", "off"),
    [(8418, 3200, 3200, -1.4), (20, 12_800, 100, 2.3), (5e6, 1_000_000, 640_000, -3.0)],
)
def test_where_a_camera_ends_its_last_step_is_given_and_what_is_missing(
    exact: float, top: float, step: int, off: float
) -> None:
    found = iso_step(exact, top=top)
    assert found.step == step
    assert found.stops_off == pytest.approx(off, abs=0.05)
    assert found.is_at_end


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"f_number": 0}, "f_number_outside"),
        ({"seconds": 0}, "exposure_time_outside"),
        ({"seconds": -20}, "exposure_time_outside"),
        ({"sky_mag": 9.9}, "sky_magnitude_outside"),
        ({"sky_mag": 23.1}, "sky_magnitude_outside"),
        ({"sky_mag": float("nan")}, "not_a_number"),
        ({"stops_below": 9}, "stops_below_outside"),
    ],
)
def test_what_cannot_be_exposed_is_refused(wrong: dict[str, float], code: str) -> None:
    with refused(code):
        iso_for(**{"f_number": 2.8, "seconds": 20.0, "sky_mag": 21.0, **wrong})


def test_a_camera_without_iso_is_refused() -> None:
    with refused("iso_outside"):
        iso_step(1600, top=0)


# Together


@given(st.floats(10, 600), st.floats(-90, 90))
def test_the_suggested_time_keeps_to_the_limit_in_the_centre(
    focal: float, declination: float
) -> None:
    found = exposure_of(
        Lens(focal), FULL_FRAME, f_number=2.8, declination=declination, sky_mag=21.0
    )
    assert found.seconds == found.suggested <= min(found.drift_limit, 30.0)
    assert found.trail_px <= 5.0


def test_iso_and_trails_are_those_of_the_time_that_is_taken() -> None:
    def found(seconds: float | None) -> tuple[float, float, float]:
        taken = exposure_of(
            Lens(24), FULL_FRAME, f_number=2.8, declination=-29, sky_mag=21.5, seconds=seconds
        )
        return taken.seconds, taken.iso.exact, taken.trail_px

    suggested, iso, trail = found(None)
    assert suggested == 15.0  # 5 px of 6 µm take 19.6 s
    assert found(7.5) == pytest.approx((7.5, iso * 2, trail / 2))


def test_the_suggestion_stays_beside_a_time_of_ones_own() -> None:
    found = exposure_of(
        Lens(24), FULL_FRAME, f_number=2.8, declination=-29, sky_mag=21.5, seconds=60
    )
    assert found.suggested == 15.0
    assert found.drift_limit_corner < found.suggested < found.drift_limit < found.rule_500
    assert found.trail_px > 5 < found.trail_corner_px
