"""How far apart two directions of the sky are."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sky.constants import DEGREE

Floats = NDArray[np.float64]


def apart_degrees(
    altitude: Floats | float,
    azimuth: Floats | float,
    other_altitude: Floats | float,
    other_azimuth: Floats | float,
) -> Floats:
    """Give the angle between directions, all in degrees, shapes that go together: 0 to 180."""
    one, other = np.multiply(altitude, DEGREE), np.multiply(other_altitude, DEGREE)
    aside = np.subtract(azimuth, other_azimuth) * DEGREE
    # Half angles lose nothing where directions nearly meet.
    square = np.sin((one - other) / 2) ** 2
    square = square + np.cos(one) * np.cos(other) * np.sin(aside / 2) ** 2
    result: Floats = 2 * np.arcsin(np.sqrt(np.clip(square, 0.0, 1.0))) / DEGREE
    return result
