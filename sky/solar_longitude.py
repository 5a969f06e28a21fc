"""The Sun's geometric longitude, by which showers of meteors are dated."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime
from functools import lru_cache

import numpy as np
from scipy.interpolate import CubicSpline

from sky.altitude import season_nodes
from sky.constants import DEGREE, J2000_OBLIQUITY_DEGREES
from sky.ephemeris import frames_between, tt_from_utc, utc_from_tt


def instants_of(longitudes_degrees: Sequence[float], year: int) -> list[float]:
    """Give the Unix seconds at which the Sun has each longitude in a year (UTC).

    Geometric, that is without aberration, in the ecliptic and equinox of J2000.0, 0 to 360°: the
    Earth's place on its way, so that a stream is met at the same longitude in every year. The
    apparent Sun would be 8 minutes late.
    """
    longitude = _longitude(year)
    new_year = datetime(year, 1, 1, tzinfo=UTC).timestamp()
    start = float(longitude(tt_from_utc(np.array([new_year])))[0])
    wanted = start + (np.array(longitudes_degrees) * DEGREE - start) % (2 * np.pi)
    tt = np.interp(wanted, longitude(longitude.x), longitude.x)
    for _ in range(3):  # from day to day the longitude is all but straight
        tt -= (longitude(tt) - wanted) / longitude(tt, 1)
    found: list[float] = utc_from_tt(tt).tolist()
    return found


@lru_cache(maxsize=128)
def _longitude(year: int) -> CubicSpline:
    """Spline the longitude in radians, unwrapped, over TT since J2000, two days beyond the year.

    Turns the Sun's apparent place back into the axes of J2000 and takes off the aberration.
    """
    first, last = date(year, 1, 1), date(year, 12, 31)
    frames, nodes = frames_between(first, last), season_nodes(first, last)
    inside = (frames.tt >= nodes.tt[0]) & (frames.tt <= nodes.tt[-1])
    tt = frames.tt[inside]
    sun = CubicSpline(nodes.tt, nodes.positions["sun"])(tt)
    apparent = np.einsum("nij,ni->nj", frames.equator[inside], sun)
    apparent /= np.linalg.norm(apparent, axis=1, keepdims=True)
    x, y, z = (apparent - frames.velocity[inside]).T
    cos, sin = np.cos(J2000_OBLIQUITY_DEGREES * DEGREE), np.sin(J2000_OBLIQUITY_DEGREES * DEGREE)
    return CubicSpline(tt, np.unwrap(np.arctan2(cos * y + sin * z, x)))
