"""When Sun, Moon, planets and the arch of the Milky Way stand clear: sampled over the season.

Also for a star that grazes its skyline, which must be followed day by day.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache, partial

import numpy as np
from numpy.typing import NDArray

from sky.apparent import directions_of_each
from sky.clearing import Clearance, Samples, clear_spans, near_line, sample, spans_of_each
from sky.directions import Directions, directions_of_vectors, joined, nodes_for
from sky.ephemeris import earth_fixed, tt_from_utc
from sky.galactic import NORTH_POLE, standing_of_band
from sky.lights import grid_between
from sky.place import Place
from sky.skyline import Skyline
from sky.span_arrays import spread
from sky.targets.target import Arch, Body, FixedPoint, Point

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

# In twenty minutes the sky turns by five degrees, and the Moon by less.
SAMPLE_SECONDS, MOTION_DEGREES = 1200.0, 6.0
TOLERANCE_SECONDS = 0.001
TOP_SECONDS = 600.0
# Instants looked at around the best so far; the next look is that much closer.
TRIED = 11
# What bends less than this over twenty minutes has no top of its own: a star over a pole.
FLAT = 1e-9


def directions_at(point: Point, place: Place, unix: Floats) -> Directions:
    """Give where a point of any sort stands; of the arch, where its highest point does."""
    return standings_at((point,), place, np.zeros(len(unix), np.intp), unix)


def standings_at(points: Sequence[Point], place: Place, which: Ints, unix: Floats) -> Directions:
    """Give the same of several, of which `which` (instant,) says the one that is asked for."""
    is_arch = np.array([isinstance(point, Arch) for point in points])[which]
    seen = directions_of_each(
        [NORTH_POLE if isinstance(point, Arch) else point for point in points], place, which, unix
    )
    if not is_arch.any():
        return seen
    band = standing_of_band(seen, place)
    return Directions(
        np.where(is_arch, band.highest_degrees, seen.altitude_degrees),
        np.where(is_arch, band.highest_geometric_degrees, seen.altitude_geometric_degrees),
        np.where(is_arch, band.top_azimuth_degrees, seen.azimuth_degrees),
    )


def all_standings(points: Sequence[Point], place: Place, unix: Floats) -> Directions:
    """Give where each of several stands at each of the instants: shapes (point, instant)."""
    shape = len(points), len(unix)
    which = np.repeat(np.arange(len(points)), len(unix))
    seen = standings_at(points, place, which, np.tile(unix, len(points)))
    return Directions(
        seen.altitude_degrees.reshape(shape),
        seen.altitude_geometric_degrees.reshape(shape),
        seen.azimuth_degrees.reshape(shape),
    )


def moving_spans(point: Point, place: Place, line: Skyline, within: Floats) -> Floats:
    """Find when a point stands clear of the line, at any time from the first of `within` to the
    last: (span, 2) Unix seconds. An arch knows no line, but its own least and greatest height.
    """
    if not len(within):
        return np.empty((0, 2))
    if isinstance(point, Arch):
        grid, room = _grid(within), _room(point, place)
        return clear_spans(room, sample(room, grid), tolerance=TOLERANCE_SECONDS)
    (spans,) = spans_of_all((point,), place, line, within)
    return spans


def spans_of_all(
    points: Sequence[FixedPoint | Body], place: Place, line: Skyline, within: Floats
) -> list[Floats]:
    """Find the same of several points, none of them an arch, over one line."""
    grid = _grid(within)
    seen = [_on_grid(point, place, grid) for point in points]
    return _clear(partial(directions_of_each, points, place), line, grid, seen)


def spans_on_way(toward: Callable[[Floats], Directions], line: Skyline, within: Floats) -> Floats:
    """Find the same for whatever stands where `toward` says at Unix seconds."""
    grid = _grid(within)
    (spans,) = _clear(lambda _row, unix: toward(unix), line, grid, [toward(grid)])
    return spans


def _grid(within: Floats) -> Floats:
    return grid_between(float(within[0, 0]), float(within[-1, 1]), SAMPLE_SECONDS)


def _clear(
    toward: Callable[[Ints, Floats], Directions],
    line: Skyline,
    grid: Floats,
    seen: Sequence[Directions],
) -> list[Floats]:
    """Find it of several, each a row, which `seen` has on the grid."""

    def clearance(row: Ints, unix: Floats) -> tuple[Floats, Floats]:
        return _over(line, toward(row, unix))

    row, x = np.repeat(np.arange(len(seen)), len(grid)), np.tile(grid, len(seen))
    samples = Samples(row, x, *_over(line, joined(seen)))
    corners = line.azimuths[1:-1]
    return spans_of_each(
        clearance, samples, len(seen), corners=corners, tolerance=TOLERANCE_SECONDS
    )


def _room(arch: Arch, place: Place) -> Clearance:
    def room(_row: Ints, unix: Floats) -> tuple[Floats, Floats]:
        seen = directions_at(arch, place, unix)
        height = seen.altitude_degrees
        low, high = arch.lowest_top_degrees, arch.highest_top_degrees
        return np.minimum(height - low, high - height), seen.azimuth_degrees

    return room


def _over(line: Skyline, seen: Directions) -> tuple[Floats, Floats]:
    height, azimuth = seen.altitude_degrees, seen.azimuth_degrees
    return height - line.at(azimuth), near_line(height, azimuth, line, MOTION_DEGREES)


def _on_grid(point: FixedPoint | Body, place: Place, grid: Floats) -> Directions:
    if isinstance(point, FixedPoint):
        return directions_at(point, place, grid)
    return directions_of_vectors(_vectors(point, float(grid[0]), float(grid[-1])), place)


@lru_cache(maxsize=8)
def _vectors(body: Body, start: float, end: float) -> Floats:
    """Give a body's geocentric vectors (instant, 3) in km, the same for all places of a zone."""
    grid = grid_between(start, end, SAMPLE_SECONDS)
    toward, distance = earth_fixed(nodes_for(body.name, start, end), body.name, tt_from_utc(grid))
    vectors: Floats = np.ascontiguousarray((toward * distance).T)
    return vectors


def highest_within(point: Point, place: Place, spans: Floats) -> Floats:
    """Give where in each span (span, 2) a point is highest: (span,) Unix seconds, to 3 s or to
    0.02″ of altitude; the earliest on a tie.

    The sine of its altitude is as good as a sine of the time: the top of the parabola through the
    highest of instants 20 min apart and its neighbours is the top. The arch has a bend at its
    highest, and is looked at ever more closely instead.
    """
    if not len(spans):
        return np.empty(0)
    if isinstance(point, Arch):
        return _closer_and_closer(point, place, spans)
    of, at = spread(spans, SAMPLE_SECONDS)
    seen = directions_at(point, place, at)
    rise = np.sin(np.radians(seen.altitude_geometric_degrees))
    best = _highest(of, at, rise)
    first = np.searchsorted(of, np.arange(len(spans)))
    last = np.searchsorted(of, np.arange(len(spans)), side="right") - 1
    middle = np.clip(best, first + 1, last - 1)
    before, after = rise[middle - 1], rise[middle + 1]
    bend = 2 * rise[middle] - before - after
    step = at[middle + 1] - at[middle]
    top = at[middle] + step * (after - before) / (2 * np.where(bend > FLAT, bend, 1.0))
    return np.where(bend > FLAT, np.clip(top, spans[:, 0], spans[:, 1]), at[best])


def _closer_and_closer(point: Point, place: Place, spans: Floats) -> Floats:
    """Look ten minutes apart, then ever closer around the best, to a second."""
    best = _best_of(point, place, *spread(spans, TOP_SECONDS))
    step = TOP_SECONDS
    while step > 1.0:
        around = best[:, None] + np.linspace(-step, step, TRIED)
        inside = np.clip(around, spans[:, :1], spans[:, 1:])
        of = np.repeat(np.arange(len(spans)), TRIED)
        best = _best_of(point, place, of, inside.ravel())
        step *= 2 / (TRIED - 1)
    return best


def _best_of(point: Point, place: Place, of: Ints, at: Floats) -> Floats:
    """Give, of each span's instants, the highest; the earliest among equals."""
    height = directions_at(point, place, at).altitude_geometric_degrees
    result: Floats = at[_highest(of, at, height)]
    return result


def _highest(of: Ints, at: Floats, height: Floats) -> Ints:
    """Give, of each span's instants, the number of the highest; the earliest among equals."""
    order = np.lexsort((at, -height, of))
    return order[np.concatenate(([True], of[order][1:] != of[order][:-1]))]
