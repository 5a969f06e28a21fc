"""Why a target has no window in a night: the reason that holds longest comes first."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from sky.dome import Standing
from sky.lights import grid_between
from sky.moving import directions_at
from sky.span_arrays import intersect
from sky.targets.culmination import culmination
from sky.targets.target import Arch, FixedPoint, Target
from sky.windows import Wanted
from trips.almanac.one_night import OneNight

Floats = NDArray[np.float64]

ONE_DAY = timedelta(days=1)
LOOK_SECONDS = 600.0
AT_THE_HORIZON = Standing(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class WhyNot:
    """A reason by its code, with the figures that belong to it, in degrees.

    - `not_tonight`: a shower, a pair, an eclipse that does not happen between these noons
    - `never_rises`, `never_that_high`: here, on any day; `highest` says how high it comes
    - `no_light`: there is no such light tonight
    - `not_then`: it happens, but in another light
    - `arch_low`, `arch_high`: an arch that lies on the horizon, or passes overhead
    - `down`, `too_low`: in that light it is below the horizon, or lower than the `least` altitude;
      `highest` says where it is highest then
    - `bright`: it is up, but Moon or twilight brighten the sky there
    - `hidden`: behind the skyline, `least` high where the target comes nearest to being seen
    """

    code: str
    highest: Standing = AT_THE_HORIZON
    least: float = 0.0


def why_not(one: Wanted, night: OneNight) -> WhyNot:
    """Say why a target that has no window in a night has none."""
    happens = _happening(one.target, night)
    if not len(happens):
        return WhyNot("not_tonight")
    return _of_place(one, night) or _of_night(one, happens, night)


def _of_place(one: Wanted, night: OneNight) -> WhyNot | None:
    point, least = one.target.points[0], one.least_altitude_degrees
    if not isinstance(point, FixedPoint):
        return None
    found = culmination(point, night.place, year=night.date.year)
    top = Standing(found.altitude_degrees, 180.0 if point.dec_degrees < night.place.latitude else 0)
    if not found.rises:
        return WhyNot("never_rises", top)
    return WhyNot("never_that_high", top, least) if found.altitude_degrees < least else None


def _of_night(one: Wanted, happens: Floats, night: OneNight) -> WhyNot:
    light = night.light(one.light, one.dark_level)
    spans = intersect(light, happens)
    if not len(spans):
        return WhyNot("not_then" if len(light) else "no_light")
    times = np.concatenate([grid_between(start, end, LOOK_SECONDS) for start, end in spans])
    first = one.target.points[0]
    if isinstance(first, Arch):
        return _of_arch(first, times, night)
    return _of_height(one, times, night)


def _of_arch(arch: Arch, times: Floats, night: OneNight) -> WhyNot:
    tops = directions_at(arch, night.place, times).altitude_degrees
    code = "arch_low" if tops.max() < arch.lowest_top_degrees else "arch_high"
    return WhyNot(code, Standing(float(tops.min() if code == "arch_high" else tops.max()), 0.0))


def _of_height(one: Wanted, times: Floats, night: OneNight) -> WhyNot:
    """Look at the lowest of what must be up at once: where it is highest, and nearest to clear."""
    seen = [directions_at(point, night.place, times) for point in one.target.points]
    heights = np.array([each.altitude_degrees for each in seen])
    azimuths = np.array([each.azimuth_degrees for each in seen])
    top, least = _greatest_of_least(heights), one.least_altitude_degrees
    highest = Standing(float(heights[top]), float(azimuths[top]))
    if highest.altitude_degrees <= 0:
        return WhyNot("down", highest)
    if highest.altitude_degrees < least:
        return WhyNot("too_low", highest, least)
    land = night.skyline.at(azimuths)
    near = _greatest_of_least(heights - land)
    if one.light == "usable" and heights[near] > land[near]:
        return WhyNot("bright", highest)
    return WhyNot(
        "hidden", Standing(float(heights[near]), float(azimuths[near])), float(land[near])
    )


def _greatest_of_least(values: Floats) -> tuple[int, int]:
    """Find, in values (point, instant), the least of each instant where that is greatest."""
    at = int(np.argmax(values.min(axis=0)))
    return int(np.argmin(values[:, at])), at


def _happening(target: Target, night: OneNight) -> Floats:
    """Give when a target is there at all, of this night."""
    if target.active is None:
        return night.whole
    spans = target.active(night.date, night.date)
    pairs = [(span.start.timestamp(), span.end.timestamp()) for span in spans]
    return intersect(np.array(pairs).reshape(-1, 2), night.whole)
