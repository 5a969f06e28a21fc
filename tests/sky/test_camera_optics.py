"""Projections, sensors, lenses and fields: where a picture ends, and what is refused."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.camera.field import fields
from sky.camera.lens import Lens, real_focal_mm
from sky.camera.practice import equivalent_mm
from sky.camera.projection import (
    PROJECTIONS,
    Projection,
    angle_degrees,
    radius_mm,
    scales,
    widest_degrees,
)
from sky.camera.sensor import COMMON_SENSORS, Sensor, sensor_of
from sky.errors import SkyError

FULL_FRAME = COMMON_SENSORS["full-frame"]

projections = st.sampled_from(PROJECTIONS)


def refused(code: str) -> pytest.RaisesExc[SkyError]:
    return pytest.raises(SkyError, check=lambda error: error.code == code)


# Projections


@given(projections, st.floats(0, 0.99), st.floats(2, 800))
def test_an_angle_comes_back_from_where_it_is_drawn(
    projection: Projection, share: float, focal: float
) -> None:
    theta = share * widest_degrees(projection)
    there = radius_mm(theta, focal, projection)
    assert angle_degrees(there, focal, projection) == pytest.approx(theta, abs=1e-6)


@given(projections, st.floats(0.01, 0.95))
def test_the_scales_are_those_that_the_radii_have(projection: Projection, share: float) -> None:
    """Away from the axis the slope of the radius, around it the radius over the sine."""
    theta, step = share * widest_degrees(projection), 1e-4
    inner, here, outer = radius_mm([theta - step, theta, theta + step], 20.0, projection)
    radial, tangential = scales(theta, 20.0, projection)
    assert radial == pytest.approx((outer - inner) / np.radians(2 * step), rel=1e-4)
    assert tangential == pytest.approx(here / np.sin(np.radians(theta)), rel=1e-9)


@pytest.mark.parametrize("projection", PROJECTIONS)
def test_near_the_axis_all_lenses_draw_alike(projection: Projection) -> None:
    assert radius_mm(0.1, 50.0, projection) == pytest.approx(50 * np.radians(0.1), rel=1e-5)
    radial, tangential = scales(0.0, 50.0, projection)
    assert (float(radial), float(tangential)) == (50.0, 50.0)


@pytest.mark.parametrize(
    ("projection", "last_mm"), [("orthographic", 10.0), ("equisolid", 20.0), ("equidistant", 31.41)]
)
def test_where_a_projection_ends_there_is_no_angle(projection: Projection, last_mm: float) -> None:
    inside, outside = angle_degrees([last_mm, last_mm + 0.01], 10.0, projection)
    assert inside > 88
    assert np.isnan(outside)
    with refused("outside_picture"):
        Lens(10, projection=projection).angle_degrees(last_mm + 0.01)


@pytest.mark.parametrize(
    ("projection", "beyond"), [("rectilinear", 90.0), ("orthographic", 90.1), ("equisolid", 180.1)]
)
def test_what_a_projection_cannot_draw_has_no_place(projection: Projection, beyond: float) -> None:
    assert np.isnan(radius_mm(beyond, 10.0, projection))
    assert np.isnan(scales(beyond, 10.0, projection)).all()


def test_a_projection_that_nobody_knows_is_refused() -> None:
    with refused("projection_unknown"):
        Lens(24, projection="panini")  # type: ignore[arg-type]


# Sensors


def test_common_sensors_have_pixels_as_cameras_have_them() -> None:
    for sensor in COMMON_SENSORS.values():
        assert 1.0 < sensor.pixel_um < 8.0
    assert FULL_FRAME.pixel_um == 6.0
    assert COMMON_SENSORS["four-thirds"].crop_factor == pytest.approx(2.0, abs=0.01)


def test_a_camera_held_upright_keeps_its_pixels() -> None:
    upright = FULL_FRAME.turned()
    assert (upright.width_mm, upright.pixels_wide) == (24.0, 4000)
    assert upright.pixel_um == FULL_FRAME.pixel_um
    assert upright.turned().pixels_wide == 6000


def test_a_sensor_of_stated_pixels_keeps_their_side() -> None:
    sensor = sensor_of(36, 24, pixel_um=5.94)
    assert sensor.pixel_um == 5.94
    assert (sensor.pixels_wide, sensor.pixels_high) == (6061, 4040)


@pytest.mark.parametrize(
    ("sides", "code"),
    [
        ((0, 24, 6000, 4000), "sensor_size_outside"),
        ((36, -24, 6000, 4000), "sensor_size_outside"),
        ((3600, 24, 6000, 4000), "sensor_size_outside"),
        ((36, float("nan"), 6000, 4000), "not_a_number"),
        ((36, 24, 0, 4000), "sensor_pixels_outside"),
        ((36, 24, 6000, 0), "sensor_pixels_outside"),
        ((36, 24, 4000, 6000), "sensor_not_square"),
    ],
)
def test_what_is_no_sensor_is_refused(sides: tuple[float, float, int, int], code: str) -> None:
    with refused(code):
        Sensor(*sides)


@pytest.mark.parametrize("pixel", [0.0, -4.3, 51.0])
def test_what_is_no_pixel_is_refused(pixel: float) -> None:
    with refused("pixel_size_outside"):
        sensor_of(36, 24, pixel_um=pixel)


# Lenses


@pytest.mark.parametrize(
    ("focal", "f_number", "code"),
    [
        (0, 2.8, "focal_length_outside"),
        (1, 2.8, "focal_length_outside"),
        (-24, 2.8, "focal_length_outside"),
        (float("inf"), 2.8, "not_a_number"),
        (24, 0, "f_number_outside"),
        (24, -2.8, "f_number_outside"),
        (24, 280, "f_number_outside"),
    ],
)
def test_what_is_no_lens_is_refused(focal: float, f_number: float, code: str) -> None:
    with refused(code):
        Lens(focal, f_number)


def test_below_four_millimetres_a_lens_is_a_phones_and_at_four_it_need_not_be() -> None:
    assert Lens(1.01).is_phone_like
    assert Lens(3.9).is_phone_like
    assert not Lens(4.0).is_phone_like


def test_a_phone_sold_as_24_mm_has_less_than_seven_written_on_it() -> None:
    phone = COMMON_SENSORS["phone-main"]
    real = real_focal_mm(24, phone)
    assert real == pytest.approx(6.8, abs=0.1)
    assert equivalent_mm(Lens(real), phone) == 24
    assert real_focal_mm(24, FULL_FRAME) == 24


# Fields


@given(projections, st.floats(1.1, 2000))
def test_a_field_is_wider_than_high_and_widest_across(projection: Projection, focal: float) -> None:
    found = fields(Lens(focal, projection=projection), FULL_FRAME)
    assert 0 < found.vertical <= found.horizontal <= found.diagonal
    assert found.diagonal < 180 or projection != "rectilinear"
    assert found.diagonal <= 190


@pytest.mark.parametrize("projection", ["equisolid", "equidistant", "orthographic"])
def test_a_short_fisheye_draws_a_circle_of_180_degrees(projection: Projection) -> None:
    found = fields(Lens(8, projection=projection), FULL_FRAME)
    assert found.is_circle
    assert found.diagonal == found.horizontal == pytest.approx(180)


@pytest.mark.parametrize("focal", [15, 24])
def test_a_longer_fisheye_fills_the_frame(focal: float) -> None:
    assert not fields(Lens(focal, projection="equisolid"), FULL_FRAME).is_circle


def test_the_equivalent_focal_length_has_the_same_diagonal() -> None:
    sensor = COMMON_SENSORS["aps-c"]
    seen_as = Lens(16 * sensor.crop_factor)
    here, there = fields(Lens(16), sensor), fields(seen_as, FULL_FRAME)
    assert here.diagonal == pytest.approx(there.diagonal)
