"""Where places among the stars stand: apparent places of date, and directions from a place.

Annual aberration, precession and nutation are in; proper motion, parallax and the bending of light
by the Sun (0.03″ at 18° from it) are not.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sky.altitude import Observers, observers, season_nodes
from sky.clock import FIRST_DAY, LAST_DAY
from sky.constants import DEGREE
from sky.directions import Directions, level_axes, refraction_degrees
from sky.directions import directions_at as directions_of_body
from sky.ephemeris import Frames, frames_between, sidereal_at, tt_from_utc
from sky.errors import SkyError
from sky.place import Place
from sky.spans import Span
from sky.targets.target import Body, FixedPoint

Floats = NDArray[np.float64]

ONE_DAY = timedelta(days=1)


def unit_vectors(points: Sequence[FixedPoint]) -> Floats:
    """Give ICRS unit vectors (point, 3)."""
    ra = np.array([point.ra_degrees for point in points]) * DEGREE
    dec = np.array([point.dec_degrees for point in points]) * DEGREE
    return np.stack((np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)), axis=1)


def places_of_date(vectors: Floats, frames: Frames, tt: Floats) -> Floats:
    """Give apparent unit vectors (instant, point, 3) in the true equator of date.

    `vectors` (point, 3) ICRS; `tt` (instant,) seconds of TT since J2000 inside the frames. The
    matrices are straight between days: 0.005″ off for the fortnight's term of the nutation.
    Aberration to the first order of v/c (0.001″). Within 0.05″ of Astropy's.
    """
    at = np.clip(np.searchsorted(frames.tt, tt) - 1, 0, len(frames.tt) - 2)
    share = (tt - frames.tt[at]) / (frames.tt[at + 1] - frames.tt[at])
    equator = _between(frames.equator, at, share[:, None, None])
    velocity = _between(frames.velocity, at, share[:, None])
    moved = vectors[None] + velocity[:, None]
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
    if isinstance(point, Body):
        return directions_of_body(point.name, place, unix)
    if not len(unix):
        return Directions(np.empty(0), np.empty(0), np.empty(0))
    first, last = _dates(unix)
    tt = tt_from_utc(unix)
    of_date = places_of_date(unit_vectors((point,)), frames_between(first, last), tt)[:, 0]
    fixed = _earth_fixed(of_date, sidereal_at(season_nodes(first, last), tt))
    return _directions(fixed, observers((place,)), place)


def _earth_fixed(of_date: Floats, sidereal: Floats) -> Floats:
    cos, sin = np.cos(sidereal), np.sin(sidereal)
    x, y, z = of_date.T
    return np.stack((cos * x + sin * y, cos * y - sin * x, z), axis=1)


def _directions(fixed: Floats, seen_from: Observers, place: Place) -> Directions:
    east, north = level_axes(place)
    up = fixed @ seen_from.up[0]
    height = np.arctan2(up, np.hypot(fixed @ east, fixed @ north)) / DEGREE
    azimuth = np.arctan2(fixed @ east, fixed @ north) / DEGREE % 360.0
    return Directions(height + refraction_degrees(height, place.elevation_m), height, azimuth)


def _dates(unix: Floats) -> tuple[date, date]:
    start, end = (Span.from_seconds(at, at).start.date() for at in (unix.min(), unix.max()))
    if start < FIRST_DAY - ONE_DAY or end > LAST_DAY + 2 * ONE_DAY:
        raise SkyError("instant_outside", first=start, last=end)
    return _within_years(start, end)


@lru_cache(maxsize=64)
def _within_years(start: date, end: date) -> tuple[date, date]:
    """A day early at the end: tables reach three days further, and New Year's Eve needs one."""
    first = min(max(start, FIRST_DAY), LAST_DAY)
    return first, min(max(first, end - ONE_DAY), LAST_DAY)
