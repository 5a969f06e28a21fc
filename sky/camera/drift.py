"""How long a star's path on the sensor gets while the camera stands still.

The sky turns by ω about its pole. A star at the angle θ from the frame's centre, in the direction
ψ from it (0 toward the pole), moves

- away from the centre by ω cos δ sin ψ,
- around the centre by ω (cos δ cos θ cos ψ − sin δ sin θ),

δ being the declination of the frame's centre; the lens makes millimetres of each with its radial
and its tangential scale (`projection.scales`). So a star in the corner is given its own
declination and its own direction of motion, which in a wide frame are not the centre's.

Source: velocity ω × r of a turning sphere, resolved along and across a great circle.
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sky.camera.field import edge_mm
from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.projection import scales
from sky.camera.sensor import Sensor
from sky.constants import DEGREE

Floats = NDArray[np.float64]
At = Literal["centre", "corner"]

# 360° in a mean sidereal day of 86 164.0905 s: Explanatory Supplement; from memory.
SIDEREAL_ARCSECONDS_PER_SECOND = 360 * 3600 / 86_164.0905
SIDEREAL_RADIANS_PER_SECOND = SIDEREAL_ARCSECONDS_PER_SECOND / 3600 * DEGREE

# A path of that many pixels still looks like a point to most, and to the strict: common practice.
TRAIL_PX, STRICT_TRAIL_PX = 5.0, 2.0
# At the pole the centre stands still, and no limit is one: more than an hour is never said.
LONGEST_SECONDS = 3600.0
# Angles between the centre and the corner at which a frame is looked at.
STEPS = 64


def longest_exposure(
    lens: Lens,
    sensor: Sensor,
    declination: float,
    trail_px: float = TRAIL_PX,
    at: At = "centre",
) -> float:
    """Give the seconds in which a star's path reaches a length, an hour at most.

    `declination` of the frame's centre in degrees; `trail_px` in pixels; `at` as in `speed_mm`.
    Errors: `dec_outside`, `trail_outside`, `not_a_number`.
    """
    check("trail", trail_px)
    path_mm = trail_px * sensor.pixel_um / 1000
    return min(path_mm / speed_mm(lens, sensor, declination, at), LONGEST_SECONDS)


def trail_px(
    lens: Lens, sensor: Sensor, declination: float, seconds: float, at: At = "centre"
) -> float:
    """Give the path of a star in pixels after some seconds.

    Errors: `dec_outside`, `exposure_time_outside`, `not_a_number`."""
    check("exposure_time", seconds)
    return speed_mm(lens, sensor, declination, at) * seconds / (sensor.pixel_um / 1000)


def speed_mm(lens: Lens, sensor: Sensor, declination: float, at: At = "centre") -> float:
    """Give how fast a star moves on the sensor, in mm a second.

    `centre`: a star there, f ω cos δ. `corner`: the fastest that can be in the frame, however
    the frame is turned about its centre: the greatest over all directions and all angles up to
    the corner's (or to the edge of a fisheye's circle). No star in the frame is faster, and one
    in a corner is as fast if the frame is turned so; a fisheye can be fastest in its middle.
    """
    check("declination", declination)
    if at == "centre":
        return lens.focal_mm * SIDEREAL_RADIANS_PER_SECOND * math.cos(declination * DEGREE)
    corner = lens.angle_degrees(edge_mm(lens, sensor))
    return SIDEREAL_RADIANS_PER_SECOND * float(
        fastest(lens, abs(declination), np.linspace(0, corner, STEPS)).max()
    )


def fastest(lens: Lens, declination: float, theta_degrees: Floats) -> Floats:
    """Give the greatest mm for a radian of the sky's turn, at each angle from the centre.

    With x = cos ψ the square of the speed is a² (1 − x²) + (b x − c)²: greatest at an end, on the
    meridian, where a ≤ |b|, and else where its slope is nought or at the end before that.
    """
    radial, tangential = scales(theta_degrees, lens.focal_mm, lens.projection)
    cos, sin = math.cos(declination * DEGREE), math.sin(declination * DEGREE)
    theta = theta_degrees * DEGREE
    a, b, c = radial * cos, tangential * cos * np.cos(theta), tangential * sin * np.sin(theta)
    bend = a**2 - b**2
    level = np.clip(-b * c / np.where(bend > 0, bend, 1.0), -1.0, 1.0)
    x = np.where(bend > 0, level, -np.sign(b))
    result: Floats = np.sqrt(a**2 * (1 - x**2) + (b * x - c) ** 2)
    return result


def reciprocal_rule(lens: Lens, sensor: Sensor, number: float = 500.0) -> float:
    """Give the seconds of the rule 500/f, or of another number; f as on 36 × 24 mm.

    Common practice, no published source. It knows neither pixels nor declination.
    """
    return number / (lens.focal_mm * sensor.crop_factor)
