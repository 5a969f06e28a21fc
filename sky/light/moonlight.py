"""Moonlight that the air scatters toward a direction.

Krisciunas K., Schaefer B. E., PASP 103 (1991) 1033, with the numbers of their equations. Theirs is
good to 8–23 % where they measured; skies differ by 0.25 mag.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sky.constants import DEGREE
from sky.light.airmass import airmass_scattering

Floats = NDArray[np.float64]

# The Moon's half width: nearer there is no sky, but the Moon itself.
DISC_DEGREES = 0.25


def moonlight(
    altitude_degrees: Floats | float,
    moon_altitude_degrees: Floats | float,
    moon_phase_angle_degrees: Floats | float,
    moon_apart_degrees: Floats | float,
    *,
    extinction: float,
) -> Floats:
    """Give scattered moonlight in nanolamberts; shapes that go together.

    Altitudes apparent; phase angle 0 at full Moon, 180 at new; `moon_apart_degrees` between the
    direction and the Moon (eq. 15). Zero while the Moon's centre is below a flat horizon: a step,
    as the model knows no twilight of the Moon. A Moon behind hills lights the sky all the same. A
    direction on the Moon's disc has the finite value of the disc's edge, 0.25° from its centre.
    """
    air, moon_air = airmass_scattering(altitude_degrees), airmass_scattering(moon_altitude_degrees)
    light = (
        scattering(moon_apart_degrees)
        * moon_illuminance(moon_phase_angle_degrees)
        * 10 ** (-0.4 * extinction * moon_air)
        * (1 - 10 ** (-0.4 * extinction * air))
    )
    result: Floats = np.where(np.asarray(moon_altitude_degrees) < 0, 0.0, light)
    return result


def moon_illuminance(phase_angle_degrees: Floats | float) -> Floats:
    """Give I* outside the air, in the paper's own unit (eq. 20): a half Moon has 9 % of a full."""
    angle = np.abs(np.asarray(phase_angle_degrees, dtype=np.float64))
    result: Floats = 10 ** (-0.4 * (3.84 + 0.026 * angle + 4e-9 * angle**4))
    return result


def scattering(apart_degrees: Floats | float) -> Floats:
    """Give f(ρ): how much of the light is scattered by an angle ρ (eq. 16 to 21).

    Air (Rayleigh) and haze (Mie); within 10° of the source the haze's share is 6.2·10⁷ ρ⁻² (from
    memory). The two laws of haze meet at 8.4°: the greater one is taken, so that nothing jumps.
    """
    angle = np.maximum(apart_degrees, DISC_DEGREES)
    air = 10**5.36 * (1.06 + np.cos(angle * DEGREE) ** 2)
    near = np.where(angle < 10.0, 6.2e7 / angle**2, 0.0)
    result: Floats = air + np.maximum(10 ** (6.15 - angle / 40), near)
    return result
