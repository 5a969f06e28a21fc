"""Physical constants and conventional levels, each with its source beside it."""

import math

# WGS84 ellipsoid: NIMA TR8350.2, 3rd ed.; from memory, and as Skyfield has it.
WGS84_RADIUS_KM = 6378.137
WGS84_FLATTENING = 1 / 298.257223563

# The Earth's mean radius, (2a + b) / 3 of that ellipsoid: IUGG; from memory, and recomputed.
EARTH_MEAN_RADIUS_M = 6_371_008.8

# The Moon's mean radius: IAU Working Group on Cartographic Coordinates; from memory, and as
# Skyfield has it.
MOON_RADIUS_KM = 1737.4

# Exact by IAU 2012 Resolution B2; from memory.
AU_KM = 149_597_870.7

# Exact by the definition of the metre, SI.
SPEED_OF_LIGHT_KM_S = 299_792.458

# Refraction at the horizon, 34′: USNO "Rise, Set and Twilight Definitions"; Nautical Almanac.
HORIZON_REFRACTION_DEGREES = 34 / 60

# The Sun's centre at sunrise and sunset, 34′ of refraction and 16′ of semidiameter: same source.
SUN_RISE_SET_DEGREES = -(34 + 16) / 60
# A star or planet at rise and set, refraction alone: same source.
POINT_RISE_SET_DEGREES = -34 / 60

# The Sun's centre, geometric, at dusk and dawn: same source.
CIVIL_DEGREES = -6.0
NAUTICAL_DEGREES = -12.0
ASTRONOMICAL_DEGREES = -18.0
# Between nautical and astronomical: dark enough for most frames; common practice.
DEEP_TWILIGHT_DEGREES = -15.0

SECONDS_PER_DAY = 86_400.0
DEGREE = math.pi / 180

# The ecliptic's tilt against the equator at J2000.0, 84381.406″: IAU 2006; from memory, and as
# PyERFA has it.
J2000_OBLIQUITY_DEGREES = 84_381.406 / 3600
