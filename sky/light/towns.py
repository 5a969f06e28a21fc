"""Where people live: towns of 1000 people and more.

The table is `sky/data/towns.npz`; whose it is and what it leaves out stands in the README there.
"""

from __future__ import annotations

import zlib
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import as_file, files

import numpy as np
from numpy.typing import NDArray

from sky.constants import DEGREE

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]

# So many names are packed together: as in `sky/data/make_towns.py`.
BLOCK = 2048


@dataclass(frozen=True, slots=True, eq=False)
class Towns:
    """Towns in order of latitude, shape (town,).

    `latitudes`, `longitudes` degrees (WGS84), to a thousandth; `populations` to three digits.
    """

    latitudes: Floats
    longitudes: Floats
    populations: Floats
    countries: NDArray[np.str_]
    country: NDArray[np.uint8]
    names: NDArray[np.uint8]  # block after block, packed: few are ever asked for
    blocks: Whole  # where each begins in `names`, and where the last ends

    def between(self, south: float, north: float) -> slice:
        """Give the stretch of towns between two latitudes."""
        first, last = np.searchsorted(self.latitudes, (south, north))
        return slice(int(first), int(last))

    def name(self, town: int) -> str:
        block, number = divmod(int(town), BLOCK)
        return _names(self, block)[number]

    def country_of(self, town: int) -> str:
        """Give two letters, ISO 3166-1."""
        return str(self.countries[self.country[town]])


@lru_cache(maxsize=16)
def _names(towns: Towns, block: int) -> list[str]:
    packed = towns.names[towns.blocks[block] : towns.blocks[block + 1]]
    return zlib.decompress(packed.tobytes()).decode().split("\n")


@lru_cache(maxsize=1)
def all_towns() -> Towns:
    """Read the table once."""
    with as_file(files("sky") / "data" / "towns.npz") as path, np.load(path) as table:
        return Towns(
            latitudes=np.cumsum(table["latitude_steps"].astype(np.int64)) / 1000 - 90.0,
            longitudes=(table["longitudes_high"] * 65.536 + table["longitudes"] / 1000) - 180.0,
            populations=table["populations"].astype(np.float64),
            countries=table["countries"],
            country=table["country"],
            names=table["names"],
            blocks=table["blocks"],
        )


def directions_of(latitudes: Floats, longitudes: Floats) -> Floats:
    """Give unit vectors (…, 3) from the middle of a round Earth; degrees in."""
    north, east = latitudes * DEGREE, longitudes * DEGREE
    level = np.cos(north)
    return np.stack((level * np.cos(east), level * np.sin(east), np.sin(north)), axis=-1)
