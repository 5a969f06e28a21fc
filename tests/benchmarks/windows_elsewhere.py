"""Windows of places among the stars through Astropy and through Skyfield, whole arrays at once.

To be judged: `astropy_directions` and `skyfield_directions` are their calls. Both get the same grid
of instants, the same refraction, skyline and light; where the clearance changes its sign, the edge
is straight between two instants. The grid is that on which our own planets are sampled.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import astropy.units as u
import numpy as np
from astropy.coordinates import AltAz, SkyCoord
from astropy.coordinates.erfa_astrom import ErfaAstromInterpolator, erfa_astrom
from numpy.typing import NDArray
from skyfield.api import Star

from sky.directions import refraction_degrees
from sky.ephemeris import timescale
from sky.place import Place
from sky.skyline import Skyline
from sky.span_arrays import intersect
from sky.targets.target import FixedPoint
from tests.against import skyfield_search
from tests.against.astropy_sky import Sky, alone, here, time_of

Floats = NDArray[np.float64]
# Altitudes and azimuths in degrees, each (point, instant).
Directions = Callable[[Sequence[FixedPoint], Place, Floats], tuple[Floats, Floats]]


def astropy_directions(
    points: Sequence[FixedPoint], place: Place, unix: Floats
) -> tuple[Floats, Floats]:
    """One call for all points and instants, its frames from hour to hour as it offers them."""
    ra, dec = angles(points)
    with alone(), erfa_astrom.set(ErfaAstromInterpolator(1 * u.hour)):
        frame = AltAz(obstime=time_of(unix), location=here(place), pressure=0 * u.hPa)
        seen: Any = SkyCoord(ra[:, None] * u.deg, dec[:, None] * u.deg).transform_to(frame)
        return seen.alt.deg, seen.az.deg


def skyfield_directions(
    points: Sequence[FixedPoint], place: Place, unix: Floats
) -> tuple[Floats, Floats]:
    """The observer once for all instants, and all of them for each point: it takes no more."""
    time = timescale().tt_jd(time_of(unix).tt.jd)
    altitude, azimuth = np.empty((2, len(points), len(unix)))
    with skyfield_search.kernel() as kernel:
        observer = skyfield_search.observer(kernel, place).at(time)
        for number, point in enumerate(points):
            star = Star(ra_hours=point.ra_degrees / 15, dec_degrees=point.dec_degrees)
            height, around, _ = observer.observe(star).apparent().altaz()
            altitude[number], azimuth[number] = height.degrees, around.degrees
    return altitude, azimuth


@dataclass(frozen=True, slots=True)
class Question:
    """Points over a place and a line that is raised to their least altitude, in the spans of a
    light, asked at the instants `unix`."""

    points: Sequence[FixedPoint]
    place: Place
    line: Skyline
    light: Floats
    unix: Floats


def spans_by(directions: Directions, asked: Question) -> list[Floats]:
    """Give the spans (span, 2) of each point."""
    height, azimuth = directions(asked.points, asked.place, asked.unix)
    seen = height + refraction_degrees(height, asked.place.elevation_m)
    clearance = seen - asked.line.at(azimuth)
    return [intersect(clear_spans(row, asked.unix), asked.light) for row in clearance]


def spans_closely(asked: Question) -> Floats:
    """Give the spans of one point at instants that lie so close that straight is right."""
    (point,), start, end = asked.points, float(asked.unix[0]), float(asked.unix[-1])
    with alone():
        track = Sky(asked.place, start, end).star(point.ra_degrees, point.dec_degrees)
    seen, azimuth = track.apparent(asked.unix)
    return intersect(clear_spans(seen - asked.line.at(azimuth), asked.unix), asked.light)


def clear_spans(clearance: Floats, unix: Floats) -> Floats:
    is_clear = clearance > 0
    at = np.flatnonzero(is_clear[1:] != is_clear[:-1])
    share = clearance[at] / (clearance[at] - clearance[at + 1])
    edges = unix[at] + share * (unix[at + 1] - unix[at])
    ends = np.concatenate((unix[:1], edges, unix[-1:]))
    return np.stack((ends[:-1], ends[1:]), axis=1)[0 if is_clear[0] else 1 :: 2]


def angles(points: Sequence[FixedPoint]) -> tuple[Floats, Floats]:
    return (
        np.array([point.ra_degrees for point in points]),
        np.array([point.dec_degrees for point in points]),
    )
