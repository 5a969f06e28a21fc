"""What a frame holds: to its edges, in its circle, whichever way the camera is held."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sky.camera.field import fields
from sky.camera.frame import Frame, Pointing
from sky.camera.lens import Lens
from sky.camera.sensor import COMMON_SENSORS
from sky.errors import SkyError

FULL_FRAME = COMMON_SENSORS["full-frame"]


def frame(
    azimuth: float = 180.0, altitude: float = 0.0, roll: float = 0.0, **options: object
) -> Frame:
    given = {"lens": Lens(24.0), "sensor": FULL_FRAME} | options
    return Frame(Pointing(azimuth, altitude, roll), **given)  # type: ignore[arg-type]


def test_the_middle_is_where_it_points_and_west_is_right_of_south() -> None:
    places = frame().on_sensor([0.0, 0.0, 10.0], [180.0, 190.0, 180.0])
    assert places[0] == pytest.approx((0.0, 0.0), abs=1e-12)
    assert places[1] == pytest.approx((24 * math.tan(math.radians(10)), 0.0), abs=1e-12)
    assert places[2] == pytest.approx((0.0, 24 * math.tan(math.radians(10))), abs=1e-12)


def test_a_camera_turned_clockwise_sees_what_is_above_it_to_the_left() -> None:
    x, y = frame(roll=90.0).on_sensor(10.0, 180.0)
    assert x < 0
    assert y == pytest.approx(0.0, abs=1e-12)


def test_it_holds_what_its_field_reaches_and_no_more() -> None:
    half = fields(Lens(24.0), FULL_FRAME).horizontal / 2
    assert frame().holds(0.0, 180.0 + half - 0.001)
    assert not frame().holds(0.0, 180.0 + half + 0.001)
    assert frame().reach_degrees == pytest.approx(fields(Lens(24.0), FULL_FRAME).diagonal / 2)


def test_held_upright_it_holds_more_height_and_less_width() -> None:
    upright = frame(sensor=FULL_FRAME.turned())
    assert upright.holds(35.0, 180.0)
    assert not upright.holds(0.0, 215.0)
    assert not frame().holds(35.0, 180.0)
    assert frame().holds(0.0, 215.0)


def test_a_rectilinear_lens_has_no_place_for_what_is_behind_it() -> None:
    assert np.isnan(frame().on_sensor(0.0, 0.0)).all()
    assert not frame().holds(0.0, 0.0)


@pytest.mark.parametrize(
    ("projection", "radius"),
    [
        ("equidistant", 8 * math.pi / 2),
        ("equisolid", 8 * math.sqrt(2)),
        ("stereographic", 16.0),
        ("orthographic", 8.0),
    ],
)
def test_a_short_fisheye_shows_half_the_sky_in_a_circle(projection: str, radius: float) -> None:
    up = frame(altitude=90.0, lens=Lens(8.0, None, projection))  # type: ignore[arg-type]
    assert up.circle_mm == pytest.approx(radius)
    assert up.reach_degrees == 90.0
    assert up.holds(0.1, 270.0)
    assert up.holds(0.1, 180.0) == (radius < FULL_FRAME.height_mm / 2), "else cut by the edge"
    assert not up.holds(-0.1, 270.0), "nor what is behind it"


def test_a_fisheye_that_fills_the_frame_has_no_circle() -> None:
    filled = frame(lens=Lens(16.0, None, "equisolid"))
    assert filled.circle_mm is None
    corner = 2 * math.degrees(math.asin(FULL_FRAME.diagonal_mm / 2 / 32))
    assert filled.reach_degrees == pytest.approx(corner)


def test_an_outline_goes_on_around_the_frame_where_there_is_no_place() -> None:
    narrow = frame(lens=Lens(400.0))
    around = narrow.outline([0.0, 0.0, 40.0], [0.0, 120.0, 180.0])
    far = math.tan(math.radians(15.0)) * 400
    assert np.hypot(*around.T) == pytest.approx([far, far, far])
    assert around[2] == pytest.approx((0.0, far), abs=1e-9)
    assert around[1] == pytest.approx((-far, 0.0), abs=1e-9)
    near = narrow.outline(1.0, 181.0)
    assert near == pytest.approx(narrow.on_sensor(1.0, 181.0)), "and nothing moves that has one"


@pytest.mark.parametrize(
    ("altitude", "azimuth", "side", "degrees"),
    [(0.0, 230.0, "right", 50.0 - 36.87), (0.0, 120.0, "left", 60.0 - 36.87),
     (50.0, 180.0, "above", 50.0 - 26.57), (-30.0, 180.0, "below", 30.0 - 26.57),
     (0.0, 0.0, "behind", 180.0 - 42.03)],
)  # fmt: skip
def test_what_it_does_not_hold_lies_on_a_side_so_far_from_its_edge(
    altitude: float, azimuth: float, side: str, degrees: float
) -> None:
    found = frame().beyond(altitude, azimuth)
    assert found is not None
    assert found.side == side
    assert found.degrees == pytest.approx(degrees, abs=0.01)
    assert frame().beyond(0.0, 200.0) is None


@pytest.mark.parametrize(
    ("azimuth", "altitude", "code"),
    [(0.0, 90.1, "altitude_outside"), (0.0, -91.0, "altitude_outside"),
     (math.nan, 0.0, "not_a_number"), (0.0, math.inf, "not_a_number")],
)  # fmt: skip
def test_an_aim_that_is_no_direction_is_refused(azimuth: float, altitude: float, code: str) -> None:
    with pytest.raises(SkyError, match=code):
        Pointing(azimuth, altitude)
