"""A wanted place of the sky, and the path of a target as it is seen from there.

A path is sampled as a vector in the frame of the wanted azimuth: to its right, ahead, up. What it
crosses (the azimuth, the edges of a tolerance) is found on those samples. Instants are TT here.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from sky.apparent import directions_toward
from sky.constants import DEGREE
from sky.crossings import MARGIN, Crossings, find_crossings
from sky.directions import Directions, refraction_degrees
from sky.ephemeris import tt_from_utc, utc_from_tt
from sky.errors import SkyError
from sky.night import SeasonTable
from sky.place import Place
from sky.span_arrays import above, below, holding, intersect
from sky.targets.target import Arch, Body, FixedPoint, Target

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

# The fifth-degree polynomials of `find_crossings` are good to 0.001″ at this spacing, the spline
# between samples to 0.2″.
SAMPLE_SECONDS = 1200.0
# From a tenth of the Moon to what is no alignment any more: common practice, no published source.
TOLERANCES_DEGREES = 0.05, 30.0
# The closest approach is looked for between so many points, closer and closer, until they stand so
# near that the path between three of them is straight.
POINTS = 9
STRAIGHT_SECONDS = 60.0
# Over so long, the slope of what is crossed is taken.
SLOPE_SECONDS = 20.0
# So many steps lead to an edge; all but the first are for what passes beside the zenith.
POLISHINGS = 12
# Of the way back from an apparent altitude.
MOST_STEPS = 60

# (sample, 3) → (sample,)
Function = Callable[[Floats], Floats]


@dataclass(frozen=True, slots=True)
class Aim:
    """A wanted place of the sky, in degrees: an azimuth, and an apparent altitude if one matters.

    `azimuth_tolerance_degrees` to either side, measured on the sky: the difference of azimuths ×
    cos altitude. `least_altitude_degrees` is how high the target must stand whatever is wanted.
    Errors: `azimuth_outside` (0 to 360), `altitude_outside` (−90 to 90), `tolerance_outside`
    (0.05 to 30), each with the field's name and value.
    """

    azimuth_degrees: float
    altitude_degrees: float | None = None
    azimuth_tolerance_degrees: float = 2.0
    altitude_tolerance_degrees: float = 1.0
    least_altitude_degrees: float = 0.0

    def __post_init__(self) -> None:
        _check("azimuth_outside", "azimuth", self.azimuth_degrees, 0.0, 360.0)
        _check("altitude_outside", "least_altitude", self.least_altitude_degrees, -90.0, 90.0)
        if self.altitude_degrees is not None:
            _check("altitude_outside", "altitude", self.altitude_degrees, -90.0, 90.0)
        narrowest, widest = TOLERANCES_DEGREES
        for field in ("azimuth_tolerance", "altitude_tolerance"):
            value = getattr(self, f"{field}_degrees")
            _check("tolerance_outside", field, value, narrowest, widest)

    @property
    def altitudes(self) -> tuple[float, float]:
        """The lowest and the highest apparent altitude that will do."""
        if self.altitude_degrees is None:
            return self.least_altitude_degrees, 90.0
        reach = self.altitude_tolerance_degrees
        lowest = max(self.altitude_degrees - reach, self.least_altitude_degrees)
        return lowest, self.altitude_degrees + reach


@dataclass(frozen=True, slots=True)
class Course:
    """A target's path seen from an aim: `tt` (sample,) even, `vector` (sample, 3), unit length.

    Its components: to the right of the azimuth, ahead, up; geometric.
    """

    place: Place
    azimuth_degrees: float
    tt: Floats
    vector: Floats
    between: CubicSpline

    def directions(self, tt: Floats) -> Directions:
        right, ahead, up = np.moveaxis(self.between(tt), -1, 0)
        height = np.arctan2(up, np.hypot(right, ahead)) / DEGREE
        azimuth = (np.arctan2(right, ahead) / DEGREE + self.azimuth_degrees) % 360
        lifted = height + refraction_degrees(height, self.place.elevation_m)
        return Directions(lifted, height, azimuth)

    def sides(self, function: Function, level: float = 0.0) -> tuple[Floats, Floats]:
        """Give the spans (TT) in which a function of the vector is above a level, and below it."""
        found = self._crossings(function, level)
        start, end = float(self.tt[MARGIN]), float(self.tt[-MARGIN - 1])
        return above(found, 0, start, end), below(found, 0, start, end)

    def passages(self, wanted: Floats) -> Floats:
        """Give the instants inside the spans (TT both) at which the azimuth is passed."""
        at = self._crossings(_rightward, 0.0).at
        at = at[self.between(at)[:, 1] > 0]
        return at[holding(wanted, at) >= 0]

    def nearest_azimuth(self) -> float:
        """Give the azimuth on its path that comes nearest to the wanted one."""
        aside = np.arctan2(self.vector[:, 0], self.vector[:, 1]) / DEGREE
        nearest = float(aside[np.argmin(np.abs(aside))])
        return (nearest + self.azimuth_degrees) % 360

    def _crossings(self, function: Function, level: float) -> Crossings:
        found = find_crossings(function(self.vector)[None], np.array([level]))
        at = self.tt[0] + found.at * (self.tt[1] - self.tt[0])
        return Crossings(self._polished(function, level, at), found.offsets, found.starts_above)

    def _polished(self, function: Function, level: float, at: Floats) -> Floats:
        """Step along the slope: near the zenith the samples stand too far apart."""
        moved = at
        for _ in range(POLISHINGS):
            value, later = (function(self.between(moved + move)) for move in (0.0, SLOPE_SECONDS))
            slope = later - value
            steps = np.divide(level - value, slope, out=np.zeros_like(slope), where=slope != 0)
            moved = moved + np.clip(steps, -1.0, 1.0) * SLOPE_SECONDS
        result: Floats = np.maximum.accumulate(moved)
        return result


def course_of(target: Target, aim: Aim, table: SeasonTable, index: int) -> Course:
    point, place = target.points[0], table.places[index]
    if isinstance(point, Arch):
        raise SkyError("target_without_direction", key=target.key, name=target.name)
    noons = tt_from_utc(table.noons[index])
    margin = (MARGIN + 1) * SAMPLE_SECONDS
    tt = np.arange(noons[0] - margin, noons[-1] + margin + SAMPLE_SECONDS, SAMPLE_SECONDS)
    vector = _seen_from(aim, point, place, utc_from_tt(tt))
    return Course(place, aim.azimuth_degrees, tt, vector, CubicSpline(tt, vector))


def _seen_from(aim: Aim, point: FixedPoint | Body, place: Place, unix: Floats) -> Floats:
    found = directions_toward(point, place, unix)
    height = found.altitude_geometric_degrees * DEGREE
    aside = (found.azimuth_degrees - aim.azimuth_degrees) * DEGREE
    level = np.cos(height)
    return np.stack((level * np.sin(aside), level * np.cos(aside), np.sin(height)), axis=1)


def inside(course: Course, aim: Aim) -> Floats:
    """Give the spans (TT) in which the target is inside the tolerances, in any light.

    |d| cos h ≤ t, where d is the difference of azimuths and h the altitude, holds ahead where the
    sine of t / cos h − |d| is positive: well crossed at the zenith too, where it may be a quarter.
    """
    tolerance = aim.azimuth_tolerance_degrees * DEGREE

    def room(vector: Floats, side: int) -> Floats:
        right, ahead, _ = vector.T
        level = np.maximum(np.hypot(right, ahead), 1e-12)
        reach = np.minimum(tolerance / level, math.pi / 2)
        result: Floats = np.sin(reach) * ahead - side * np.cos(reach) * right
        return result

    unlifted = partial(_geometric, elevation_m=course.place.elevation_m)
    low, high = (math.sin(unlifted(one) * DEGREE) for one in aim.altitudes)
    not_left = course.sides(partial(room, side=-1))[0]
    not_right = course.sides(partial(room, side=1))[0]
    spans = intersect(intersect(not_left, not_right), course.sides(_forward)[0])
    spans = intersect(spans, course.sides(_upward, low)[0])
    return spans if high >= 1 else intersect(spans, course.sides(_upward, high)[1])


def _rightward(vector: Floats) -> Floats:
    return vector[:, 0]


def _forward(vector: Floats) -> Floats:
    return vector[:, 1]


def _upward(vector: Floats) -> Floats:
    return vector[:, 2]


def _geometric(apparent_degrees: float, elevation_m: float) -> float:
    """Give the geometric altitude that is seen at an apparent one, clipped to ± 90°."""
    apparent = min(max(apparent_degrees, -90.0), 90.0)
    if apparent == 90.0:
        return apparent
    height = apparent
    for _ in range(MOST_STEPS):  # each leaves at most two thirds of what is missing
        height = apparent - float(refraction_degrees(np.array([height]), elevation_m)[0])
    return height


def closest(course: Course, aim: Aim, spans: Floats) -> Floats:
    """Give the instant (TT) in each span at which the target is nearest to the aim."""
    low, high = spans[:, 0], spans[:, 1]
    shares = np.linspace(0, 1, POINTS)
    rows = np.arange(len(spans))
    while True:
        at = low[:, None] + (high - low)[:, None] * shares
        apart = _apart2(course, aim, at)
        best = np.argmin(apart, axis=1)
        step = (high - low) / (POINTS - 1)
        if not len(spans) or step.max() < STRAIGHT_SECONDS / POINTS:
            break
        middle = at[rows, best]
        low, high = np.maximum(spans[:, 0], middle - step), np.minimum(spans[:, 1], middle + step)
    inner = np.clip(best, 1, POINTS - 2)
    before, here, after = (apart[rows, inner + n] for n in (-1, 0, 1))
    bend = np.maximum(before - 2 * here + after, 1e-300)
    move = np.clip(0.5 * (before - after) / bend, -1.0, 1.0)
    result: Floats = np.clip(at[rows, inner] + move * step, spans[:, 0], spans[:, 1])
    return result


def _apart2(course: Course, aim: Aim, tt: Floats) -> Floats:
    """Give the square of the chord between target and aim, both apparent."""
    seen = course.directions(tt)
    height = seen.altitude_degrees * DEGREE
    aside = (seen.azimuth_degrees - aim.azimuth_degrees) * DEGREE
    wanted = (aim.altitude_degrees or 0.0) * DEGREE
    upward = np.sin((height - wanted) / 2) ** 2
    sideward = np.cos(height) * math.cos(wanted) * np.sin(aside / 2) ** 2
    result: Floats = 4 * (upward + sideward)
    return result


def _check(code: str, field: str, value: float, low: float, high: float) -> None:
    if not math.isfinite(value) or not low <= value <= high:
        raise SkyError(code, field=field, value=value, low=low, high=high)
