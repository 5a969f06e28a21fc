"""From which distance on everything is sharp with the stars."""

from __future__ import annotations

from dataclasses import dataclass

from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.sensor import Sensor

# How wide a point may be drawn: two pixels, or 0.03 mm as for prints of 36 × 24 mm; both common
# practice, no published source.
STRICT_PIXELS, USUAL_MM = 2.0, 0.03


@dataclass(frozen=True, slots=True)
class Hyperfocal:
    """Focused there, all is sharp from half the distance to infinity; metres.

    `strict` by two pixels, `usual` by 0.03 mm. Who focuses on the stars has all beyond it sharp.
    """

    strict_m: float
    usual_m: float


def hyperfocal(lens: Lens, sensor: Sensor, *, f_number: float) -> Hyperfocal:
    """Give the hyperfocal distances at an f-number. Errors: `f_number_outside`, `not_a_number`."""
    strict = STRICT_PIXELS * sensor.pixel_um / 1000
    return Hyperfocal(
        hyperfocal_m(lens.focal_mm, f_number, strict),
        hyperfocal_m(lens.focal_mm, f_number, USUAL_MM),
    )


def hyperfocal_m(focal_mm: float, f_number: float, circle_mm: float) -> float:
    """Give f²/(N·c) + f in metres, c the circle of confusion in mm: textbook optics."""
    check("f_number", f_number)
    return (focal_mm**2 / (f_number * circle_mm) + focal_mm) / 1000
