"""Eclipses of the Sun: when the Moon's shadow meets the Earth."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from typing import Literal

import numpy as np

from sky.clock import check_season
from sky.constants import AU_KM, WGS84_RADIUS_KM
from sky.eclipses.discs import (
    MOON_MEAN_RADIUS,
    MOON_RADIUS,
    SUN_RADIUS_RADIANS,
    Discs,
    Floats,
    discs_around,
    discs_at,
    instant_of,
    nearest_approach,
)

SolarType = Literal["total", "annular", "hybrid", "partial"]

# Beyond, the shadow's axis misses the flattened Earth. Meeus, Astronomical Algorithms, 2nd ed.,
# ch. 54; from memory.
AXIS_TOUCHES_EARTH = 0.9972
SUN_RADIUS = float(np.sin(SUN_RADIUS_RADIANS)) * AU_KM / WGS84_RADIUS_KM


@dataclass(frozen=True, slots=True)
class SolarEclipse:
    """An eclipse of the Sun somewhere on the Earth.

    `type` what it is where it is most: hybrid where the Moon's disc is too small at the ends of the
    path only. `greatest` the instant at which the shadow's axis is nearest to the Earth's centre;
    `gamma` that distance in equatorial radii, positive to the north. What a place sees of it is
    `local_circumstances` of sky/eclipses/local.py.
    """

    type: SolarType
    greatest: datetime
    gamma: float


def solar_eclipses(first: date, last: date) -> tuple[SolarEclipse, ...]:
    """Give the eclipses whose greatest falls on a UTC date from `first` to `last`, in order.

    Errors: `season_reversed`, `season_outside`.
    """
    check_season(first, last)
    found = (one for year in range(first.year, last.year + 1) for one in _of_year(year))
    return tuple(one for one in found if first <= one.greatest.date() <= last)


@dataclass(frozen=True, slots=True)
class _Axis:
    """The shadow beside the Earth's centre, in equatorial radii; arrays (instant,).

    `foot` (instant, 3) the point of the axis nearest to the centre; `penumbra` and `umbra` the
    radii of the shadows there, that of the umbra negative where it has not yet come to its point;
    `opening` the growth of the umbra's radius for one radius of way.
    """

    foot: Floats
    penumbra: Floats
    umbra: Floats
    opening: Floats

    @property
    def distance(self) -> Floats:
        result: Floats = np.linalg.norm(self.foot, axis=1)
        return result


@lru_cache(maxsize=128)
def _of_year(year: int) -> tuple[SolarEclipse, ...]:
    found = (_eclipse(year, discs) for discs in discs_around(year, "new"))
    return tuple(eclipse for eclipse in found if eclipse)


def _eclipse(year: int, discs: Discs) -> SolarEclipse | None:
    tt = nearest_approach(discs.tt, _axis(discs).distance)
    axis = _axis(discs_at(year, np.array([tt])))
    distance = float(axis.distance[0])
    if distance > AXIS_TOUCHES_EARTH + axis.penumbra[0]:
        return None
    gamma = float(np.copysign(distance, axis.foot[0, 2]))
    return SolarEclipse(_type(axis, distance), instant_of(tt), gamma)


def _type(axis: _Axis, distance: float) -> SolarType:
    """Judge the umbra at the Earth's rim and where its axis meets the ground (Meeus, ch. 54)."""
    umbra = float(axis.umbra[0])
    if distance > AXIS_TOUCHES_EARTH + abs(umbra):
        return "partial"
    nearer = float(np.sqrt(max(0.0, 1 - distance**2)))
    on_ground = umbra - nearer * float(axis.opening[0])
    if umbra < 0:
        return "total"
    return "annular" if on_ground > 0 else "hybrid"


def _axis(discs: Discs) -> _Axis:
    moon, sun = discs.moon / WGS84_RADIUS_KM, discs.sun / WGS84_RADIUS_KM
    apart = np.linalg.norm(sun - moon, axis=1)
    toward = (sun - moon) / apart[:, None]
    beyond = np.sum(moon * toward, axis=1)
    outer = np.tan(np.arcsin((SUN_RADIUS + MOON_MEAN_RADIUS) / apart))
    inner = np.tan(np.arcsin((SUN_RADIUS - MOON_RADIUS) / apart))
    return _Axis(
        foot=moon - beyond[:, None] * toward,
        penumbra=beyond * outer + MOON_MEAN_RADIUS * np.sqrt(1 + outer**2),
        umbra=beyond * inner - MOON_RADIUS * np.sqrt(1 + inner**2),
        opening=inner,
    )
