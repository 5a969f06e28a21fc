"""How much of the sky a lens and a sensor take in."""

from __future__ import annotations

from dataclasses import dataclass

from sky.camera.lens import Lens
from sky.camera.projection import angle_degrees, circle_mm
from sky.camera.sensor import Sensor
from sky.constants import DEGREE
from sky.errors import SkyError

ARCSECONDS_PER_RADIAN = 3600 / DEGREE


@dataclass(frozen=True, slots=True)
class Fields:
    """Degrees across, down and from corner to corner, each through the picture's centre.

    `is_circle`: the projection ends inside the frame, whose corners stay black; a field that
    reaches the circle is all of it.
    """

    horizontal: float
    vertical: float
    diagonal: float
    is_circle: bool


def fields(lens: Lens, sensor: Sensor) -> Fields:
    """Give the fields of a lens on a sensor, focused far away.

    Source: 2·θ(s/2) with θ of the lens's projection; rectilinear 2·atan(s/2f). Of a fisheye that
    is what its projection says: its maker may let it end before, mostly at 180°.
    """
    sides = (sensor.width_mm, sensor.height_mm, sensor.diagonal_mm)
    ends_at = circle_mm(lens.focal_mm, lens.projection)
    horizontal, vertical, diagonal = (
        2 * angle_from_centre(lens, min(side / 2, ends_at)) for side in sides
    )
    return Fields(horizontal, vertical, diagonal, is_circle=sensor.diagonal_mm / 2 > ends_at)


def angle_from_centre(lens: Lens, radius_mm: float) -> float:
    """Give the degrees from the axis of a place of the picture.

    Errors: `outside_picture` where the projection ends before.
    """
    ends_at = circle_mm(lens.focal_mm, lens.projection)
    if radius_mm > ends_at:
        raise SkyError("outside_picture", radius_mm=radius_mm, circle_mm=ends_at)
    return float(angle_degrees(radius_mm, lens.focal_mm, lens.projection))


def pixel_scale(lens: Lens, sensor: Sensor) -> float:
    """Give the arcseconds of a pixel at the picture's centre, the same in every projection."""
    return ARCSECONDS_PER_RADIAN * sensor.pixel_um / 1000 / lens.focal_mm
