"""Where places among the stars stand: apparent places of date, and directions from a place.

Annual aberration, precession and nutation are in; proper motion, parallax and the bending of light
by the Sun (0.03″ at 18° from it) are not.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from sky.altitude import season_nodes
from sky.constants import DEGREE
from sky.directions import Directions, days_for, directions_along, nodes_over, position_of
from sky.ephemeris import Frames, frames_between, of_date, sidereal_at, to_earth, tt_from_utc
from sky.place import Place
from sky.targets.target import Body, FixedPoint

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


def unit_vectors(points: Sequence[FixedPoint]) -> Floats:
    """Give ICRS unit vectors (point, 3)."""
    ra = np.array([point.ra_degrees for point in points]) * DEGREE
    dec = np.array([point.dec_degrees for point in points]) * DEGREE
    return np.stack((np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)), axis=1)


def places_of_date(vectors: Floats, frames: Frames, tt: Floats) -> Floats:
    """Give apparent unit vectors (instant, point, 3) in the true equator of date.

    `vectors` (point, 3) ICRS, or (instant, point, 3) where each instant has its own; `tt`
    (instant,) seconds of TT since J2000 inside the frames. The matrices are straight between days:
    0.005″ off for the fortnight's term of the nutation. Aberration to the first order of v/c
    (0.001″). Within 0.05″ of Astropy's.
    """
    at = np.clip(np.searchsorted(frames.tt, tt) - 1, 0, len(frames.tt) - 2)
    share = (tt - frames.tt[at]) / (frames.tt[at + 1] - frames.tt[at])
    equator = _between(frames.equator, at, share[:, None, None])
    velocity = _between(frames.velocity, at, share[:, None])
    moved = vectors + velocity[:, None]
    moved /= np.linalg.norm(moved, axis=2, keepdims=True)
    result: Floats = moved @ np.swapaxes(equator, 1, 2)
    return result


def _between(values: Floats, at: NDArray[np.intp], share: Floats) -> Floats:
    result: Floats = values[at] * (1 - share) + values[at + 1] * share
    return result


def directions_toward(point: FixedPoint | Body, place: Place, unix: Floats) -> Directions:
    """Give altitude and azimuth of a place among the stars, or of a body, from a place.

    `unix` (instant,) Unix seconds. Shapes, units and signs as in `Directions`; below the horizon
    altitudes are negative. Errors: `body_unknown`, `instant_outside`.
    """
    return directions_of_each((point,), place, np.zeros(len(unix), np.intp), unix)


def directions_of_each(
    points: Sequence[FixedPoint | Body], place: Place, which: Ints, unix: Floats
) -> Directions:
    """Give the same of several, of which `which` (instant,) says the one that is asked for."""
    if not len(unix):
        return Directions(np.empty(0), np.empty(0), np.empty(0))
    days, tt = days_for(float(unix.min()), float(unix.max())), tt_from_utc(unix)
    sight, stars = np.empty((len(unix), 3)), np.zeros(len(unix), bool)
    for number, point in enumerate(points):
        rows = which == number
        if isinstance(point, Body):
            sight[rows] = of_date(nodes_over(point.name, *days), point.name, tt[rows])
        else:
            sight[rows], stars = unit_vectors((point,)), stars | rows
    if stars.any():
        frames = frames_between(*days)
        sight[stars] = places_of_date(sight[stars][:, None], frames, tt[stars])[:, 0]
    sight = to_earth(sight, sidereal_at(season_nodes(*days), tt))
    return directions_along(sight - np.where(stars[:, None], 0.0, position_of(place)), place)
