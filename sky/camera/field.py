"""How much of the sky a lens and a sensor take in."""

from __future__ import annotations

from dataclasses import dataclass

from sky.camera.lens import Lens
from sky.camera.sensor import Sensor
from sky.constants import DEGREE

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

    Source: 2·θ(s/2) with θ of the lens's projection; rectilinear 2·atan(s/2f). Of a fisheye that
    is what its projection says, to 220° at most; many a lens ends at 180°.
    """
    sides = (sensor.width_mm, sensor.height_mm, sensor.diagonal_mm)
    horizontal, vertical, diagonal = (
        2 * lens.angle_degrees(min(side / 2, lens.circle_mm)) for side in sides
    )
    return Fields(horizontal, vertical, diagonal, is_circle=sensor.diagonal_mm / 2 > lens.circle_mm)


def pixel_scale(lens: Lens, sensor: Sensor) -> float:
    """Give the arcseconds of a pixel at the picture's centre, the same in every projection."""
    return ARCSECONDS_PER_RADIAN * sensor.pixel_um / 1000 / lens.focal_mm
