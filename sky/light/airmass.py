"""How much air light comes through: for the light of stars, and for light that air scatters."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sky.constants import DEGREE

Floats = NDArray[np.float64]


def airmass(altitude_degrees: Floats | float) -> Floats:
    """Give the airmass at apparent altitudes (any shape): 1 at the zenith, infinite below 0°.

    Kasten F., Young A. T., Applied Optics 28 (1989) 4735.
    """
    height = np.asarray(altitude_degrees, dtype=np.float64)
    up = np.maximum(height, 0.0)
    air = 1 / (np.sin(up * DEGREE) + 0.50572 * (up + 6.07995) ** -1.6364)
    result: Floats = np.where(height < 0, np.inf, air)
    return result


def airmass_scattering(altitude_degrees: Floats | float) -> Floats:
    """Give X = (1 − 0.96 sin² Z)^−½ at apparent altitudes (any shape): 1 at the zenith, 5 at 0°.

    It is made for glow that fills the air, and stays far below the airmass of a star near the
    horizon. Lower directions are taken at the horizon. Krisciunas K., Schaefer B. E., PASP 103
    (1991) 1033, eq. 3.
    """
    zenith = (90.0 - np.maximum(altitude_degrees, 0.0)) * DEGREE
    result: Floats = (1 - 0.96 * np.sin(zenith) ** 2) ** -0.5
    return result
