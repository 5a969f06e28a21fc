"""When a target stands at a wanted place of the sky: over a landmark, at an altitude, in a light.

The path of a season is crossed with the edges of what is wanted; the light and the land are laid
over it. All altitudes that are asked for and told are apparent.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta
from functools import partial

import numpy as np
from numpy.typing import NDArray

from sky.aim import SAMPLE_SECONDS, Aim, Course, closest, course_of, inside
from sky.clearing import clear_within
from sky.constants import CIVIL_DEGREES
from sky.ephemeris import tt_from_utc, utc_from_tt
from sky.light.usable import DarkEnough, usable_spans
from sky.lights import light_spans
from sky.moving import standings_at
from sky.night import SeasonTable
from sky.skyline import LEVEL, Skyline
from sky.span_arrays import below, holding, intersect, union
from sky.targets.target import Light, Target

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

# Of where the land is passed.
LAND_SECONDS = 0.01


@dataclass(frozen=True, slots=True)
class Alignments:
    """Every alignment of a season, in order: arrays of one length, Unix seconds and degrees.

    `at` the moment; `start` and `end` the stretch around it inside the tolerance and the light, and
    clear of the land. Altitudes and azimuth are those at the moment. `hidden` counts those that
    only the land takes away.
    """

    at: Floats
    start: Floats
    end: Floats
    altitude_degrees: Floats
    altitude_geometric_degrees: Floats
    azimuth_degrees: Floats
    hidden: int

    def __len__(self) -> int:
        return len(self.at)


def find_alignments(
    target: Target,
    aim: Aim,
    table: SeasonTable,
    index: int = 0,
    *,
    skyline: Skyline = LEVEL,
    light: Light | None = None,
    dark_level: int = -18,
    enough: DarkEnough | None = None,
) -> Alignments:
    """Find every moment at which a target stands where it is wanted, in the wanted light.

    Of a target of several points the first. By azimuth alone: each instant at which it passes the
    azimuth, in either direction, not lower than the least altitude. With an altitude: the closest
    approach of each stretch inside both tolerances. A target more than 90° of azimuth away is
    behind you, however high; one lower than the skyline is behind the land. `light` None: the
    target's own, and where that is any, with the Sun 6° down at least. `enough` is the sky over the
    site for usable dark; None: one without lamps. Ordinary passages within 1 s.

    No such moment: empty, see `why_none`. Errors: `target_without_direction` (an arch),
    `light_unknown`, `dark_level_unknown`.
    """
    course = course_of(target, aim, table, index)
    lit = _usual(target, table, index, dark_level)
    if light is not None:
        lit = light_spans(table, index, light, dark_level)
    if light == "usable":
        place = table.places[index]
        toward = partial(standings_at, target.points, place)
        (lit,) = usable_spans(toward, place, [lit], enough or DarkEnough())
    return _found(course, aim, _active(target, table, lit), skyline)


@dataclass(frozen=True, slots=True)
class NoAlignment:
    """Why a season has no alignment, as a code with figures (degrees, apparent; None: none).

    - `never_there`: it does not come to that azimuth; `nearest_azimuth` how near it comes
    - `too_low`: it passes the azimuth, at most at `highest`
    - `other_altitude`: it passes the azimuth between `lowest` and `highest`, outside the tolerance
    - `behind_land`: it stands there `count` times, always lower than the land, which is `land` high
      at the azimuth
    - `other_light`: it stands there `count` times, never in the wanted light
    """

    code: str
    nearest_azimuth: float | None = None
    lowest: float | None = None
    highest: float | None = None
    land: float | None = None
    count: int = 0


def why_none(
    target: Target, aim: Aim, table: SeasonTable, index: int = 0, *, skyline: Skyline = LEVEL
) -> NoAlignment:
    """Say why a season has no alignment: what is in the way, seen in any light."""
    course = course_of(target, aim, table, index)
    always = _active(target, table, np.array([table.noons[index][[0, -1]]]))
    passages = course.directions(course.passages(tt_from_utc(always)))
    if not len(passages.altitude_degrees):
        return NoAlignment("never_there", nearest_azimuth=course.nearest_azimuth())
    lowest, highest = (float(pick(passages.altitude_degrees)) for pick in (np.min, np.max))
    if highest < aim.altitudes[0] and (aim.altitude_degrees is None or highest < 0):
        return NoAlignment("too_low", highest=highest)
    found = _found(course, aim, always, skyline)
    if len(found):
        return NoAlignment("other_light", count=len(found))
    if found.hidden:
        land = float(skyline.at(np.array(aim.azimuth_degrees)))
        return NoAlignment("behind_land", land=land, count=found.hidden)
    return NoAlignment("other_altitude", lowest=lowest, highest=highest)


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


def _usual(target: Target, table: SeasonTable, index: int, dark_level: int) -> Floats:
    """Give the spans of a target's own light; what suits any is not looked for by day.

    Venus and the Moon can be seen by day; to be over something in a picture of a night, they need
    the end of civil twilight: common practice, no published source.
    """
    if target.light != "any":
        return light_spans(table, index, target.light, dark_level)
    start, end = (float(table.noons[index][n]) for n in (0, -1))
    return below(table.sun[CIVIL_DEGREES], index, start, end)


def _found(course: Course, aim: Aim, wanted: Floats, skyline: Skyline) -> Alignments:
    open_ = intersect(inside(course, aim), tt_from_utc(wanted))
    spans = open_ if skyline.is_level else intersect(open_, _over_land(course, skyline, open_))
    if aim.altitude_degrees is None:
        passed = course.passages(open_)
        at = passed[holding(spans, passed) >= 0]
        spans, hidden = spans[holding(spans, at)], len(passed) - len(at)
    else:
        at = closest(course, aim, spans)
        hidden = len(open_) - len(np.unique(holding(open_, at)))
    told = course.directions(at)
    return Alignments(
        at=utc_from_tt(at),
        start=utc_from_tt(spans[:, 0]),
        end=utc_from_tt(spans[:, 1]),
        altitude_degrees=told.altitude_degrees,
        altitude_geometric_degrees=told.altitude_geometric_degrees,
        azimuth_degrees=told.azimuth_degrees,
        hidden=hidden,
    )


def _over_land(course: Course, skyline: Skyline, spans: Floats) -> Floats:
    """Leave of spans (TT) what is clear of the land."""
    if not len(spans):
        return spans

    def clearance(_row: Ints, tt: Floats) -> tuple[Floats, Floats]:
        seen = course.directions(tt)
        return seen.altitude_degrees - skyline.at(seen.azimuth_degrees), seen.azimuth_degrees

    return clear_within(
        clearance,
        spans,
        corners=skyline.azimuths[1:-1],
        step=SAMPLE_SECONDS,
        tolerance=LAND_SECONDS,
    )[1]
