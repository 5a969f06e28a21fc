"""What photographers do by habit: common practice, no published source. Checks, not rules."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from sky.camera.field import fields
from sky.camera.lens import Lens
from sky.camera.sensor import Sensor

Surroundings = Literal["town", "country", "dark"]
Use = Literal["all-sky", "wide-field", "constellations", "large-nebulae", "small-galaxies"]

# ISO that is usual near this f-number, to a third of a stop: in town, away from it, and where it is
# dark, moonless and without snow.
USUAL_F_NUMBER = 2.8
USUAL_ISO: dict[Surroundings, tuple[int, int]] = {
    "town": (400, 1600),
    "country": (1600, 3200),
    "dark": (6400, 12_800),
}

# With snow on the ground a foreground needs so many stops less.
SNOW_STOPS = (1.0, 2.0)

# Past this focal length a tracker is worth its weight.
TRACKED_PAST_MM = 70.0

# Smaller sensors are those of phones, and lenses up to this focal length; mm.
PHONE_SENSOR_BELOW_MM, PHONE_LENS_UP_TO_MM = 12.0, 10.0


@dataclass(frozen=True, slots=True)
class UseRange:
    """What focal lengths, in mm as on 36 × 24 mm, are mostly used for."""

    use: Use
    shortest_mm: float
    longest_mm: float


# `wide-field`: the work-horse, at f/1.4 to f/2.8. `constellations`: and detail of the Milky Way,
# single meteors, panoramas. `large-nebulae`: and the nearest large galaxy. `small-galaxies`: and
# small nebulae, clusters.
USE_RANGES = (
    UseRange("wide-field", 14, 24),
    UseRange("constellations", 24, 70),
    UseRange("large-nebulae", 70, 200),
    UseRange("small-galaxies", 200, 500),
)


def is_near_usual(f_number: float) -> bool:
    """Tell whether a third of a stop at most parts it from `USUAL_F_NUMBER`."""
    return abs(2 * math.log2(f_number / USUAL_F_NUMBER)) <= 0.34


def uses_of(lens: Lens, sensor: Sensor) -> tuple[Use, ...]:
    """Give what a lens is mostly used for; nothing where no habit is known.

    A fisheye's circle is `all-sky`: aurora, the whole Milky Way, fireballs.
    """
    if fields(lens, sensor).is_circle:
        return ("all-sky",)
    seen_as = equivalent_mm(lens, sensor)
    return tuple(one.use for one in USE_RANGES if one.shortest_mm <= seen_as <= one.longest_mm)


def is_of_phone(sensor: Sensor) -> bool:
    return max(sensor.width_mm, sensor.height_mm) < PHONE_SENSOR_BELOW_MM


def wants_tracker(lens: Lens, sensor: Sensor) -> bool:
    return equivalent_mm(lens, sensor) > TRACKED_PAST_MM


def equivalent_mm(lens: Lens, sensor: Sensor) -> float:
    """Give the focal length as on 36 × 24 mm, to a tenth of a mm: what people compare by."""
    return round(lens.focal_mm * sensor.crop_factor, 1)
