"""The stars that are seen without a glass, and where all of them stand at one instant.

The table is `data/stars.csv`; whose it is and how good stands in the README beside it.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from sky.altitude import observers, season_nodes
from sky.apparent import places_of_date, unit_vectors
from sky.clock import FIRST_DAY, LAST_DAY
from sky.constants import DEGREE
from sky.directions import Directions, level_axes, refraction_degrees
from sky.ephemeris import frames_between, sidereal_at, tt_from_utc
from sky.errors import SkyError
from sky.place import Place
from sky.spans import as_utc
from sky.targets.target import FixedPoint

Floats = NDArray[np.float64]

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Stars:
    """Stars to V 5.5, the brightest first: shapes (star,) and (star, 3).

    `vectors` ICRS unit vectors at J2000.0: proper motion since then is left out, 4.5′ by 2050 for
    the fastest of them. `magnitudes` V, estimated from Hipparcos' Hp and B−V: within 0.05 for
    most, 0.2 for the reddest. `names` empty for those without one.
    """

    hips: NDArray[np.int64]
    vectors: Floats
    magnitudes: Floats
    names: tuple[str, ...]


@lru_cache(maxsize=1)
def bright_stars() -> Stars:
    """Read the table once."""
    with (files("sky") / "data" / "stars.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    points = [FixedPoint(float(row["ra_degrees"]), float(row["dec_degrees"])) for row in rows]
    return Stars(
        hips=np.array([int(row["hip"]) for row in rows]),
        vectors=unit_vectors(points),
        magnitudes=np.array([float(row["magnitude"]) for row in rows]),
        names=tuple(row["name"] for row in rows),
    )


def directions_at_once(vectors: Floats, place: Place, instant: datetime) -> Directions:
    """Give altitude and azimuth of many places among the stars at one instant.

    `vectors` (point, 3) ICRS; the answer has shapes (point,). As good as `directions_toward`.
    Errors: `naive_datetime`, `instant_outside`.
    """
    at = as_utc(instant)
    # A night may reach half a day into a year that is not computed any more.
    if not FIRST_DAY - ONE_DAY <= at.date() <= LAST_DAY + ONE_DAY:
        raise SkyError("instant_outside", first=at.date(), last=at.date())
    day = min(max(at.date(), FIRST_DAY), LAST_DAY)
    tt = tt_from_utc(np.array([at.timestamp()]))
    of_date = places_of_date(vectors, frames_between(day, day), tt)[0]
    turned = float(sidereal_at(season_nodes(day, day), tt)[0])
    return _seen(of_date @ _to_earth(turned), place)


def _to_earth(sidereal: float) -> Floats:
    """Give the matrix that takes rows in the equator of date to the frame of the Earth."""
    cos, sin = np.cos(sidereal), np.sin(sidereal)
    return np.array(((cos, -sin, 0.0), (sin, cos, 0.0), (0.0, 0.0, 1.0)))


def _seen(fixed: Floats, place: Place) -> Directions:
    east, north = level_axes(place)
    height = np.arcsin(np.clip(fixed @ observers((place,)).up[0], -1.0, 1.0)) / DEGREE
    azimuth = np.arctan2(fixed @ east, fixed @ north) / DEGREE % 360.0
    return Directions(height + refraction_degrees(height, place.elevation_m), height, azimuth)
