"""Altitudes of bodies at places as one matrix product: rows of places times columns of time.

A body is a track in the Earth-fixed frame, a place a geocentric vector r with a geodetic up u. With
the unit vector p̂ and the distance p of the body, sin(altitude) = u·(p p̂ − r) / |p p̂ − r|. Near its
level that is, to 0.02″, linear in a few columns that no place enters, so that a block of places
costs one product and no square root.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from sky.constants import (
    DEGREE,
    HORIZON_REFRACTION_DEGREES,
    MOON_RADIUS_KM,
    WGS84_FLATTENING,
    WGS84_RADIUS_KM,
)
from sky.ephemeris import Nodes, earth_fixed, nodes_between
from sky.place import Place

Floats = NDArray[np.float64]

SAMPLE_SECONDS = 3600.0


@dataclass(frozen=True, slots=True)
class Track:
    """A body over a season, ready to be multiplied with places.

    `start` seconds of TT since J2000 of the first sample, one every SAMPLE_SECONDS; `columns`
    (term, sample); `mean_inverse_distance` 1/km.
    """

    start: float
    columns: Floats
    mean_inverse_distance: float


@dataclass(frozen=True, slots=True)
class MoonPhase:
    """Splines of the Moon's geocentric illuminated fraction and of its elongation in longitude.

    Both take seconds of TT since J2000; the elongation is in radians, unwrapped.
    """

    illuminated: CubicSpline
    elongation: CubicSpline


@dataclass(frozen=True, slots=True)
class Observers:
    """Places as arrays: geodetic up (place, 3), geocentric position (place, 3) in km."""

    up: Floats
    position: Floats


def observers(places: Sequence[Place]) -> Observers:
    """Turn places into vectors on the WGS84 ellipsoid (NIMA TR8350.2, 3rd ed.; from memory)."""
    latitude = np.array([place.latitude for place in places]) * DEGREE
    longitude = np.array([place.longitude for place in places]) * DEGREE
    height = np.array([place.elevation_m for place in places]) / 1000
    up = np.stack(
        (
            np.cos(latitude) * np.cos(longitude),
            np.cos(latitude) * np.sin(longitude),
            np.sin(latitude),
        ),
        axis=1,
    )
    eccentricity2 = WGS84_FLATTENING * (2 - WGS84_FLATTENING)
    normal = WGS84_RADIUS_KM / np.sqrt(1 - eccentricity2 * np.sin(latitude) ** 2)
    position = (normal + height)[:, None] * up
    position[:, 2] -= eccentricity2 * normal * np.sin(latitude)
    return Observers(up, position)


@lru_cache(maxsize=8)
def season_nodes(first: date, last: date) -> Nodes:
    """Give the nodes of Sun and Moon for a season."""
    return nodes_between(first, last, ("sun", "moon"))


@lru_cache(maxsize=8)
def point_track(body: str, first: date, last: date) -> Track:
    """Tabulate a body whose centre crosses fixed levels: the Sun, or a planet."""
    nodes = season_nodes(first, last) if body == "sun" else nodes_between(first, last, (body,))
    tt = _samples(nodes)
    direction, distance = earth_fixed(nodes, body, tt)
    return Track(float(tt[0]), np.vstack((direction, 1 / distance)), float(np.mean(1 / distance)))


@lru_cache(maxsize=8)
def moon_track(first: date, last: date) -> Track:
    """Tabulate the Moon, whose level at rise and set goes with its distance from the place."""
    nodes = season_nodes(first, last)
    tt = _samples(nodes)
    direction, distance = earth_fixed(nodes, "moon", tt)
    inverse = 1 / distance
    columns = np.vstack(
        (direction, inverse, direction * inverse, inverse * inverse, np.ones_like(inverse))
    )
    return Track(float(tt[0]), columns, float(np.mean(inverse)))


def _samples(nodes: Nodes) -> Floats:
    start = np.ceil(nodes.tt[0] / SAMPLE_SECONDS) * SAMPLE_SECONDS
    return np.arange(start, nodes.tt[-1], SAMPLE_SECONDS)


def point_samples(track: Track, seen_from: Observers) -> Floats:
    """Give u·p̂ − (u·r)/p at every place and sample: compare with `point_levels`."""
    rows = np.column_stack((seen_from.up, -_up_dot_position(seen_from)))
    result: Floats = rows @ track.columns
    return result


def point_levels(track: Track, seen_from: Observers, level_degrees: float) -> Floats:
    """Give each place's level for `point_samples`, where the true altitude is `level_degrees`.

    With 1/|p − r| to first order, sin a = u·p̂ − (u·r)/p + sin a · (p̂·r)/p, and at the level
    p̂·r is (u·r) sin a but for 0.02″.
    """
    sine = np.sin(level_degrees * DEGREE)
    parallax = _up_dot_position(seen_from) * track.mean_inverse_distance
    result: Floats = sine - parallax * sine * sine
    return result


def moon_samples(track: Track, seen_from: Observers) -> Floats:
    """Give a function that is positive while the Moon's upper limb is up, at places and samples.

    The limb is on the horizon where sin a = −sin(34′ + s), sin s = R/D. Times D/p, with D, the
    topocentric distance, as p − p̂·r + r²/2p (near the horizon p̂·r is small), every term is a
    place's coefficient times one of the track's columns.
    """
    sine = np.sin(HORIZON_REFRACTION_DEGREES * DEGREE)
    cosine = np.cos(HORIZON_REFRACTION_DEGREES * DEGREE)
    distance2 = np.sum(seen_from.position**2, axis=1)
    rows = np.column_stack(
        (
            seen_from.up,
            cosine * MOON_RADIUS_KM - _up_dot_position(seen_from),
            -sine * seen_from.position,
            0.5 * sine * (distance2 - MOON_RADIUS_KM**2),
            np.full(len(distance2), sine),
        )
    )
    result: Floats = rows @ track.columns
    return result


def _up_dot_position(seen_from: Observers) -> Floats:
    result: Floats = np.sum(seen_from.up * seen_from.position, axis=1)
    return result


@lru_cache(maxsize=8)
def moon_phase(first: date, last: date) -> MoonPhase:
    """Give the Moon's phase over a season, seen from the Earth's centre."""
    return phase_of(season_nodes(first, last))


def phase_of(nodes: Nodes) -> MoonPhase:
    """Spline illuminated fraction, (1 + cos i)/2 (Meeus, Astronomical Algorithms, ch. 48)."""
    sun, moon = nodes.positions["sun"], nodes.positions["moon"]
    sun_distance, moon_distance = np.linalg.norm(sun, axis=1), np.linalg.norm(moon, axis=1)
    cosine = np.sum(sun * moon, axis=1) / (sun_distance * moon_distance)
    sine = np.sqrt(1 - cosine * cosine)
    phase_angle = np.arctan2(sun_distance * sine, moon_distance - sun_distance * cosine)
    elongation = nodes.longitudes["moon"] - nodes.longitudes["sun"]
    return MoonPhase(
        CubicSpline(nodes.tt, (1 + np.cos(phase_angle)) / 2),
        CubicSpline(nodes.tt, np.unwrap(elongation)),
    )
