"""When two are said to agree on what is seen when, and what the referee sees of the wanted.

It is looked at every twenty seconds, every second while a corner of the skyline is passed, and a
second before and after each of our edges. Wherever it and we say different things, either one of
our edges is within a second, or it sees the target within ALLOWED_DEGREES of the line: 0.5″ for a
grazing edge, and 0.8″ that Astropy's polar motion and diurnal aberration, which ours leaves out,
differ at most.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sky.skyline import Skyline
from sky.targets.target import LIGHTS, Body, FixedPoint, Light, Point
from tests.against.astropy_sky import MOON_RADIUS_KM, Sky

Floats = NDArray[np.float64]

ALLOWED_DEGREES = (0.5 + 0.8) / 3600
ORDINARY_SECONDS = 1.0
LOOK_SECONDS = 20.0
CORNER_LOOKS = 21

# Degrees by which something is as wanted, at Unix seconds; negative while it is not.
Margin = Callable[[Floats], Floats]


def line_of(skyline: Skyline, azimuth: Floats) -> tuple[Floats, Floats]:
    """Give the skyline's altitude toward azimuths, and how steep it is there."""
    if skyline.is_level:
        return np.zeros(len(azimuth)), np.zeros(len(azimuth))
    around, height = np.array(skyline.points).T
    up, ahead = (np.interp(azimuth + move, around, height, period=360.0) for move in (0, 1e-6))
    return up, (ahead - up) / 1e-6


def clear_of(skyline: Skyline, least: float, track: Any) -> Margin:
    """Give by how much a track is clear, measured across the line where that is steep."""

    def margin(unix: Floats) -> Floats:
        altitude, azimuth = track.apparent(unix)
        up, steep = line_of(skyline, azimuth)
        across = np.hypot(1.0, steep / np.maximum(np.cos(np.radians(altitude)), 1e-6))
        room: Floats = np.minimum((altitude - up) / across, altitude - least)
        return room

    return margin


# Usable dark is no place of Sun and Moon but a model's figure: tests/sky/test_light_usable.py.
SHARP_LIGHTS: tuple[Light, ...] = tuple(light for light in LIGHTS if light != "usable")


def light_margin(sky: Sky, light: Light, dark_level: float = -18.0) -> Margin:
    """Give by how much a light is there, from its definition."""
    if light == "any":
        return lambda unix: np.full(len(unix), 90.0)
    sun, moon = sky.body("sun"), sky.body("moon")

    def margin(unix: Floats) -> Floats:
        depth = -sun.geometric(unix)[0]
        height, _, distance = moon.geometric(unix)
        if light == "twilight":
            return np.minimum(depth - 6.0, 12.0 - depth)
        if light == "moonlit":
            seen, lit = moon.apparent(unix)[0], sky.illuminated_angle(unix)
            thin, full = np.degrees(np.arccos(1 - 2 * np.array([0.10, 0.70])))
            room = (depth - 12.0, seen - 10, 45 - seen, lit - thin, full - lit)
            least: Floats = np.array(room).min(axis=0)
            return least
        down = -34 / 60 - np.degrees(np.arcsin(MOON_RADIUS_KM / distance)) - height
        dark: Floats = depth + dark_level
        return dark if light == "dark" else np.minimum(dark, down)

    return margin


def track_of(sky: Sky, point: Point) -> Any:
    if isinstance(point, FixedPoint):
        return sky.star(point.ra_degrees, point.dec_degrees)
    assert isinstance(point, Body)
    return sky.body(point.name)


def looks(spans: Floats, start: float, end: float, skyline: Skyline, tracks: list[Any]) -> Floats:
    """Give the instants to look at: evenly, closer at corners, and beside our edges."""
    even = np.arange(start, end, LOOK_SECONDS)
    edges = spans.ravel()
    beside = [edges - ORDINARY_SECONDS * 1.001, edges + ORDINARY_SECONDS * 1.001]
    closer = [spans.mean(axis=1)]
    corners = np.array([azimuth for azimuth, _ in skyline.points])
    for track in tracks if len(corners) > 1 else []:
        between = np.searchsorted(corners, track.apparent(even)[1])
        at = even[:-1][np.diff(between) != 0]
        closer.append((at[:, None] + np.linspace(0, LOOK_SECONDS, CORNER_LOOKS)).ravel())
    every = np.concatenate((even, *beside, *closer))
    found: Floats = every[(every >= start) & (every < end)]
    return found


def inside(spans: Floats, unix: Floats) -> NDArray[np.bool_]:
    if not len(spans):
        return np.zeros(len(unix), np.bool_)
    at = np.clip(np.searchsorted(spans[:, 0], unix, side="right") - 1, 0, None)
    result: NDArray[np.bool_] = (unix >= spans[at, 0]) & (unix < spans[at, 1])
    return result


def far_from(
    edges: Floats, unix: Floats, seconds: float | Floats = ORDINARY_SECONDS
) -> NDArray[np.bool_]:
    around = np.concatenate(([-np.inf], np.sort(edges), [np.inf]))
    after = np.searchsorted(around, unix)
    nearest = np.minimum(unix - around[after - 1], around[after] - unix)
    result: NDArray[np.bool_] = nearest > seconds
    return result
