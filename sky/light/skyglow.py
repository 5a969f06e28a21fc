"""Skyglow: the light of towns in the sky of a place, estimated from their people alone.

Walker's law: a town of P people at d kilometres brightens the sky 45° up toward it by
c · P · d^−2.5 of the natural background. The exponent and the citation were read in code that
cites Walker M. F., PASP 89 (1977) 405, doi 10.1086/130142; the paper was not. What a town really
sends up depends on its lamps, the hour, the air and the land between: an estimate, never more.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sky.constants import DEGREE
from sky.light.towns import Floats, Towns, all_towns, directions_of
from sky.place import Place

# The form with 0.01 is from memory, a popular restatement of the law. Others were found: 0.02 in
# Cinzano's quotation of Walker (a million people at 100 km add 0.2 mag), 0.1 in the code of a park
# service, where it is an index without a unit.
COEFFICIENT = 0.01
OTHER_COEFFICIENTS = (0.02, 0.1)
EXPONENT = 2.5
FARTHEST_KM = 300.0
# The law is one of far away and has no end at d = 0. Nearer than the town's own radius, and nearer
# than the layer of air in which its light is scattered is thick, it is taken as if at that
# distance: our choice, no published source.
NEAREST_KM = 3.0
PEOPLE_PER_KM2 = 6000.0  # as in `sky/data/make_towns.py`
MOST_NAMED = 24
EARTH_RADIUS_KM = 6371.0088  # the mean radius (IUGG)


@dataclass(frozen=True, slots=True)
class TownGlow:
    """A town that lights a place. `share` of the natural background, as `Glow.share`.

    `latitude`, `longitude` of its middle, `distance_km`, `azimuth_degrees` (true north through
    east) to it; `is_inside` whether the place lies in the town, where its direction means nothing.
    """

    name: str
    country: str
    population: int
    latitude: float
    longitude: float
    distance_km: float
    azimuth_degrees: float
    share: float
    is_inside: bool


@dataclass(frozen=True, slots=True, eq=False)
class Glow:
    """The glow of all towns within 300 km, each as if looked at toward it, 45° up.

    `share` their sum in natural backgrounds: 0 a natural sky, 1 one twice as bright; rather too
    much where many towns are near, for each counts as if looked at toward it. `towns` the strongest
    of them, at most 24, strongest first; the sum counts all. `azimuths`, `shares`,
    `inside` of all of them, shape (town,).
    """

    share: float
    towns: tuple[TownGlow, ...]
    azimuths: Floats
    shares: Floats
    inside: NDArray[np.bool_]

    def by_azimuth(self, step_degrees: float = 10.0) -> tuple[Floats, Floats]:
        """Give the middles of equal sectors, the first at north, and the share of each.

        `step_degrees` is taken to the nearest that divides the round. A town counts whole in the
        sector that its middle lies in, one around the place in all of them alike: the shares add
        up to `share`.
        """
        sectors = max(1, round(360.0 / step_degrees))
        sector = np.round(self.azimuths * sectors / 360.0).astype(int) % sectors
        away = np.bincount(sector, np.where(self.inside, 0.0, self.shares), sectors)
        around = self.shares[self.inside].sum() / sectors
        return np.arange(sectors) * 360.0 / sectors, away + around


def walker(
    population: Floats | float, distance_km: Floats | float, *, coefficient: float = COEFFICIENT
) -> Floats:
    """Give the share of the natural background that a town adds, 45° up toward it."""
    nearest = np.maximum(NEAREST_KM, radius_km(population))
    away = np.maximum(np.asarray(distance_km, float), nearest)
    return np.asarray(coefficient * np.asarray(population, float) * away**-EXPONENT)


def radius_km(population: Floats | float) -> Floats:
    """Give the radius of the circle that so many people live in."""
    return np.asarray(np.sqrt(np.asarray(population, float) / PEOPLE_PER_KM2 / np.pi))


# All the sites of a large season; a place among many towns holds 0.1 MB.
@lru_cache(maxsize=256)
def glow_at(place: Place, *, coefficient: float = COEFFICIENT) -> Glow:
    """Estimate what the towns within 300 km add to the sky of a place.

    Without any: a share of 0 and no towns. Distances on a round Earth, within 0.6 % of those on
    the ellipsoid, azimuths within 0.2°: the share within 2 %.
    """
    towns = all_towns()
    near, distances = _near(towns, place)
    populations = towns.populations[near]
    shares = walker(populations, distances, coefficient=coefficient)
    azimuths = _azimuths(place, towns.latitudes[near], towns.longitudes[near])
    inside = distances < radius_km(populations)
    named = tuple(
        TownGlow(
            name=towns.name(near[n]),
            country=towns.country_of(near[n]),
            population=int(populations[n]),
            latitude=float(towns.latitudes[near[n]]),
            longitude=float(towns.longitudes[near[n]]),
            distance_km=float(distances[n]),
            azimuth_degrees=float(azimuths[n]),
            share=float(shares[n]),
            is_inside=bool(inside[n]),
        )
        for n in np.argsort(-shares, kind="stable")[:MOST_NAMED]
    )
    return Glow(float(shares.sum()), named, azimuths, shares, inside)


def _near(towns: Towns, place: Place) -> tuple[NDArray[np.int64], Floats]:
    """Give the towns within reach and how far each is along the ground."""
    reach = FARTHEST_KM / EARTH_RADIUS_KM / DEGREE
    band = towns.between(place.latitude - reach, place.latitude + reach)
    here = directions_of(np.array(place.latitude), np.array(place.longitude))
    there = directions_of(towns.latitudes[band], towns.longitudes[band])
    straight = np.linalg.norm(there - here, axis=1)
    along = 2 * EARTH_RADIUS_KM * np.arcsin(np.minimum(straight / 2, 1.0))
    found = np.flatnonzero(along <= FARTHEST_KM)
    return found + band.start, along[found]


def _azimuths(place: Place, latitudes: Floats, longitudes: Floats) -> Floats:
    here, there = place.latitude * DEGREE, latitudes * DEGREE
    east = (longitudes - place.longitude) * DEGREE
    toward_east = np.sin(east) * np.cos(there)
    toward_north = np.cos(here) * np.sin(there) - np.sin(here) * np.cos(there) * np.cos(east)
    return np.asarray(np.arctan2(toward_east, toward_north) / DEGREE % 360.0)
