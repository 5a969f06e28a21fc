"""Where people live: towns of 1000 people and more.

The table is `sky/data/towns.npz`; whose it is and what it leaves out stands in the README there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import as_file, files

import numpy as np
from numpy.typing import NDArray

from sky.constants import DEGREE

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

NEWLINE = ord("\n")


@dataclass(frozen=True, slots=True)
class Towns:
    """Towns in order of latitude, shape (town,).

    `latitudes`, `longitudes` degrees (WGS84), to a thousandth; `populations` to three digits;
    `directions` (town, 3) unit vectors from the middle of a round Earth.
    """

    latitudes: Floats
    longitudes: Floats
    directions: Floats
    populations: Floats
    countries: NDArray[np.str_]
    country: NDArray[np.uint8]
    letters: NDArray[np.uint8]
    ends: Whole  # where in `letters` each name ends

    def between(self, south: float, north: float) -> slice:
        """Give the stretch of towns between two latitudes."""
        first, last = np.searchsorted(self.latitudes, (south, north))
        return slice(int(first), int(last))

    def name(self, town: int) -> str:
        first = self.ends[town - 1] + 1 if town else 0
        return self.letters[first : self.ends[town]].tobytes().decode()

    def country_of(self, town: int) -> str:
        """Give two letters, ISO 3166-1."""
        return str(self.countries[self.country[town]])


@lru_cache(maxsize=1)
def all_towns() -> Towns:
    """Read the table once."""
    with as_file(files("sky") / "data" / "towns.npz") as path, np.load(path) as table:
        latitudes = np.cumsum(table["latitude_steps"].astype(np.int64)) / 1000 - 90.0
        longitudes = table["longitudes"] / 1000
        letters = table["names"]
        return Towns(
            latitudes=latitudes,
            longitudes=longitudes,
            directions=directions_of(latitudes, longitudes),
            populations=table["populations"].astype(np.float64),
            countries=table["countries"],
            country=table["country"],
            letters=letters,
            ends=np.append(np.flatnonzero(letters == NEWLINE), len(letters)),
        )


def directions_of(latitudes: Floats, longitudes: Floats) -> Floats:
    """Give unit vectors (…, 3) from the middle of a round Earth; degrees in."""
    north, east = latitudes * DEGREE, longitudes * DEGREE
    level = np.cos(north)
    return np.stack((level * np.cos(east), level * np.sin(east), np.sin(north)), axis=-1)
