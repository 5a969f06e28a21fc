"""When targets stand clear of a spot's skyline in the wanted light, night by night."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import timedelta
from functools import cache, partial
from typing import TypeGuard

import numpy as np
from numpy.typing import NDArray

from sky.directions import Directions, joined
from sky.fixed import FixedSky, fixed_spans
from sky.light.usable import DarkEnough, usable_spans
from sky.lights import light_spans
from sky.moving import (
    highest_within,
    moving_spans,
    spans_of_all,
    spans_on_way,
    standings_at,
)
from sky.night import DARK_LEVELS, SeasonTable
from sky.place import Place
from sky.skyline import Skyline
from sky.span_arrays import NONE, intersect
from sky.targets.target import Body, FixedPoint, Light, Point, Target

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
    courses = _Courses(list(dict.fromkeys(_course(one) for one in wanted)), season)
    numbers = np.array([courses.number[_course(one)] for one in wanted], np.intp)
    inside = _inside(wanted, numbers, courses, season)
    return list(_windows(inside, numbers, courses, season.noons))


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


def is_fixed(point: Point) -> TypeGuard[FixedPoint]:
    return isinstance(point, FixedPoint)


class _Courses:
    """How targets go over the spot: places among the stars first, numbered from 0, then the rest.

    `clear` when each is clear, (span, 2).
    """

    def __init__(self, courses: Iterable[_Course], season: _Season) -> None:
        fixed, moving = _parted(courses)
        points = [point for target, _ in fixed for point in target.points if is_fixed(point)]
        self.place = season.place
        self.number = {course: number for number, course in enumerate((*fixed, *moving))}
        self.sky = FixedSky.over(points, season.place, season.dates, season.start, season.end)
        self.transits = self.sky.transits()
        self.moving = [target.points[0] for target, _ in moving]
        levels = np.array([level for _, level in fixed])
        self.clear = _clear_of_fixed(self.sky, levels, season)
        self.clear += _clear_of_moving(moving, season)

    def directions(self, which: Ints, unix: Floats) -> Directions:
        """Give where courses of such numbers stand."""
        moves = which >= len(self.transits)
        stars, others = np.flatnonzero(~moves), np.flatnonzero(moves)
        both = joined((
            self.sky.directions(which[stars], unix[stars]),
            standings_at(
                self.moving, self.place, which[others] - len(self.transits), unix[others]
            ),
        ))  # fmt: skip
        return both.part(np.argsort(np.concatenate((stars, others))))

    def highest(self, number: int, spans: Floats) -> Floats:
        """Give where in each span a course is highest."""
        if number < len(self.transits):
            return _nearest_to_transit(self.transits[number], spans)
        return highest_within(self.moving[number - len(self.transits)], self.place, spans)


def _parted(courses: Iterable[_Course]) -> tuple[list[_Course], list[_Course]]:
    """Give the courses of one place among the stars, and all others."""
    fixed: list[_Course] = []
    moving: list[_Course] = []
    for course in courses:
        points = course[0].points
        (fixed if len(points) == 1 and is_fixed(points[0]) else moving).append(course)
    return fixed, moving


def _clear_of_fixed(sky: FixedSky, levels: Floats, season: _Season) -> list[Floats]:
    """Solve the places among the stars together, level by level."""
    clear = [NONE] * len(levels)
    for level in np.unique(levels).tolist():
        numbers = np.flatnonzero(levels == level)
        some, line = sky.only(numbers), season.skyline.raised_to(level)
        found = fixed_spans(some, line)
        edges = np.searchsorted(found.row, np.arange(len(numbers) + 1))
        for row, number in enumerate(numbers.tolist()):
            clear[number] = found.spans[edges[row] : edges[row + 1]]
            if row in found.grazing:
                clear[number] = spans_on_way(partial(some.directions, row), line, season.whole)
    return clear


def _nearest_to_transit(transits: Floats, spans: Floats) -> Floats:
    """Give where in each span a star is highest: at its transit, or at the end nearer to one."""
    after = np.searchsorted(transits, spans)
    before = transits[after - 1]
    far = np.minimum(spans - before, transits[after] - spans)
    at_end = np.where(far[:, 0] <= far[:, 1], spans[:, 0], spans[:, 1])
    first = transits[after[:, 0]]
    return np.where(first < spans[:, 1], first, at_end)


def _clear_of_moving(courses: Sequence[_Course], season: _Season) -> list[Floats]:
    """Solve the bodies together, level by level, and everything else by itself."""
    found: dict[_Course, Floats] = {}
    bodies = [course for course in courses if _is_body(course[0])]
    for least in {level for _, level in bodies}:
        some = [(target, level) for target, level in bodies if level == least]
        points = [point for target, _ in some for point in target.points if isinstance(point, Body)]
        line = season.skyline.raised_to(least)
        found |= zip(some, spans_of_all(points, season.place, line, season.whole), strict=True)
    return [
        found[course] if course in found else _clear_by_itself(*course, season)
        for course in courses
    ]


def _is_body(target: Target) -> bool:
    """Tell a single body that is there all the season."""
    return target.active is None and [type(point) for point in target.points] == [Body]


def _clear_by_itself(target: Target, level: float, season: _Season) -> Floats:
    line, clear = season.skyline.raised_to(level), _active(target, season)
    for point in target.points:
        clear = intersect(moving_spans(point, season.place, line, clear), clear)
    return clear


def _active(target: Target, season: _Season) -> Floats:
    """Give when a target is there at all."""
    if target.active is None:
        return season.whole
    spans = [
        (span.start.timestamp(), span.end.timestamp()) for span in target.active(*season.dates)
    ]
    return intersect(np.array(spans).reshape(-1, 2), season.whole)


def _inside(
    wanted: Sequence[Wanted], numbers: Ints, courses: _Courses, season: _Season
) -> list[Floats]:
    """Give when each stands right. The sky toward all that want usable dark is judged together."""
    found = []
    for one, number in zip(wanted, numbers.tolist(), strict=True):
        there = intersect(courses.clear[number], _active(one.target, season))
        found.append(intersect(there, season.light(one.light, one.dark_level)))
    usable = [row for row, one in enumerate(wanted) if one.light == "usable"]

    def toward(which: Ints, unix: Floats) -> Directions:
        return courses.directions(numbers[usable][which], unix)

    left = usable_spans(toward, season.place, [found[row] for row in usable], season.enough)
    for row, spans in zip(usable, left, strict=True):
        found[row] = spans
    return found


def _windows(
    inside: Sequence[Floats], numbers: Ints, courses: _Courses, noons: Floats
) -> Iterator[Windows]:
    counts = [len(spans) for spans in inside]
    best = [
        courses.highest(number, spans)
        for number, spans in zip(numbers.tolist(), inside, strict=True)
    ]
    at = np.concatenate([*best, np.empty(0)])
    seen = courses.directions(np.repeat(numbers, counts), at)
    edges = np.cumsum([0, *counts])
    for spans, first, last in zip(inside, edges, edges[1:], strict=False):
        yield _of_one(spans, at[first:last], seen.part(slice(first, last)), noons)


def _of_one(spans: Floats, at: Floats, seen: Directions, noons: Floats) -> Windows:
    night = np.searchsorted(noons, spans[:, 0], side="right") - 1
    # The highest first of each night, the earliest among equals.
    order = np.lexsort((at, -seen.altitude_degrees, night))
    best = order[np.flatnonzero(np.diff(night[order], prepend=-1))]
    return Windows(
        spans=spans,
        night=night,
        best_night=night[best],
        best_at=at[best],
        best_altitude=seen.altitude_degrees[best],
        best_altitude_geometric=seen.altitude_geometric_degrees[best],
        best_azimuth=seen.azimuth_degrees[best],
    )
