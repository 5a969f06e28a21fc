"""A camera as a meter: what a frame of the sky says, what a calibration keeps, what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.camera.metering import (
    STANDARD_ZERO_POINT,
    MeteredFrame,
    is_unusual,
    sky_brightness,
    zero_point_of,
)
from sky.errors import SkyError
from tests.against.published import row

FRAME = MeteredFrame(f_number=2.8, seconds=20.0, iso=3200.0, level=0.03)
ONE_STOP = 2.5 * math.log10(2)  # 0.753 mag


def refused_as(**changes: float) -> str:
    with pytest.raises(SkyError) as refused:
        replace(FRAME, **changes)
    return refused.value.code


def test_a_frame_gives_the_brightness_worked_by_hand() -> None:
    case = row("metering", "LM1")
    numbers = dict(case["inputs"])
    zero_point = numbers.pop("zero_point")
    found = sky_brightness(MeteredFrame(**numbers), zero_point=zero_point)
    assert found == pytest.approx(case["expected"], abs=case["tolerance"])


def test_a_camera_that_keeps_to_the_standard_has_the_zero_point_of_its_two_constants() -> None:
    case = row("metering", "LM2")
    given = case["inputs"]
    light = given["level"] * given["f_number"] ** 2 / (given["seconds"] * given["iso"])
    magnitude = 2.5 * math.log10(10.8e4 / given["luminance_cd_m2"])
    standard = magnitude + 2.5 * math.log10(light)
    assert standard == pytest.approx(case["expected"], abs=case["tolerance"])
    assert pytest.approx(standard, abs=1e-9) == STANDARD_ZERO_POINT


@pytest.mark.parametrize(
    ("change", "stops_darker"),
    [
        ({"level": 0.015}, 1),  # half the light on the sensor
        ({"level": 0.06}, -1),
        ({"seconds": 40.0}, 1),  # the same level needed twice the time
        ({"iso": 6400.0}, 1),
        ({"f_number": 2.8 / math.sqrt(2)}, 1),
        ({"f_number": 5.6}, -2),
        ({"seconds": 10.0, "iso": 6400.0}, 0),
    ],
)
def test_a_stop_is_three_quarters_of_a_magnitude(
    change: dict[str, float], stops_darker: int
) -> None:
    before = sky_brightness(FRAME, zero_point=7.4)
    after = sky_brightness(replace(FRAME, **change), zero_point=7.4)
    assert after - before == pytest.approx(stops_darker * ONE_STOP, abs=1e-9)


@given(
    f_number=st.floats(0.95, 22),
    seconds=st.floats(0.5, 600),
    iso=st.floats(50, 200_000),
    level=st.floats(0.001, 0.999),
    known=st.floats(10, 23),
)
def test_the_frame_of_a_calibration_reads_what_was_known(
    *, f_number: float, seconds: float, iso: float, level: float, known: float
) -> None:
    frame = MeteredFrame(f_number, seconds, iso, level)
    zero_point = zero_point_of(frame, known_mag=known)
    # At the very bounds the last digit may fall outside.
    assert zero_point - frame.light_mag == pytest.approx(known, abs=1e-9)


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"level": 0.0}, "frame_black"),
        ({"level": -0.01}, "frame_black"),
        ({"level": 1.0}, "frame_burnt_out"),
        ({"level": 3.0}, "frame_burnt_out"),
        ({"level": math.nan}, "not_a_number"),
        ({"f_number": 0.0}, "f_number_outside"),
        ({"seconds": 0.0}, "frame_seconds_outside"),
        ({"seconds": 3601.0}, "frame_seconds_outside"),
        ({"seconds": math.inf}, "not_a_number"),
        ({"iso": 0.0}, "frame_iso_outside"),
        ({"iso": -100.0}, "frame_iso_outside"),
    ],
)
def test_a_frame_that_cannot_be_is_refused(changes: dict[str, float], code: str) -> None:
    assert refused_as(**changes) == code


@pytest.mark.parametrize("zero_point", [-5.0, 12.0])
def test_a_sky_that_no_night_has_is_refused(zero_point: float) -> None:
    with pytest.raises(SkyError) as refused:
        sky_brightness(FRAME, zero_point=zero_point)
    assert refused.value.code == "metered_outside"


@pytest.mark.parametrize(
    ("known", "code"),
    [(9.9, "known_sky_outside"), (23.1, "known_sky_outside"), (math.nan, "not_a_number")],
)
def test_a_known_sky_that_no_night_has_is_refused(known: float, code: str) -> None:
    with pytest.raises(SkyError) as refused:
        zero_point_of(FRAME, known_mag=known)
    assert refused.value.code == code


def test_a_frame_read_from_a_processed_picture_makes_an_unusual_camera() -> None:
    linear = zero_point_of(FRAME, known_mag=21.0)
    # A tone curve lifts a background of 3 % to about a third of the scale.
    bent = zero_point_of(replace(FRAME, level=0.3), known_mag=21.0)
    assert not is_unusual(linear)
    assert is_unusual(bent)
