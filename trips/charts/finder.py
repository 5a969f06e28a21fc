"""A stretch of the horizon with one target in it: the sentence in fists, drawn.

A unit is a twelve-hundredth of the width. All strips have one scale, but that of an arch, and of a
target so high that its strip would be taller than wide. Letters are set by the style sheet; room is
kept for the largest, 18 px on a phone of 320.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
from django.utils.translation import gettext as _
from numpy.typing import NDArray

from sky.dome import Standing
from sky.finding import Counted, Finding
from trips.charts.finder_below import FIST_DEGREES, TICK, below, short_count
from trips.charts.finder_sky import UNSEEN, band, curve, dots, whole
from trips.charts.name_places import (
    BASELINE,
    BOLD_LETTER,
    LINE,
    RING,
    Mark,
    NameAt,
    NameRoom,
    box_of,
)
from trips.charts.name_room import Box, letters
from trips.charts.panorama import Panorama, smoothed_line
from trips.charts.star_dots import Dots

Floats = NDArray[np.float64]

WIDTH = 1200
SPAN_DEGREES, ARCH_SPAN_DEGREES = 76.0, 210.0
# No lower than this, over what is highest so many units, and so tall at most.
LEAST_DEGREES, ABOVE, TALLEST = 20.0, 52.0, 760.0
FAINTEST_NAMED = 1.3
MOST_NAMES = 4
# A landmark is a pillar no thinner and no lower than this.
THINNEST, LOWEST, FOOT, SPLAY = 16.0, 36.0, 4.0, 1.6
# From the ruler to its words.
BESIDE, NEAR = 26, 300
# Of the land's edge no more than stands out of so many units.
COLUMN = 8.0


@dataclass(frozen=True, slots=True)
class Finder:
    """A strip ready for its template: numbers are written out, never localised."""

    width: int
    height: int
    sky_height: int  # level is its lower edge
    faint: str
    bright: str
    dots: tuple[Dots, ...]
    bodies: str
    moon: tuple[int, int] | None
    arch: str
    land: str
    landmarks: str
    rings: tuple[tuple[int, int, int], ...]  # x, y, radius
    ruler: str
    names: tuple[NameAt, ...]
    below: tuple[NameAt, ...]
    title: str
    description: str


def finder(found: Finding, *, title: str, description: str) -> Finder:
    """Draw a strip; `description` is what it says."""
    plan = _plan(found)
    height = round(plan.height)
    edge = np.array(plan.land(found.sky.skyline, column=COLUMN))
    rings = tuple(_rings(found, plan))
    up = _up(found.counted, rings[0], _free_foot(edge, rings[0], height))
    names = tuple(_names(found, plan, rings, up, edge))
    first, is_level = found.target.standings[0], found.sky.skyline.is_level
    under = below(
        found.counted, found.landmarks, plan, azimuth=first.azimuth_degrees, level=is_level
    )
    labels = [box_of(name) for name in (up, *names)]
    faint, bright = band(found, plan)
    return Finder(
        width=WIDTH,
        height=height + under.height,
        sky_height=height,
        faint=faint,
        bright=bright,
        dots=tuple(dots(found, plan, [*labels, *(_around(*ring) for ring in rings)])),
        bodies="".join(f"M{x} {y}h0" for x, y in _planets(found, plan)),
        moon=_moon(found, plan),
        arch=curve(found, plan),
        land="" if is_level else _land(edge, height),
        landmarks="".join(_pillars(found, plan)),
        rings=rings,
        ruler=_ruler(plan, rings[0]) + under.ruler,
        names=(up, *names),
        below=under.texts,
        title=title,
        description=description,
    )


def _plan(found: Finding) -> Panorama:
    """Put the target in the middle, or midway to what it is counted from."""
    first, counted = found.target.standings[0], found.counted
    is_arch = found.target.is_arch
    span = ARCH_SPAN_DEGREES if is_arch else SPAN_DEGREES
    turn = _turned(counted.azimuth_degrees - first.azimuth_degrees)
    middle = first.azimuth_degrees + (turn / 2 if counted.is_landmark and not is_arch else 0.0)
    around = np.arange(-span / 2, span / 2, 2.0) + middle
    tops = [
        each.top_degrees for each in found.landmarks
        if abs(_turned(each.azimuth_degrees - middle)) < span / 2
    ]  # fmt: skip
    highest = max(
        *(one.altitude_degrees for one in found.target.standings),
        *tops,
        float(found.sky.skyline.at(around).max()),
    )
    high = min(max(highest + ABOVE * span / WIDTH, LEAST_DEGREES), 90.0)
    span = max(span, WIDTH * high / TALLEST)
    return Panorama((middle - span / 2) % 360, span, 0.0, high, WIDTH, high * WIDTH / span)


def _turned(degrees: float) -> float:
    return (degrees + 180.0) % 360.0 - 180.0


def _place(standing: Standing, plan: Panorama) -> tuple[int, int]:
    y = plan.y(max(standing.altitude_degrees, 0.0))
    return round(plan.x(standing.azimuth_degrees)), round(y)


def _rings(found: Finding, plan: Panorama) -> Iterator[tuple[int, int, int]]:
    for standing in found.target.standings:
        yield *_place(standing, plan), RING


# The ruler up


def _ruler(plan: Panorama, ring: tuple[int, int, int]) -> str:
    """Draw the way from level up to the ring, a tick each fist."""
    x, y, radius = ring
    foot, bottom = round(plan.height), y + radius
    if bottom >= foot:
        return ""
    fists = np.arange(FIST_DEGREES, plan.high, FIST_DEGREES).tolist()
    ticks = [at for at in (round(plan.y(degrees)) for degrees in fists) if at > bottom]
    return f"M{x} {bottom}V{foot}" + "".join(f"M{x - TICK} {at}h{2 * TICK}" for at in ticks)


def _up(counted: Counted, ring: tuple[int, int, int], foot: int) -> NameAt:
    """Say beside the ruler how many fists it is up: off the landmark, if there is room."""
    x, y, radius = ring
    words = _("%(fists)s up") % {"fists": short_count(counted.up)}
    wide = letters(words) * BOLD_LETTER + BESIDE
    is_right = counted.aside > 0 or (not counted.aside and x <= WIDTH / 2)
    if not wide < x < WIDTH - wide:
        is_right = x < WIDTH / 2
    middle = (min(y + radius, foot) + foot) // 2
    baseline = min(middle + BASELINE - LINE // 2, foot - 8)
    side, anchor = (BESIDE, "start") if is_right else (-BESIDE, "end")
    return NameAt(x + side, baseline, anchor, words, "fists")


def _free_foot(edge: Floats, ring: tuple[int, int, int], foot: int) -> int:
    """Give where the sky ends under a ring, or level where there is too little of it for words."""
    x, y, radius = ring
    near = edge[np.abs(edge[:, 0] - x) < NEAR, 1]
    top = round(float(near.min(initial=foot)))
    return top if top - y - radius >= LINE else foot


# What stands in the sky


def _planets(found: Finding, plan: Panorama) -> Iterator[tuple[int, int]]:
    for each in found.sky.planets:
        if found.sky.is_open(each.standing) and _is_shown(place := _place(each.standing, plan)):
            yield place


def _moon(found: Finding, plan: Panorama) -> tuple[int, int] | None:
    place = _place(found.sky.moon, plan)
    return place if found.sky.is_open(found.sky.moon) and _is_shown(place) else None


def _is_shown(place: tuple[int, int]) -> bool:
    return 0 <= place[0] <= WIDTH and place[1] >= 0


# The land


def _land(edge: Floats, foot: int) -> str:
    drawn = np.minimum(smoothed_line(edge, UNSEEN), (WIDTH, foot))
    return f"M0 {foot}L{whole(drawn)}V{foot}z"


def _pillars(found: Finding, plan: Panorama) -> Iterator[str]:
    """Stand the landmarks on the land, each high and wide enough to be seen."""
    for one in found.landmarks:
        x = plan.x(one.azimuth_degrees)
        if not 0 <= x <= WIDTH:
            continue
        land = float(found.sky.skyline.at(np.array([one.azimuth_degrees]))[0])
        foot = min(plan.y(max(land, 0.0)) + FOOT, plan.height)
        top = max(min(plan.y(one.top_degrees), foot - LOWEST), 0.0)
        half = max(one.width_degrees * WIDTH / plan.span, THINNEST) / 2
        sides = ((-SPLAY, foot), (-1.0, top), (1.0, top), (SPLAY, foot))
        yield f"M{whole(np.array([(x + side * half, y) for side, y in sides]))}z"


# Names


def _names(
    found: Finding, plan: Panorama, rings: Sequence[tuple[int, int, int]], up: NameAt, edge: Floats
) -> Iterator[NameAt]:
    """Name the Moon, planets and the brightest stars, where there is room."""
    x, y, _radius = rings[0]
    height = round(plan.height)
    taken = [box_of(up), *(_around(*ring) for ring in rings), (x - TICK, y, x + TICK, height)]
    marks = [mark for mark in _marks(found, plan) if _is_shown(mark.places[0])]
    taken += [_around(*mark.places[0], mark.radius) for mark in marks]
    room = NameRoom(lambda box: _is_inside(box, height), np.rint(edge).astype(np.int64), taken)
    yield from islice(room.fitting(marks), MOST_NAMES)


def _marks(found: Finding, plan: Panorama) -> Iterator[Mark]:
    sky = found.sky
    bodies = [(_("Moon"), sky.moon), *((_(each.name), each.standing) for each in sky.planets)]
    named = [("body", words, standing, 22) for words, standing in bodies]
    stars = sky.stars.named(min(FAINTEST_NAMED, sky.faintest))
    named += [("star m", star.name, star.standing, 14) for star in stars]
    for kind, words, standing, radius in named:
        if sky.is_open(standing) and not sky.is_wanted(standing):
            yield Mark(words, kind, (_place(standing, plan),), radius)


def _is_inside(box: Box, height: int) -> bool:
    left, top, right, bottom = box
    return left > 0 and top > 0 and right < WIDTH and bottom < height


def _around(x: int, y: int, radius: int) -> Box:
    return (x - radius, y - radius, x + radius, y + radius)
