"""The stars that are seen without a glass, and where all of them stand at one instant.

The table is `data/stars.csv`; whose it is and how good stands in the README beside it.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from sky.altitude import season_nodes
from sky.apparent import places_of_date, unit_vectors
from sky.directions import Directions, days_for, directions_along
from sky.ephemeris import frames_between, sidereal_at, to_earth, tt_from_utc
from sky.place import Place
from sky.spans import as_utc
from sky.targets.target import FixedPoint

Floats = NDArray[np.float64]


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
    unix = np.array([as_utc(instant).timestamp()])
    days, tt = days_for(unix[0], unix[0]), tt_from_utc(unix)
    of_date = places_of_date(vectors, frames_between(*days), tt)[0]
    return directions_along(to_earth(of_date, sidereal_at(season_nodes(*days), tt)), place)
