"""How far below the level an open horizon lies, seen from a height. No bodies, no air."""

from __future__ import annotations

import math

from sky.constants import EARTH_MEAN_RADIUS_M


def dip_degrees(height_m: float) -> float:
    """Give the dip of the horizon in degrees, positive downward: acos(R / (R + h)).

    `height_m` is the height in metres over the ground or water that the horizon lies on; none or
    less has no dip. The line of sight touches a sphere (plane geometry, from memory; needs no
    published source). Refraction is left out: it lifts the horizon by about 9 % of the dip
    (Nautical Almanac, 1.76′ √h against 1.93′ √h without air; from memory).
    """
    if height_m <= 0:
        return 0.0
    return math.degrees(math.acos(EARTH_MEAN_RADIUS_M / (EARTH_MEAN_RADIUS_M + height_m)))
