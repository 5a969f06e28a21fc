"""Skyglow toward any direction from what was measured: at the zenith, and around at 30°."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

# Where a ring of measurements is taken.
RING_ALTITUDE_DEGREES = 30.0


def glow_between(
    altitude_degrees: Floats | float,
    azimuth_degrees: Floats | float,
    *,
    zenith: float | None,
    ring: Sequence[tuple[float, float]],
) -> Floats:
    """Give glow (any unit that adds up) toward directions, shapes that go together.

    `zenith` the glow overhead; `ring` (azimuth, glow at 30° of altitude), any order. Between both
    it goes straight with the zenith angle; between azimuths straight, and around through north;
    below 30° it stays the ring's, though it may be more. With the zenith alone it is the same
    everywhere: common practice, no published source, and too little toward a town. With a ring
    alone the zenith has the ring's least. Without either: zero.
    """
    if not ring:
        here = np.broadcast(altitude_degrees, azimuth_degrees)
        return np.full(here.shape, 0.0 if zenith is None else zenith)
    azimuths, glows = np.array(sorted(ring)).T
    around = np.interp(azimuth_degrees, azimuths, glows, period=360.0)
    overhead = float(glows.min()) if zenith is None else zenith
    lower = (90.0 - np.asarray(altitude_degrees)) / (90.0 - RING_ALTITUDE_DEGREES)
    result: Floats = overhead + (around - overhead) * np.clip(lower, 0.0, 1.0)
    return result
