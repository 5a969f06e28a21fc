"""Paths of targets across the sky of a place, of a day or of a night, with the hours on them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from sky.apparent import directions_toward
from sky.clock import check_season, local_noons
from sky.constants import SUN_RISE_SET_DEGREES
from sky.place import Place
from sky.targets.target import Arch, Body, Target
from trips.almanac.local_time import clock, local

Floats = NDArray[np.float64]

STEP_SECONDS = 300.0
QUARTER_SECONDS = 900.0  # zones differ from UTC by whole quarters of an hour


@dataclass(frozen=True, slots=True)
class Track:
    """Where a target stands: (azimuth, apparent altitude) in degrees at `times` in Unix seconds.

    `hours` the same with the clock at full hours; the round of a day has none, because a place
    among the stars keeps its path and changes its hours.
    """

    name: str
    points: tuple[tuple[float, float], ...]
    times: tuple[float, ...]
    hours: tuple[tuple[float, float, str], ...] = ()
    is_round: bool = False


def has_track(target: Target) -> bool:
    """Tell whether a target is a point that moves; an arch over the land is none."""
    return not isinstance(target.points[0], Arch)


def day_track(target: Target, place: Place, day: date) -> Track:
    """Give the path from the noon of a day to the next. Errors: `season_outside`."""
    start, end = _noons(place, day)
    times = np.arange(start, end + 1, STEP_SECONDS)
    points = _points(target, place, times)
    return Track(target.name, points, tuple(times.tolist()), is_round=True)


def night_track(target: Target, place: Place, night: date) -> Track:
    """Give the path between sunset and sunrise; empty where the Sun does not set.

    Errors: `season_outside`.
    """
    start, end = _noons(place, night)
    times = _sun_down(place, np.arange(start, end + 1, STEP_SECONDS))
    if not len(times):
        return Track(target.name, (), ())
    hours = _full_hours(place.zone, float(times[0]), float(times[-1]))
    stands = _points(target, place, np.array(hours))
    marks = zip(stands, (clock(hour, place.zone) for hour in hours), strict=True)
    return Track(
        target.name,
        _points(target, place, times),
        tuple(times.tolist()),
        tuple((azimuth, altitude, words) for (azimuth, altitude), words in marks),
    )


def _noons(place: Place, day: date) -> tuple[float, float]:
    check_season(day, day)
    start, end = local_noons(place.zone, day, day).tolist()
    return start, end


def _points(target: Target, place: Place, times: Floats) -> tuple[tuple[float, float], ...]:
    point = target.points[0]
    if isinstance(point, Arch):
        return ()
    found = directions_toward(point, place, times)
    pairs = zip(found.azimuth_degrees.tolist(), found.altitude_degrees.tolist(), strict=True)
    return tuple(pairs)


def _sun_down(place: Place, times: Floats) -> Floats:
    sun = directions_toward(Body("sun"), place, times).altitude_geometric_degrees
    down: Floats = times[sun < SUN_RISE_SET_DEGREES]
    return down


def _full_hours(zone: str, first: float, last: float) -> list[float]:
    quarters: Iterator[float] = iter(
        np.arange(-(-first // QUARTER_SECONDS) * QUARTER_SECONDS, last + 1, QUARTER_SECONDS)
    )
    return [float(at) for at in quarters if local(float(at), zone).minute == 0]
