"""How much of the sky a lens and a sensor take in."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sky.camera.lens import Lens
from sky.camera.projection import radius_mm, widest_degrees
from sky.camera.sensor import Sensor
from sky.constants import DEGREE

# A fisheye whose corners look little more than 90° aside is made to fill that frame; any other
# draws a circle of 180° into it: common practice. Some makers reach further.
CIRCLE_DEGREES, FILLS_DEGREES = 90.0, 95.0
ARCSECONDS_PER_RADIAN = 3600 / DEGREE


@dataclass(frozen=True, slots=True)
class Fields:
    """Degrees across, down and from corner to corner, each through the picture's centre.

    `is_circle`: a fisheye's picture ends inside the frame, whose corners stay black; a side that
    lies outside the circle has the whole circle for its field.
    """

    horizontal: float
    vertical: float
    diagonal: float
    is_circle: bool


def fields(lens: Lens, sensor: Sensor) -> Fields:
    """Give the fields of a lens on a sensor, focused far away.

    Source: 2·θ(s/2) with θ of the lens's projection; rectilinear 2·atan(s/2f).
    """
    edge = edge_mm(lens, sensor)
    sides = (sensor.width_mm, sensor.height_mm, sensor.diagonal_mm)
    horizontal, vertical, diagonal = (2 * lens.angle_degrees(min(side / 2, edge)) for side in sides)
    return Fields(horizontal, vertical, diagonal, is_circle=edge < sensor.diagonal_mm / 2)


def edge_mm(lens: Lens, sensor: Sensor) -> float:
    """Give how far from its centre the picture reaches: to the corners, or to a circle's edge."""
    corner = sensor.diagonal_mm / 2
    return corner if corner <= _reach_mm(lens, FILLS_DEGREES) else _reach_mm(lens, CIRCLE_DEGREES)


def pixel_scale(lens: Lens, sensor: Sensor) -> float:
    """Give the arcseconds of a pixel at the picture's centre, the same in every projection."""
    return ARCSECONDS_PER_RADIAN * sensor.pixel_um / 1000 / lens.focal_mm


def _reach_mm(lens: Lens, degrees: float) -> float:
    if lens.projection == "rectilinear":
        return math.inf
    reach = min(degrees, widest_degrees(lens.projection))
    return float(radius_mm(reach, lens.focal_mm, lens.projection))
