"""How bright a sky is, from a frame of it: a camera with its lens as a meter.

Values of linear raw data are proportional to light; the level is read on them as a share of the
full scale, black level taken off. A processed picture (JPEG) is bent by its tone curve and gives
nonsense. Near the middle of the frame, where the lens darkens least. What the lens takes, and how
the green channel differs from V (within about 0.2 mag: common practice, no published source), is
inside the zero point: so a camera is calibrated with the lens that it meters with.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sky.camera.limits import check
from sky.errors import SkyError

# No sky is brighter at night or darker anywhere: mag/arcsec², bounds of what is taken for one.
BRIGHTEST, DARKEST = 10.0, 23.0
LONGEST_SECONDS, HIGHEST_ISO = 3600.0, 10_000_000
# Above, bright pixels of the sky are cut off and the mean is too low: common practice, no
# published source. Below, the step from one value to the next is no longer small beside it.
CUT_OFF_LEVEL, FAINT_LEVEL = 0.8, 0.002

# What a camera has whose ISO is the saturation-based speed of ISO 12232: full scale at an exposure
# of 78/ISO lx·s, of which 0.65·L·t/N² reaches the frame's middle; both constants from memory. So
# L = 120·level·N²/(t·ISO) cd/m², and m = 2.5·log10(10.8e4/L) gives Z = 2.5·log10(900).
STANDARD_ZERO_POINT = 2.5 * math.log10(900.0)
# Makers and lenses keep to it within about two stops: common practice, no published source.
USUAL_SPREAD_MAG = 1.5


@dataclass(frozen=True, slots=True)
class MeteredFrame:
    """A frame of an even patch of sky: f-number, seconds, ISO, and its level, 0 to 1 exclusive.

    Errors: `not_a_number`, `f_number_outside`, `frame_seconds_outside`, `frame_iso_outside`,
    `frame_black` (level 0 or less), `frame_burnt_out` (1 or more).
    """

    f_number: float
    seconds: float
    iso: float
    level: float

    def __post_init__(self) -> None:
        check("f_number", self.f_number)
        _check("frame_seconds", self.seconds, LONGEST_SECONDS)
        _check("frame_iso", self.iso, HIGHEST_ISO)
        if not math.isfinite(self.level):
            raise SkyError("not_a_number", field="frame_level", value=self.level)
        if self.level <= 0:
            raise SkyError("frame_black", value=self.level)
        if self.level >= 1:
            raise SkyError("frame_burnt_out", value=self.level)

    @property
    def light_mag(self) -> float:
        """The light in magnitudes, 2.5·log10(level·N²/(t·ISO)): the more, the brighter the sky.

        0 for a sky that fills a pixel at f/1, ISO 1 in one second; far below it at night.
        """
        return 2.5 * math.log10(self.level * self.f_number**2 / (self.seconds * self.iso))


def sky_brightness(frame: MeteredFrame, *, zero_point: float) -> float:
    """Give the sky's mag/arcsec²: m = Z − 2.5·log10(level·N²/(t·ISO)).

    One stop is 2.5·log10 2 = 0.753 mag. Error: `metered_outside` (10 to 23).
    """
    return _within("metered_outside", zero_point - frame.light_mag)


def zero_point_of(frame: MeteredFrame, *, known_mag: float) -> float:
    """Give Z from a frame of a sky whose mag/arcsec² is known: a meter's, then and there.

    Error: `known_sky_outside` (10 to 23).
    """
    return _within("known_sky_outside", known_mag) + frame.light_mag


def is_unusual(zero_point: float) -> bool:
    """Tell whether no usual camera has this zero point: look at level and black level again."""
    return abs(zero_point - STANDARD_ZERO_POINT) > USUAL_SPREAD_MAG


def _within(code: str, magnitude: float) -> float:
    if not math.isfinite(magnitude):
        raise SkyError("not_a_number", field="sky_brightness", value=magnitude)
    if not BRIGHTEST <= magnitude <= DARKEST:
        raise SkyError(code, value=magnitude, low=BRIGHTEST, high=DARKEST)
    return magnitude


def _check(field: str, value: float, high: float) -> None:
    if not math.isfinite(value):
        raise SkyError("not_a_number", field=field, value=value)
    if not 0 < value <= high:
        raise SkyError(f"{field}_outside", value=value, high=high)
