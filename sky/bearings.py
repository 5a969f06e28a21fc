"""In which direction one place of the ground lies from another, and how far away."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sky.constants import DEGREE
from sky.directions import level_axes, position_of
from sky.place import Place


@dataclass(frozen=True, slots=True)
class Bearing:
    """`azimuth_degrees` from true north through east, 0 to 360; `distance_m` straight, in metres.

    `altitude_degrees` geometric, of the straight line between the two.
    """

    azimuth_degrees: float
    distance_m: float
    altitude_degrees: float


def bearing_between(place: Place, other: Place) -> Bearing:
    """Give the direction and distance of a place as seen from another.

    Of the straight line between the two on the WGS84 ellipsoid, through the Earth where it is in
    the way: within 0.2″ of the geodesic's azimuth and 0.2 m of its length at 50 km. From a place
    to itself: azimuth 0, distance 0.
    """
    line = (position_of(other) - position_of(place)) * 1000
    east, north, up = level_axes(place) @ line
    return Bearing(
        float(np.arctan2(east, north) / DEGREE % 360.0),
        float(np.sqrt(line @ line)),
        float(np.arctan2(up, np.hypot(east, north)) / DEGREE),
    )
