"""When targets stand clear of a spot's skyline in the wanted light, night by night."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import cache, partial
from typing import TypeGuard

import numpy as np
from numpy.typing import NDArray

from sky.directions import Directions
from sky.fixed import FixedSky, fixed_spans
from sky.light.usable import DarkEnough, usable_spans
from sky.lights import light_spans
from sky.moving import directions_at, highest_within, moving_spans, spans_on_way
from sky.night import DARK_LEVELS, SeasonTable
from sky.place import Place
from sky.skyline import Skyline
from sky.span_arrays import intersect
from sky.targets.target import FixedPoint, Light, Point, Target

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

NO_LEAST_DEGREES = -90.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """A target, the light in which it is wanted, and how high it must stand (apparent, degrees).

    Without a least altitude (−90°) the skyline alone limits it. `dark_level` says below what the
    Sun must be where the light is moonless or dark.
    """

    target: Target
    light: Light
    least_altitude_degrees: float = NO_LEAST_DEGREES
    dark_level: int = DARK_LEVELS[0]

    @classmethod
    def as_usual(cls, target: Target) -> Wanted:
        """Want it in the light and at the altitude that its kind has."""
        least = target.least_altitude_degrees
        return cls(target, target.light, NO_LEAST_DEGREES if least is None else least)


@dataclass(frozen=True, slots=True)
class Windows:
    """A target's windows over a season at one spot.

    `spans` (span, 2) Unix seconds, sorted; `night` (span,) the number of each one's night in the
    season. For each night with a window, in order: `best_night`, `best_at` (Unix seconds) where the
    target is highest inside its spans, the earliest on a tie, and there `best_altitude` (apparent),
    `best_altitude_geometric` and `best_azimuth` in degrees. No window: arrays of length zero.
    """

    spans: Floats
    night: Ints
    best_night: Ints
    best_at: Floats
    best_altitude: Floats
    best_altitude_geometric: Floats
    best_azimuth: Floats


def find_windows(
    wanted: Sequence[Wanted],
    place: Place,
    skyline: Skyline,
    table: SeasonTable,
    *,
    index: int = 0,
    enough: DarkEnough | None = None,
) -> list[Windows]:
    """Find the windows of targets at a spot, one `Windows` for each, in the order given.

    `place` is the spot's; `table` the season, whose place number `index` is the site that the spot
    belongs to: nights, twilights and the Moon's rise and set are the site's. A target stands clear
    while the apparent altitude of each of its points is above the skyline and the least altitude.
    `enough` is the sky over the site, for what is wanted in usable dark; None: one without lamps.
    Ordinary edges are good to a second. Errors: those of `light_spans`, `body_unknown`.
    """
    season = _Season(place, skyline, table, index, enough or DarkEnough())
    # The same target in another light goes the same way.
    paths = _paths(list(dict.fromkeys(_course(one) for one in wanted)), season)
    inside = _inside(wanted, paths, season)
    return [
        _windows(spans, paths[_course(one)], season.noons)
        for one, spans in zip(wanted, inside, strict=True)
    ]


class _Season:
    """What all targets of one search share."""

    def __init__(
        self,
        place: Place,
        skyline: Skyline,
        table: SeasonTable,
        index: int,
        enough: DarkEnough,
    ) -> None:
        self.place, self.skyline, self.enough = place, skyline, enough
        self.noons = table.noons[index]
        self.start, self.end = float(self.noons[0]), float(self.noons[-1])
        self.whole = np.array([[self.start, self.end]])
        self.dates = table.first, table.first + timedelta(days=table.nights - 1)
        self.light = cache(partial(light_spans, table, index))


# A target with its least altitude.
_Course = tuple[Target, float]


def _course(one: Wanted) -> _Course:
    return one.target, one.least_altitude_degrees


@dataclass(frozen=True, slots=True)
class _Path:
    """How one target goes over the spot: when it is clear, where it is highest, where it stands."""

    clear: Floats
    highest: Callable[[Floats], Floats]
    directions: Callable[[Floats], Directions]


def is_fixed(point: Point) -> TypeGuard[FixedPoint]:
    return isinstance(point, FixedPoint)


def _paths(courses: Sequence[_Course], season: _Season) -> dict[_Course, _Path]:
    """Solve the places among the stars together, level by level, and everything else by itself."""
    found: dict[_Course, _Path] = {}
    by_level: dict[float, list[_Course]] = defaultdict(list)
    for course in courses:
        target, level = course
        if len(target.points) == 1 and is_fixed(target.points[0]):
            by_level[level].append(course)
        else:
            found[course] = _moving(target, level, season)
    for level, of_level in by_level.items():
        points = [point for target, _ in of_level for point in target.points if is_fixed(point)]
        found |= zip(of_level, _fixed(points, level, season), strict=True)
    return found


def _fixed(points: Sequence[FixedPoint], level: float, season: _Season) -> Iterator[_Path]:
    sky = FixedSky.over(points, season.place, season.dates, season.start, season.end)
    line = season.skyline.raised_to(level)
    found, transits = fixed_spans(sky, line), sky.transits()
    edges = np.searchsorted(found.row, np.arange(len(points) + 1))
    for number in range(len(points)):
        clear, toward = (
            found.spans[edges[number] : edges[number + 1]],
            partial(sky.directions, number),
        )
        if number in found.grazing:
            clear = spans_on_way(toward, line, season.whole)
        yield _Path(clear, partial(_nearest_to_transit, transits[number]), toward)


def _nearest_to_transit(transits: Floats, spans: Floats) -> Floats:
    """Give where in each span a star is highest: at its transit, or at the end nearer to one."""
    after = np.searchsorted(transits, spans)
    before = transits[after - 1]
    far = np.minimum(spans - before, transits[after] - spans)
    at_end = np.where(far[:, 0] <= far[:, 1], spans[:, 0], spans[:, 1])
    first = transits[after[:, 0]]
    return np.where(first < spans[:, 1], first, at_end)


def _moving(target: Target, level: float, season: _Season) -> _Path:
    line, first = season.skyline.raised_to(level), target.points[0]
    clear = _active(target, season)
    for point in target.points:
        clear = intersect(moving_spans(point, season.place, line, clear), clear)
    return _Path(
        clear,
        partial(highest_within, first, season.place),
        partial(directions_at, first, season.place),
    )


def _active(target: Target, season: _Season) -> Floats:
    """Give when a target is there at all."""
    if target.active is None:
        return season.whole
    spans = [
        (span.start.timestamp(), span.end.timestamp()) for span in target.active(*season.dates)
    ]
    return intersect(np.array(spans).reshape(-1, 2), season.whole)


def _inside(
    wanted: Sequence[Wanted], paths: Mapping[_Course, _Path], season: _Season
) -> list[Floats]:
    """Give when each stands right. The sky toward all that want usable dark is judged together."""
    found = []
    for one in wanted:
        there = intersect(paths[_course(one)].clear, _active(one.target, season))
        found.append(intersect(there, season.light(one.light, one.dark_level)))
    usable = [number for number, one in enumerate(wanted) if one.light == "usable"]
    toward = [paths[_course(wanted[number])].directions for number in usable]
    within = [found[number] for number in usable]
    left = usable_spans(toward, season.place, within, season.enough)
    for number, spans in zip(usable, left, strict=True):
        found[number] = spans
    return found


def _windows(inside: Floats, path: _Path, noons: Floats) -> Windows:
    night = np.searchsorted(noons, inside[:, 0], side="right") - 1
    at = path.highest(inside) if len(inside) else np.empty(0)
    seen = path.directions(at)
    # The highest first of each night, the earliest among equals.
    order = np.lexsort((at, -seen.altitude_degrees, night))
    best = order[np.flatnonzero(np.diff(night[order], prepend=-1))]
    return Windows(
        spans=inside,
        night=night,
        best_night=night[best],
        best_at=at[best],
        best_altitude=seen.altitude_degrees[best],
        best_altitude_geometric=seen.altitude_geometric_degrees[best],
        best_azimuth=seen.azimuth_degrees[best],
    )
