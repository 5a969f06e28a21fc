"""Every number that a camera or a plan cannot have is refused in a sentence."""

from __future__ import annotations

import math

import pytest

from sky.camera.lens import Lens
from sky.camera.limits import LIMITS, Field, check
from sky.camera.panorama import plan_panorama
from sky.camera.sensor import COMMON_SENSORS, Sensor
from sky.errors import SkyError
from trips.almanac.camera_sentences import CAMERA_FIELDS
from trips.almanac.wording import sentence
from trips.numbers import in_figures


def said(field: Field, value: float) -> str:
    with pytest.raises(SkyError) as refused:
        check(field, value)
    return sentence(refused.value)


@pytest.mark.parametrize("field", LIMITS)
def test_what_is_outside_is_said_with_its_value(field: Field) -> None:
    for value in (LIMITS[field].low - 1, LIMITS[field].high + 1):
        words = said(field, value)
        assert in_figures(value) in words
        assert words.endswith(".")
        assert "_outside" not in words


@pytest.mark.parametrize("field", LIMITS)
def test_what_is_no_number_is_said_with_the_fields_name(field: Field) -> None:
    assert str(CAMERA_FIELDS[field]) in said(field, math.nan)
    assert "_" not in said(field, math.inf)


@pytest.mark.parametrize("field", LIMITS)
def test_what_is_inside_is_not_refused(field: Field) -> None:
    check(field, (LIMITS[field].low + LIMITS[field].high) / 2)
    check(field, LIMITS[field].high)


def test_what_fits_no_other_number_is_said_too() -> None:
    with pytest.raises(SkyError) as swapped:
        Sensor(36, 24, 4000, 6000)
    assert "width and height may be swapped" in sentence(swapped.value)
    with pytest.raises(SkyError) as beyond:
        Lens(8, projection="orthographic").angle_degrees(9)
    assert "this orthographic fisheye has no picture" in sentence(beyond.value)
    with pytest.raises(SkyError) as upside_down:
        plan_panorama(
            Lens(24), COMMON_SENSORS["aps-c"], width_degrees=90, lowest=9, highest=5, seconds=9
        )
    assert "from 9° up to 5°" in sentence(upside_down.value)
    with pytest.raises(SkyError) as unknown:
        Lens(24, projection="round")  # type: ignore[arg-type]
    assert sentence(unknown.value).startswith("“round” is no projection")
