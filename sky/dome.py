"""The whole sky over a place at one instant, as values. No computing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from sky.skyline import Skyline

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Standing:
    """A place in the sky, in degrees: apparent altitude, and azimuth from true north."""

    altitude_degrees: float
    azimuth_degrees: float


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
