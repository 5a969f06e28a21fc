"""A sensor: its size, its pixels, and the sizes that are common."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sky.camera.limits import check
from sky.errors import SkyError

# A frame of 35 mm film, 36 × 24 mm, is what other sizes are compared with: ISO 1007; from memory.
FULL_FRAME_DIAGONAL_MM = math.hypot(36.0, 24.0)

# Pixels are square but for what is rounded in a data sheet; more means sides that were swapped.
SQUARE_WITHIN = 0.1


@dataclass(frozen=True, slots=True)
class Sensor:
    """Width and height, in mm and in pixels, as the camera is held.

    `stated_pixel_um`: the side of a pixel, where it is known better than by dividing.
    Errors: `not_a_number`, `sensor_size_outside` (mm), `sensor_pixels_outside`,
    `sensor_not_square` (the pixels would be longer one way than the other).
    """

    width_mm: float
    height_mm: float
    pixels_wide: int
    pixels_high: int
    stated_pixel_um: float | None = None

    def __post_init__(self) -> None:
        for value in (self.width_mm, self.height_mm):
            check("sensor_size", value)
        for value in (self.pixels_wide, self.pixels_high):
            check("sensor_pixels", value)
        across = self.width_mm * 1000 / self.pixels_wide
        down = self.height_mm * 1000 / self.pixels_high
        if abs(across / down - 1) > SQUARE_WITHIN:
            raise SkyError("sensor_not_square", across_um=across, down_um=down)

    @property
    def pixel_um(self) -> float:
        """The side of a pixel in µm, as stated or across the width."""
        return self.stated_pixel_um or self.width_mm * 1000 / self.pixels_wide

    @property
    def diagonal_mm(self) -> float:
        return math.hypot(self.width_mm, self.height_mm)

    @property
    def crop_factor(self) -> float:
        """How much smaller the diagonal is than that of 36 × 24 mm."""
        return FULL_FRAME_DIAGONAL_MM / self.diagonal_mm

    def turned(self) -> Sensor:
        """Give the sensor with the camera held the other way up: portrait for landscape."""
        return Sensor(
            self.height_mm, self.width_mm, self.pixels_high, self.pixels_wide, self.pixel_um
        )


def sensor_of(width_mm: float, height_mm: float, *, pixel_um: float) -> Sensor:
    """Give the sensor of a size with pixels of a side, for people who know that one.

    Errors: those of `Sensor`, `pixel_size_outside`.
    """
    check("pixel_size", pixel_um)
    for value in (width_mm, height_mm):
        check("sensor_size", value)
    wide, high = (round(side * 1000 / pixel_um) for side in (width_mm, height_mm))
    return Sensor(width_mm, height_mm, wide, high, pixel_um)


# Nominal sizes in mm and usual numbers of pixels, from memory: makers differ by some tenths of a
# mm. Only 36 × 24 has a standard (above). A phone's pixels are counted as its pictures have
# them, several of the sensor's taken together.
COMMON_SENSORS: dict[str, Sensor] = {
    "medium-format": Sensor(43.8, 32.9, 8256, 6192),
    "full-frame": Sensor(36.0, 24.0, 6000, 4000),
    "full-frame-fine": Sensor(36.0, 24.0, 8256, 5504),
    "aps-c": Sensor(23.5, 15.6, 6000, 4000),
    "four-thirds": Sensor(17.3, 13.0, 5184, 3888),
    "one-inch": Sensor(13.2, 8.8, 5472, 3648),
    "phone-main": Sensor(9.8, 7.3, 4032, 3024),
    "phone-small": Sensor(5.6, 4.2, 4032, 3024),
}
