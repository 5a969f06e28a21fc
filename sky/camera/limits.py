"""What the numbers of a camera and of a plan may be, so that each is refused in one way."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from sky.errors import SkyError

Field = Literal[
    "focal_length", "f_number", "sensor_size", "sensor_pixels", "pixel_size", "declination",
    "trail", "exposure_time", "sky_magnitude", "target_magnitude", "stops_below", "iso",
    "signal_to_noise", "efficiency", "read_noise", "extinction", "overlap", "wanted_field",
    "pause", "altitude", "height", "polar_error", "tracking_error",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Limits:
    """From `low`, which itself is refused where it is `excluded`, to `high`, both in the unit."""

    low: float
    high: float
    excluded: bool = False


LIMITS: dict[Field, Limits] = {
    # mm. At or under a millimetre no camera lens is made: a slip of the keys.
    "focal_length": Limits(1, 10_000, excluded=True),
    # No lens in air is faster than f/0.5 (sine condition), none is closed beyond f/64.
    "f_number": Limits(0.5, 64),
    # mm, pixels, µm: what a sensor that is carried outdoors can have.
    "sensor_size": Limits(0, 120, excluded=True),
    "sensor_pixels": Limits(1, 100_000),
    "pixel_size": Limits(0, 50, excluded=True),
    "declination": Limits(-90, 90),
    # Pixels.
    "trail": Limits(0, 1000, excluded=True),
    # Seconds, to a day.
    "exposure_time": Limits(0, 86_400, excluded=True),
    # mag/arcsec²: from bright twilight to darker than any sky; nebulae are fainter than it.
    "sky_magnitude": Limits(10, 23),
    "target_magnitude": Limits(10, 30),
    "stops_below": Limits(-4, 8),
    "iso": Limits(0, 1_000_000, excluded=True),
    "signal_to_noise": Limits(0, 1000, excluded=True),
    # Shares of 1.
    "efficiency": Limits(0, 1, excluded=True),
    # Electrons.
    "read_noise": Limits(0, 100),
    # mag for an airmass.
    "extinction": Limits(0, 1),
    # Share of a frame.
    "overlap": Limits(0, 0.9),
    # Degrees.
    "wanted_field": Limits(0, 360, excluded=True),
    "altitude": Limits(-90, 90),
    "height": Limits(0, 90),
    # Seconds between two frames.
    "pause": Limits(0, 3600),
    # Arcminutes beside the pole; arcseconds a minute.
    "polar_error": Limits(0, 600),
    "tracking_error": Limits(0, 903),
}

# Refusals that have a sentence elsewhere too.
CODES: dict[Field, str] = {"declination": "dec_outside", "height": "altitude_outside"}


def check(field: Field, value: float) -> None:
    """Refuse a number that cannot be: `not_a_number`, or the field's name with `_outside`.

    The refusal has `value`, `low` and `high`; a declination's is `dec_outside`.
    """
    limits = LIMITS[field]
    if not math.isfinite(value):
        raise SkyError("not_a_number", field=field, value=value)
    too_low = value <= limits.low if limits.excluded else value < limits.low
    if too_low or value > limits.high:
        code = CODES.get(field, f"{field}_outside")
        raise SkyError(code, value=value, low=limits.low, high=limits.high)
