"""Where Sun, Moon and planets stand from a place: altitude, with and without refraction, azimuth.

A body is a track in the Earth-fixed frame, a place a vector: both from the tables that the nights
are computed with. Left out: the observer's own motion with the turning Earth (0.3″ of aberration).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sky.altitude import observers
from sky.clock import FIRST_DAY, LAST_DAY
from sky.constants import DEGREE
from sky.ephemeris import Nodes, nodes_between, of_date, sidereal_at, to_earth, tt_from_utc
from sky.errors import SkyError
from sky.place import Place
from sky.spans import Span, as_utc

Floats = NDArray[np.float64]

ONE_DAY = timedelta(days=1)
# The air that refraction is computed for: common practice, no published source for the pair.
SEA_LEVEL_HPA, SCALE_HEIGHT_M, AIR_CELSIUS = 1010.0, 8400.0, 10.0
# Below, nothing of the sky is seen and the formula runs away; the lift fades out, so that nothing
# jumps over a skyline that lies lower than the level.
LOWEST_REFRACTED_DEGREES, FADED_DEGREES = -1.0, -2.0
# The steps in which the top of a path is closed in on, coarse to fine.
SEARCH_SECONDS = (600.0, 20.0, 1.0)


@dataclass(frozen=True, slots=True)
class Directions:
    """Where a body's centre stands, at as many instants as were asked for: shapes (instant,).

    `altitude_degrees` apparent: what a person or a skyline shows; `altitude_geometric_degrees`
    topocentric, without refraction: what rise, set and twilight are defined by. Both −90 to 90,
    positive above the horizon. `azimuth_degrees` 0 to 360, from true north through east.
    """

    altitude_degrees: Floats
    altitude_geometric_degrees: Floats
    azimuth_degrees: Floats

    def part(self, chosen: slice | NDArray[np.intp]) -> Directions:
        """Give those at some of the instants."""
        return Directions(
            self.altitude_degrees[chosen],
            self.altitude_geometric_degrees[chosen],
            self.azimuth_degrees[chosen],
        )


def joined(parts: Sequence[Directions]) -> Directions:
    """Put several end to end."""
    return Directions(
        np.concatenate([one.altitude_degrees for one in parts]),
        np.concatenate([one.altitude_geometric_degrees for one in parts]),
        np.concatenate([one.azimuth_degrees for one in parts]),
    )


@dataclass(frozen=True, slots=True)
class Direction:
    """Where a body's centre stands at one instant, in UTC; figures as in `Directions`."""

    instant: datetime
    altitude_degrees: float
    altitude_geometric_degrees: float
    azimuth_degrees: float


def directions_of(body: str, place: Place, instants: Sequence[datetime]) -> Directions:
    """Give altitude and azimuth of a body seen from a place.

    `body` one of `sky.ephemeris.BODIES`; `instants` aware. Every instant has an answer: a body
    below the horizon has a negative altitude. Geometric altitude and azimuth on the sky: within
    0.5″ of Skyfield's.
    Errors: `body_unknown`, `naive_datetime`, `instant_outside` (the years that can be computed).
    """
    return directions_at(body, place, np.array([as_utc(one).timestamp() for one in instants]))


def direction_of(body: str, place: Place, instant: datetime) -> Direction:
    """Give altitude and azimuth at one instant; see `directions_of`."""
    found = directions_at(body, place, np.array([as_utc(instant).timestamp()]))
    return _one(found, 0, as_utc(instant))


def highest(body: str, place: Place, span: Span) -> Direction:
    """Give where a body stands highest inside a span, to a second; the earliest on a tie.

    That is its culmination where it has one there, else the span's start or end. Its altitude is
    negative where the body stays down. Errors: as `directions_of`.
    """
    return _extreme(body, place, span, 1.0)


def lowest(body: str, place: Place, span: Span) -> Direction:
    """Give where a body stands lowest inside a span, to a second; see `highest`."""
    return _extreme(body, place, span, -1.0)


def refraction_degrees(altitude_geometric_degrees: Floats, elevation_m: float) -> Floats:
    """Give how much the air lifts a body, in degrees (shape as given), zero or more.

    Saemundsson T., Sky & Telescope 72 (1986) 70, as in Meeus, Astronomical Algorithms, eq. 16.4:
    R = 1.02′ cot(h + 10.3/(h + 5.11)), times P/1010 hPa · 283/(273 + T), here with T = 10 °C and
    P = 1010 · exp(−elevation/8400 m) hPa. From −1° to −2° it fades to zero. Good to 0.07′ in the
    mean air; the real one moves it by 0.2° at the horizon.
    """
    height = np.maximum(altitude_geometric_degrees, LOWEST_REFRACTED_DEGREES)
    minutes = 1.02 / np.tan((height + 10.3 / (height + 5.11)) * DEGREE)
    air = np.exp(-elevation_m / SCALE_HEIGHT_M) * 283 / (273 + AIR_CELSIUS)
    kept = np.clip((altitude_geometric_degrees - FADED_DEGREES), 0.0, 1.0)
    result: Floats = np.maximum(minutes, 0.0) * air / 60 * kept
    return result


def pressure_hpa(elevation_m: float) -> float:
    """Give the pressure that refraction is computed for: 1010 hPa at the sea."""
    return float(SEA_LEVEL_HPA * np.exp(-elevation_m / SCALE_HEIGHT_M))


def _extreme(body: str, place: Place, span: Span, sign: float) -> Direction:
    """Look at the whole span, then ever closer around the best instant so far."""
    low, high = start, end = span.start.timestamp(), span.end.timestamp()
    for step in SEARCH_SECONDS:
        at = np.append(np.arange(low, high, step), high)
        found = directions_at(body, place, at)
        best = int(np.argmax(sign * found.altitude_geometric_degrees))
        instant = float(at[best])
        low, high = max(start, instant - step), min(end, instant + step)
    return _one(found, best, Span.from_seconds(instant, instant).start)


def directions_at(body: str, place: Place, unix: Floats) -> Directions:
    """Give altitude and azimuth at Unix seconds (instant,); see `directions_of`."""
    if not len(unix):
        return Directions(np.empty(0), np.empty(0), np.empty(0))
    return directions_of_vectors(vectors_at(body, unix), place)


def vectors_at(body: str, unix: Floats) -> Floats:
    """Give where a body is from the Earth's centre at Unix seconds, at least one: (instant, 3) km,
    Earth-fixed. Errors: `body_unknown`, `instant_outside`.
    """
    nodes, tt = nodes_for(body, float(unix.min()), float(unix.max())), tt_from_utc(unix)
    return to_earth(of_date(nodes, body, tt), sidereal_at(nodes, tt))


def directions_of_vectors(vectors: Floats, place: Place) -> Directions:
    """Give the directions from a place to Earth-fixed geocentric vectors (instant, 3) in km."""
    return directions_along(vectors - position_of(place), place)


def directions_along(sight: Floats, place: Place) -> Directions:
    """Give the directions of Earth-fixed lines of sight (instant, 3) of any length."""
    east, north, up = level_axes(place) @ sight.T
    height = np.arctan2(up, np.hypot(east, north)) / DEGREE
    azimuth = np.arctan2(east, north) / DEGREE % 360.0
    return Directions(height + refraction_degrees(height, place.elevation_m), height, azimuth)


# All the spots of a large season: nine numbers each.
@lru_cache(maxsize=1024)
def level_axes(place: Place) -> Floats:
    """Give the unit vectors to the east and to the north on the place's horizon, and up: rows.

    At a pole they are those of its meridian, as for a person who came along it.
    """
    latitude, longitude = place.latitude * DEGREE, place.longitude * DEGREE
    cos, sin = np.cos(longitude), np.sin(longitude)
    east = np.array((-sin, cos, 0.0))
    north = np.array((-np.sin(latitude) * cos, -np.sin(latitude) * sin, np.cos(latitude)))
    return np.stack((east, north, observers((place,)).up[0]))


@lru_cache(maxsize=1024)
def position_of(place: Place) -> Floats:
    """Give the vector (3,) from the Earth's centre to a place in km, Earth-fixed."""
    position: Floats = observers((place,)).position[0]
    return position


def nodes_for(body: str, first: float, last: float) -> Nodes:
    """Give nodes with more than a day to spare on either side of two Unix times."""
    return nodes_over(body, *days_for(first, last))


def days_for(first: float, last: float) -> tuple[date, date]:
    """Give the first and the last day of the years whose tables hold two Unix times.

    Whole years, so that all who ask within one share its tables. Errors: `instant_outside`.
    """
    start, end = (Span.from_seconds(at, at).start.date() for at in (first, last))
    # A night may reach half a day into a year that is not computed any more.
    if start < FIRST_DAY - ONE_DAY or end > LAST_DAY + 2 * ONE_DAY:
        raise SkyError("instant_outside", first=start, last=end)
    year = min(max(start, FIRST_DAY), LAST_DAY).year
    # A day early: tables reach three days further, and New Year's Eve needs one, not two.
    last_year = min(max(year, (end - ONE_DAY).year), LAST_DAY.year)
    return date(year, 1, 1), date(last_year, 12, 31)


@lru_cache(maxsize=64)
def nodes_over(body: str, first: date, last: date) -> Nodes:
    """Give the nodes of a body for the days between two."""
    return nodes_between(first, last, ("sun", "moon") if body in ("sun", "moon") else (body,))


def _one(found: Directions, at: int, instant: datetime) -> Direction:
    return Direction(
        instant,
        float(found.altitude_degrees[at]),
        float(found.altitude_geometric_degrees[at]),
        float(found.azimuth_degrees[at]),
    )
