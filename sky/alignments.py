"""When a target stands at a wanted place of the sky: over a landmark, at an altitude, in a light.

The path of a season is crossed with the edges of what is wanted, and the light is laid over it. All
altitudes that are asked for and told are apparent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from numpy.typing import NDArray

from sky.aim import Aim, Course, closest, course_of, holding, inside
from sky.ephemeris import tt_from_utc, utc_from_tt
from sky.lights import light_spans
from sky.night import SeasonTable
from sky.span_arrays import intersect, union
from sky.targets.target import Light, Target

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Alignments:
    """Every alignment of a season, in order: arrays of one length, Unix seconds and degrees.

    `at` the moment; `start` and `end` the stretch around it inside the tolerance and the light.
    Altitudes and azimuth are those at the moment.
    """

    at: Floats
    start: Floats
    end: Floats
    altitude_degrees: Floats
    altitude_geometric_degrees: Floats
    azimuth_degrees: Floats

    def __len__(self) -> int:
        return len(self.at)


def find_alignments(
    target: Target,
    aim: Aim,
    table: SeasonTable,
    index: int = 0,
    *,
    light: Light | None = None,
    dark_level: int = -18,
) -> Alignments:
    """Find every moment at which a target stands where it is wanted, in the wanted light.

    Of a target of several points the first. By azimuth alone: each instant at which it passes the
    azimuth, in either direction, not lower than the least altitude. With an altitude: the closest
    approach of each stretch inside both tolerances. A target more than 90° of azimuth away is
    behind you, however high. `light` None: the target's own. Ordinary passages within 1 s.

    No such moment: empty, see `why_none`. Errors: `target_without_direction` (an arch),
    `light_unknown`, `dark_level_unknown`.
    """
    course = course_of(target, aim, table, index)
    wanted = _active(target, table, light_spans(table, index, light or target.light, dark_level))
    return _found(course, aim, wanted)


@dataclass(frozen=True, slots=True)
class NoAlignment:
    """Why a season has no alignment, as a code with figures (degrees, apparent; None: none).

    - `never_there`: it does not come to that azimuth; `nearest_azimuth` how near it comes
    - `too_low`: it passes the azimuth, at most at `highest`
    - `other_altitude`: it passes the azimuth between `lowest` and `highest`, outside the tolerance
    - `other_light`: it stands there `count` times, never in the wanted light
    """

    code: str
    nearest_azimuth: float | None = None
    lowest: float | None = None
    highest: float | None = None
    count: int = 0


def why_none(target: Target, aim: Aim, table: SeasonTable, index: int = 0) -> NoAlignment:
    """Say why a season has no alignment: what is in the way, seen in any light."""
    course = course_of(target, aim, table, index)
    always = _active(target, table, np.array([table.noons[index][[0, -1]]]))
    passages = course.directions(course.passages(tt_from_utc(always)))
    if not len(passages.altitude_degrees):
        return NoAlignment("never_there", nearest_azimuth=course.nearest_azimuth())
    lowest, highest = (float(pick(passages.altitude_degrees)) for pick in (np.min, np.max))
    if highest < aim.altitudes[0] and (aim.altitude_degrees is None or highest < 0):
        return NoAlignment("too_low", highest=highest)
    count = len(_found(course, aim, always))
    if not count:
        return NoAlignment("other_altitude", lowest=lowest, highest=highest)
    return NoAlignment("other_light", count=count)


def step_sideways_degrees(distance_m: float, step_m: float = 1.0) -> float:
    """Give how far a landmark moves against the sky for a step to the side: 0.11° at 500 m."""
    return math.degrees(math.atan2(step_m, distance_m))


def _active(target: Target, table: SeasonTable, wanted: Floats) -> Floats:
    """Leave of spans (Unix seconds) those in which the target is there; join them at noons."""
    if target.active is not None:
        last = table.first + timedelta(days=table.nights - 1)
        spans = target.active(table.first, last)
        there = np.array([[one.start.timestamp(), one.end.timestamp()] for one in spans])
        wanted = intersect(wanted, there.reshape(-1, 2))
    return union(wanted)


def _found(course: Course, aim: Aim, wanted: Floats) -> Alignments:
    spans = intersect(inside(course, aim), tt_from_utc(wanted))
    if aim.altitude_degrees is None:
        at = course.passages(spans)
        spans = spans[holding(spans, at)]
    else:
        at = closest(course, aim, spans)
    told = course.directions(at)
    return Alignments(
        at=utc_from_tt(at),
        start=utc_from_tt(spans[:, 0]),
        end=utc_from_tt(spans[:, 1]),
        altitude_degrees=told.altitude_degrees,
        altitude_geometric_degrees=told.altitude_geometric_degrees,
        azimuth_degrees=told.azimuth_degrees,
    )
