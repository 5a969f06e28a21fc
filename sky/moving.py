"""When Sun, Moon, planets and the arch of the Milky Way stand clear: sampled over the season.

Also for a star that grazes its skyline, which must be followed day by day.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sky.apparent import directions_toward
from sky.clearing import Clearance, clear_spans
from sky.directions import Directions, refraction_degrees
from sky.lights import grid_between
from sky.place import Place
from sky.skyline import Skyline
from sky.targets.target import Arch, FixedPoint, Point

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

SAMPLE_SECONDS = 1200.0
TOLERANCE_SECONDS = 0.001
TOP_SECONDS = 600.0

# The north galactic pole, ICRS: ESA SP-1200 (1997), vol. 1, sec. 1.5.3.
GALACTIC_POLE = FixedPoint(192.85948, 27.12825)


def directions_at(point: Point, place: Place, unix: Floats) -> Directions:
    """Give where a point of any sort stands; of the arch, where its highest point does."""
    if not isinstance(point, Arch):
        return directions_toward(point, place, unix)
    pole = directions_toward(GALACTIC_POLE, place, unix)
    height = 90.0 - np.abs(pole.altitude_geometric_degrees)
    # The band is highest opposite the pole's azimuth while the pole is up, and toward it after.
    away = np.where(pole.altitude_geometric_degrees >= 0, 180.0, 0.0)
    azimuth = (pole.azimuth_degrees + away) % 360.0
    return Directions(height + refraction_degrees(height, place.elevation_m), height, azimuth)


def moving_spans(point: Point, place: Place, line: Skyline, within: Floats) -> Floats:
    """Find when a point stands clear of the line, at any time from the first of `within` to the
    last: (span, 2) Unix seconds. An arch knows no line, but its own least and greatest height.
    """
    if not len(within):
        return np.empty((0, 2))
    grid = grid_between(float(within[0, 0]), float(within[-1, 1]), SAMPLE_SECONDS)
    corners = line.azimuths[1:-1] if not isinstance(point, Arch) else np.empty(0)
    clearance = _clearance(point, place, line)
    return clear_spans(clearance, grid, corners=corners, tolerance=TOLERANCE_SECONDS)


def _clearance(point: Point, place: Place, line: Skyline) -> Clearance:
    def clearance(_row: Ints, unix: Floats) -> tuple[Floats, Floats]:
        seen = directions_at(point, place, unix)
        height = seen.altitude_degrees
        if isinstance(point, Arch):
            room = np.minimum(height - point.lowest_top_degrees, point.highest_top_degrees - height)
            return room, seen.azimuth_degrees
        return height - line.at(seen.azimuth_degrees), seen.azimuth_degrees

    return clearance


def highest_within(point: Point, place: Place, spans: Floats) -> Floats:
    """Give where in each span (span, 2) a point is highest: (span,) Unix seconds.

    Found among samples ten minutes apart and closed in on by parabolas, to a few seconds: there
    the altitude is level. The earliest on a tie.
    """
    best = _best_of(point, place, *_spread(spans, TOP_SECONDS))
    for step in (60.0, 5.0):
        low = np.maximum(best - step, spans[:, 0])
        high = np.minimum(best + step, spans[:, 1])
        best = _top_of_three(point, place, low, best, high)
    return best


def _spread(spans: Floats, step: float) -> tuple[Ints, Floats]:
    """Lay instants over every span, its ends among them: numbers of spans, and Unix seconds."""
    counts = np.ceil((spans[:, 1] - spans[:, 0]) / step).astype(np.intp) + 1
    of = np.repeat(np.arange(len(spans)), counts)
    number = np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = number / np.maximum(counts[of] - 1, 1)
    return of, spans[of, 0] + share * (spans[of, 1] - spans[of, 0])


def _best_of(point: Point, place: Place, of: Ints, at: Floats) -> Floats:
    height = directions_at(point, place, at).altitude_geometric_degrees
    # Sorted by span, the highest first, the earliest among equals.
    order = np.lexsort((at, -height, of))
    first = np.concatenate(([True], of[order][1:] != of[order][:-1]))
    result: Floats = at[order][first]
    return result


def _top_of_three(point: Point, place: Place, low: Floats, middle: Floats, high: Floats) -> Floats:
    """Step from the middle of three instants to the top of the parabola through them."""
    at = np.stack((low, middle, high))
    h = directions_at(point, place, at.ravel()).altitude_geometric_degrees.reshape(at.shape)
    before, after = low - middle, high - middle
    with np.errstate(divide="ignore", invalid="ignore"):
        left, right = (h[0] - h[1]) / before, (h[2] - h[1]) / after
        bend = (right - left) / (after - before)
        move = -(left - bend * before) / (2 * bend)
    ends = np.where(h[0] >= h[2], before, after)
    move = np.where(np.isfinite(move) & (bend < 0), np.clip(move, before, after), ends)
    tried = directions_at(point, place, middle + move).altitude_geometric_degrees
    return np.where(tried > h[1], middle + move, middle)
