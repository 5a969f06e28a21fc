"""What ends a target's windows, or begins them, beside the Sun: the Moon, the land, its height."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sky.directions import Directions
from sky.moving import standings_at
from sky.targets.target import Arch, Point
from sky.windows import Wanted
from trips.almanac.one_night import OneNight

Floats = NDArray[np.float64]
Marks = NDArray[np.bool_]

SAME_SECONDS = 1.0
# At an edge that a line has made a target stands on that line: edges are good to a second.
ON_LINE_DEGREES = 0.02

By = Literal["moon", "land", "height", "top", "sky"]


@dataclass(frozen=True, slots=True)
class Limit:
    """An end of a window, in Unix seconds: `is_until` it something was in the way, or from it on.

    By the Moon, the land, the target's own height over the horizon, or that of the `top` of an
    arch, that is too steep (`degrees` high) or too flat; by the `sky`, that Moon or twilight
    brighten.
    """

    by: By
    at: float
    is_until: bool
    degrees: float = 0.0


def limits_of(
    wanted: Sequence[Wanted], spans: Sequence[Floats], night: OneNight
) -> Iterator[tuple[Limit, ...]]:
    """Tell which ends (span, 2) of each target's windows are not the Sun's doing, and whose."""
    ends = [each.ravel() for each in spans]
    seen = _standings(wanted, ends, night)
    for one, its in zip(wanted, ends, strict=True):
        found: dict[int, Limit] = {}
        for by, degrees, marks in _causes(one, its, seen, night):
            for number in np.flatnonzero(marks).tolist():
                limit = Limit(by, float(its[number]), number % 2 == 0, degrees)
                found.setdefault(number, limit)
        yield tuple(found[number] for number in sorted(found))


def _standings(
    wanted: Sequence[Wanted], ends: Sequence[Floats], night: OneNight
) -> Iterator[tuple[Point, Directions]]:
    """Give where each point of each target stands at the ends of its windows, one by one."""
    pairs = [
        (point, its) for one, its in zip(wanted, ends, strict=True) for point in one.target.points
    ]
    counts = [len(its) for _, its in pairs]
    at = np.concatenate([np.empty(0), *(its for _, its in pairs)])
    points = [point for point, _ in pairs]
    seen = standings_at(points, night.place, np.repeat(np.arange(len(points)), counts), at)
    edges = np.cumsum([0, *counts]).tolist()
    for point, (first, last) in zip(points, pairwise(edges), strict=True):
        yield point, seen.part(slice(first, last))


def _causes(
    one: Wanted, ends: Floats, seen: Iterator[tuple[Point, Directions]], night: OneNight
) -> Iterator[tuple[By, float, Marks]]:
    """Give what may have set the ends, with a height in degrees, and whether it did."""
    if one.light == "moonless":
        moonless, dark = (night.light(light, one.dark_level) for light in ("moonless", "dark"))
        yield "moon", 0.0, _among(ends, moonless) & ~_among(ends, dark)
    for point, stands in islice(seen, len(one.target.points)):
        height = stands.altitude_degrees
        if isinstance(point, Arch):
            for top in (point.lowest_top_degrees, point.highest_top_degrees):
                yield "top", top, _on_line(height - top)
            continue
        if not night.skyline.is_level:
            yield "land", 0.0, _on_line(height - night.skyline.at(stands.azimuth_degrees))
        least = max(one.least_altitude_degrees, 0.0)
        yield "height", least, _on_line(height - least)
    if one.light == "usable":
        yield "sky", 0.0, ~_among(ends, night.light("usable", one.dark_level))


def _among(ends: Floats, spans: Floats) -> Marks:
    near: Marks = np.abs(ends[:, None] - spans.ravel()) < SAME_SECONDS
    result: Marks = np.logical_or.reduce(near, axis=1)
    return result


def _on_line(over: Floats) -> Marks:
    result: Marks = np.abs(over) < ON_LINE_DEGREES
    return result
