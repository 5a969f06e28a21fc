"""A lens, and the two numbers by which its focal length is told."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sky.camera.limits import check
from sky.camera.projection import Projection, angle_degrees, form_of
from sky.camera.sensor import Sensor
from sky.errors import SkyError

# Under this only the lenses of phones and action cameras are: common practice.
PHONE_BELOW_MM = 4.0


@dataclass(frozen=True, slots=True)
class Lens:
    """A focal length in mm, as written on the lens, and how it draws; a zoom is its two ends.

    `widest_f_number` None where nobody asked for it. Errors: `not_a_number`,
    `focal_length_outside`, `f_number_outside`, `projection_unknown`.
    """

    focal_mm: float
    widest_f_number: float | None = None
    projection: Projection = "rectilinear"

    def __post_init__(self) -> None:
        check("focal_length", self.focal_mm)
        if self.widest_f_number is not None:
            check("f_number", self.widest_f_number)
        form_of(self.projection)

    @property
    def is_phone_like(self) -> bool:
        """Whether it is so short that only a phone has it: worth a second look."""
        return self.focal_mm < PHONE_BELOW_MM

    def angle_degrees(self, radius_mm: float) -> float:
        """Give how far from the axis a place of the picture looks.

        Error: `outside_picture`, where the projection has ended before.
        """
        angle = float(angle_degrees(radius_mm, self.focal_mm, self.projection))
        if math.isnan(angle):
            raise SkyError("outside_picture", radius_mm=radius_mm, projection=self.projection)
        return angle


def real_focal_mm(equivalent_mm: float, sensor: Sensor) -> float:
    """Give the focal length, in mm, of a lens that is known by its equivalent.

    Phones are sold by the equivalent (such as 24 mm) while 4 to 7 mm are written on the lens;
    light and drift follow the real one.
    """
    check("focal_length", equivalent_mm)
    return equivalent_mm / sensor.crop_factor
