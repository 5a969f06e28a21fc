"""The sky without lamps, Moon and twilight: airglow, and starlight that the air has scattered."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sky.light.airmass import airmass_scattering
from sky.light.units import nanolamberts

Floats = NDArray[np.float64]


def natural_sky(
    altitude_degrees: Floats | float, *, zenith_mag: float, extinction: float
) -> Floats:
    """Give the natural sky's brightness in nanolamberts toward apparent altitudes (any shape).

    B(Z) = B_zenith · 10^(−0.4 k (X − 1)) · X: the layer of airglow is seen through at a slant, and
    the air takes some of it. Half a magnitude brighter at Z = 60°. The Milky Way and the zodiacal
    light are not in it (± 0.5 mag with airglow's own moods). Krisciunas K., Schaefer B. E., PASP
    103 (1991) 1033; this form from memory.
    """
    air = airmass_scattering(altitude_degrees)
    result: Floats = nanolamberts(zenith_mag) * 10 ** (-0.4 * extinction * (air - 1)) * air
    return result
