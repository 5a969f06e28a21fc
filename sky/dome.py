"""The whole sky over a place at one instant, as values, and what is to be seen of it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from sky.skyline import Skyline

Floats = NDArray[np.float64]

# All of these for pictures and their words only: common practice, no published source.
# The Sun higher than this leaves nothing of the Milky Way, and more than half a Moon only a shade.
BAND_SUN_DEGREES, BAND_LIT = -12.0, 0.5
# The faintest star that is shown by the Sun's altitude, and how many magnitudes a full Moon takes.
SUN_DEGREES, FAINTEST = (-18.0, -12.0, -6.0, 0.0), (5.0, 4.2, 1.5, -2.0)
MOON_TAKES = 1.2
SAME_PLACE_DEGREES = 0.01


@dataclass(frozen=True, slots=True)
class Standing:
    """A place in the sky, in degrees: apparent altitude, and azimuth from true north."""

    altitude_degrees: float
    azimuth_degrees: float

    @property
    def is_up(self) -> bool:
        return self.altitude_degrees > 0


@dataclass(frozen=True, slots=True)
class NamedStanding:
    name: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class StarField:
    """The stars above the horizon, the brightest first: shapes (star,)."""

    altitudes: Floats
    azimuths: Floats
    magnitudes: Floats
    names: tuple[str, ...]

    def named(self, faintest: float) -> Iterator[NamedStanding]:
        """Give those with a name down to a magnitude."""
        count = int(np.searchsorted(self.magnitudes, faintest, side="right"))
        places = zip(self.altitudes[:count], self.azimuths[:count], strict=True)
        for name, (altitude, azimuth) in zip(self.names[:count], places, strict=True):
            if name:
                yield NamedStanding(name, Standing(float(altitude), float(azimuth)))


@dataclass(frozen=True, slots=True)
class MilkyWay:
    """The band around the whole sky, above and below the horizon: altitudes and azimuths (step, 2).

    `faint`, `bright` and `lane` are the southern and the northern edge of each tone, the lane being
    cut out of the bright one; `equator` the line along the band. `top` is where it stands highest,
    `feet_azimuths` where it meets the horizon, `core` where the core is.
    """

    faint: tuple[Floats, Floats]
    bright: tuple[Floats, Floats]
    lane: tuple[Floats, Floats]
    equator: Floats
    top: Standing
    feet_azimuths: tuple[float, float]
    core: Standing


@dataclass(frozen=True, slots=True)
class WantedStanding:
    """A target as it stands: its points, and the path of the first over the night (instant, 2).

    `is_arch`: the point is the top of the Milky Way's arch, which is drawn whole.
    """

    name: str
    standings: tuple[Standing, ...]
    path: Floats
    is_arch: bool = False


@dataclass(frozen=True, slots=True)
class WholeSky:
    """What is in the sky at an instant; bodies below the horizon have negative altitudes."""

    instant: datetime
    sun: Standing
    moon: Standing
    moon_lit: float
    moon_waxing: bool
    planets: tuple[NamedStanding, ...]
    stars: StarField
    milky_way: MilkyWay
    wanted: tuple[WantedStanding, ...]
    skyline: Skyline

    @property
    def has_band(self) -> bool:
        """Tell whether it is dark enough for the Milky Way."""
        return self.sun.altitude_degrees < BAND_SUN_DEGREES

    @property
    def is_moonlit(self) -> bool:
        """Tell whether the Moon takes most of the Milky Way."""
        return self.moon.is_up and self.moon_lit > BAND_LIT

    @property
    def faintest(self) -> float:
        """Give the magnitude down to which stars are shown."""
        faintest = float(np.interp(self.sun.altitude_degrees, SUN_DEGREES, FAINTEST))
        return faintest - (MOON_TAKES * self.moon_lit if self.moon.is_up else 0.0)

    def is_open(self, standing: Standing) -> bool:
        """Tell whether a place in the sky is above the horizon and above the land."""
        land = float(self.skyline.at(np.array([standing.azimuth_degrees]))[0])
        return standing.altitude_degrees > max(land, 0.0)

    def is_wanted(self, standing: Standing) -> bool:
        """Tell whether a wanted target stands there, so that it is named once."""
        return any(_are_one(standing, each) for one in self.wanted for each in one.standings)


def _are_one(first: Standing, second: Standing) -> bool:
    """Tell whether two places are one: a star among all and by itself differ by its rounding."""
    high = abs(first.altitude_degrees - second.altitude_degrees)
    if high > SAME_PLACE_DEGREES:
        return False
    turn = (first.azimuth_degrees - second.azimuth_degrees + 180) % 360 - 180
    return abs(turn) * math.cos(math.radians(first.altitude_degrees)) < SAME_PLACE_DEGREES
