"""Galactic coordinates, and how the band of the Milky Way stands over a place.

The band follows the galactic equator, a great circle: where its pole stands says where its top and
its feet are.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.apparent import unit_vectors
from sky.constants import DEGREE
from sky.directions import Directions, refraction_degrees
from sky.place import Place
from sky.targets.target import FixedPoint

Floats = NDArray[np.float64]

# The galactic north pole in ICRS, and the galactic longitude of the ascending node of the galactic
# equator on the ICRS equator: ESA, The Hipparcos and Tycho Catalogues, SP-1200, vol. 1, 1.5.3.
NORTH_POLE = FixedPoint(192.85948, 27.12825)
NODE_LONGITUDE_DEGREES = 32.93192


@dataclass(frozen=True, slots=True)
class BandStanding:
    """How the band stands at as many instants as were asked for: shapes (instant,), degrees.

    `highest_degrees` the apparent altitude of its top, `highest_geometric_degrees` the same without
    refraction: 90 − |altitude of the pole|, which is also the angle at which the band meets the
    horizon. `top_azimuth_degrees` where the top stands; without meaning within a degree of the
    zenith. `feet_azimuth_degrees` (instant, 2) where it meets the horizon: those 90° before and
    after the top, clockwise.
    """

    highest_degrees: Floats
    highest_geometric_degrees: Floats
    top_azimuth_degrees: Floats
    feet_azimuth_degrees: Floats


def to_galactic(points: Floats) -> Floats:
    """Turn ICRS unit vectors (point, 3) into galactic ones: x to the centre, z to the north pole.

    The constants have five decimals: good to 0.02″.
    """
    return points @ _axes().T


def to_icrs(points: Floats) -> Floats:
    """Turn galactic unit vectors (point, 3) into ICRS ones; the inverse of `to_galactic`."""
    return points @ _axes()


def galactic_of(ra_degrees: float, dec_degrees: float) -> tuple[float, float]:
    """Give galactic longitude (0 to 360) and latitude of an ICRS place, in degrees."""
    return _angles(to_galactic(unit_vectors((FixedPoint(ra_degrees, dec_degrees),)))[0])


def icrs_of(longitude_degrees: float, latitude_degrees: float) -> FixedPoint:
    """Give the ICRS place of galactic coordinates in degrees."""
    # As unit vectors, longitude and latitude are to a frame what RA and Dec are to ICRS.
    place = unit_vectors((FixedPoint(longitude_degrees, latitude_degrees),))
    return FixedPoint(*_angles(to_icrs(place)[0]))


def standing_of_band(pole: Directions, place: Place) -> BandStanding:
    """Give how the band stands over a place while the galactic north pole stands at `pole`."""
    highest = 90.0 - np.abs(pole.altitude_geometric_degrees)
    # The top lies beyond the zenith from a pole that is up, and over one that is down.
    top = (pole.azimuth_degrees + np.where(pole.altitude_geometric_degrees > 0, 180, 0)) % 360
    return BandStanding(
        highest_degrees=highest + refraction_degrees(highest, place.elevation_m),
        highest_geometric_degrees=highest,
        top_azimuth_degrees=top,
        feet_azimuth_degrees=np.stack(((top - 90) % 360, (top + 90) % 360), axis=-1),
    )


def _axes() -> Floats:
    """Give the galactic axes as rows in ICRS: to the centre, to longitude 90°, to the pole."""
    (pole,) = unit_vectors((NORTH_POLE,))
    ra = NORTH_POLE.ra_degrees * DEGREE
    node = np.array((-np.sin(ra), np.cos(ra), 0.0))  # 90° east of the pole's own meridian
    beside = np.cross(pole, node)
    turn = NODE_LONGITUDE_DEGREES * DEGREE
    centre = np.cos(turn) * node - np.sin(turn) * beside
    return np.stack((centre, np.cross(pole, centre), pole))


def _angles(vector: Floats) -> tuple[float, float]:
    x, y, z = vector
    return float(np.arctan2(y, x) / DEGREE % 360), float(np.arctan2(z, np.hypot(x, y)) / DEGREE)
