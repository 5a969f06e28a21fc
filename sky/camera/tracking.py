"""How long a tracker holds the stars, set up as well as it is."""

from __future__ import annotations

from sky.camera.drift import LONGEST_SECONDS, SIDEREAL_ARCSECONDS_PER_SECOND, TRAIL_PX
from sky.camera.field import pixel_scale
from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.sensor import Sensor
from sky.constants import DEGREE

# Beside the pole by ε the axis carries the frame off by ω ε at most: 0.2625″ a minute for 1′.
ARCSECONDS_PER_MINUTE_OF_ARCMINUTE = SIDEREAL_ARCSECONDS_PER_SECOND * 60 * DEGREE / 60


def tracker_limit(
    lens: Lens,
    sensor: Sensor,
    *,
    polar_error_arcminutes: float,
    stated_arcseconds_per_minute: float = 0.0,
    trail_px: float = TRAIL_PX,
) -> float:
    """Give the seconds after which a tracked star in the centre has trailed so far; at most 3600.

    The worse of two errors counts: that of the axis, and the one stated for the tracker itself.
    The turn of the frame about its centre is not in it. Errors: `polar_error_outside`,
    `tracking_error_outside`, `trail_outside`, `not_a_number`.
    """
    check("trail", trail_px)
    allowed = trail_px * pixel_scale(lens, sensor)
    off = error_per_minute(polar_error_arcminutes, stated_arcseconds_per_minute) / 60
    return min(allowed / off, LONGEST_SECONDS) if off else LONGEST_SECONDS


def error_per_minute(
    polar_error_arcminutes: float, stated_arcseconds_per_minute: float = 0.0
) -> float:
    """Give the worse of the axis's drift and the stated error, in arcseconds a minute."""
    check("polar_error", polar_error_arcminutes)
    check("tracking_error", stated_arcseconds_per_minute)
    drift = ARCSECONDS_PER_MINUTE_OF_ARCMINUTE * polar_error_arcminutes
    return max(drift, stated_arcseconds_per_minute)
