"""Names beside what they name in the picture of the sky: ten at most, none over another."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice

import numpy as np
from django.utils.translation import gettext as _

from sky.dome import Standing, WholeSky

MOST_NAMES = 10
# Stars are named down to here, and the pole star always.
FAINTEST_NAMED = 1.7
POLE_STAR = "Polaris"
# In units of the picture, for letters as large as they get on a phone: faces differ by 15 %.
LETTER, LINE, BASELINE = 40, 70, 52
EDGE = 885
# How much of a name is left of its anchor.
SHARE_LEFT = {"start": 0.0, "middle": 0.5, "end": 1.0}
RING_LABELS = ((-268, 140), (-544, 268))  # where the template writes 60° and 30°

Box = tuple[float, float, float, float]
Place = Callable[[Standing], tuple[int, int]]


@dataclass(frozen=True, slots=True)
class NameAt:
    """A name at a place: `anchor` start, middle or end, `kind` a class of dome.css."""

    x: int
    y: int
    anchor: str
    words: str
    kind: str


@dataclass(frozen=True, slots=True)
class _Mark:
    words: str
    kind: str
    x: int
    y: int
    radius: int  # of what is drawn there, to keep clear of


def placed_names(
    sky: WholeSky, place: Place, *, faintest: float, has_band: bool
) -> Iterator[NameAt]:
    """Place the names in the order of their worth; one without room is left out."""
    marks = list(_marks(sky, place, faintest, has_band=has_band))
    taken = [_around(mark.x, mark.y, mark.radius) for mark in marks]
    taken += [(x - 60, y - 50, x + 60, y + 20) for x, y in RING_LABELS]
    yield from islice(_fitting(marks, taken), MOST_NAMES)


def _fitting(marks: list[_Mark], taken: list[Box]) -> Iterator[NameAt]:
    for mark in marks:
        own = _around(mark.x, mark.y, mark.radius)
        others = [box for box in taken if box != own]
        for name, box in _ways(mark):
            if _is_inside(box) and not any(_overlap(box, other) for other in others):
                taken.append(box)
                yield name
                break


def _marks(sky: WholeSky, place: Place, faintest: float, *, has_band: bool) -> Iterator[_Mark]:
    for one in sky.wanted:
        if one.standings[0].altitude_degrees > 0:
            yield _Mark(one.name, "wanted", *place(one.standings[0]), 0 if one.is_arch else 36)
    if _is_clear(sky.sun, sky):
        yield _Mark(_("Sun"), "body", *place(sky.sun), 40)
    if _is_clear(sky.moon, sky) and not _is_wanted(sky.moon, sky):
        yield _Mark(_("Moon"), "body", *place(sky.moon), 36)
    for planet in sky.planets:
        if _is_clear(planet.standing, sky) and not _is_wanted(planet.standing, sky):
            yield _Mark(_(planet.name), "body", *place(planet.standing), 20)
    core = sky.milky_way.core
    if has_band and _is_clear(core, sky) and not _is_wanted(core, sky):
        yield _Mark(_("galactic core"), "body", *place(core), 0)
    yield from _star_marks(sky, faintest, place)


def _star_marks(sky: WholeSky, faintest: float, place: Place) -> Iterator[_Mark]:
    stars = sky.stars
    bright = int(np.searchsorted(stars.magnitudes, min(FAINTEST_NAMED, faintest), side="right"))
    chosen = [star for star in range(bright) if stars.names[star]]
    if POLE_STAR in stars.names and faintest > 2:
        chosen.insert(2, stars.names.index(POLE_STAR))
    for star in chosen:
        standing = Standing(float(stars.altitudes[star]), float(stars.azimuths[star]))
        if _is_clear(standing, sky) and not _is_wanted(standing, sky):
            yield _Mark(stars.names[star], "star", *place(standing), 16)


def _is_clear(standing: Standing, sky: WholeSky) -> bool:
    """Tell whether something stands above the land and the horizon."""
    land = float(sky.skyline.at(np.array([standing.azimuth_degrees]))[0])
    return standing.altitude_degrees > max(land, 0.0)


def _is_wanted(standing: Standing, sky: WholeSky) -> bool:
    return any(standing in one.standings for one in sky.wanted)


def _ways(mark: _Mark) -> Iterator[tuple[NameAt, Box]]:
    """Give the places around a mark, the best first: beside it, over and under it, aslant."""
    wide, gap = len(mark.words) * LETTER, mark.radius + 10
    x, y = mark.x, mark.y
    over, under = y - gap - LINE, y + gap
    ways = (
        ("start", x + gap, y - LINE // 2),
        ("end", x - gap, y - LINE // 2),
        ("middle", x, over),
        ("middle", x, under),
        ("start", x, over),
        ("end", x, over),
        ("start", x, under),
        ("end", x, under),
    )
    for anchor, at, top in ways:
        left = at - wide * SHARE_LEFT[anchor]
        box = (left, top, left + wide, top + LINE)
        yield NameAt(at, top + BASELINE, anchor, mark.words, mark.kind), box


def _around(x: int, y: int, radius: int) -> Box:
    return (x - radius, y - radius, x + radius, y + radius)


def _is_inside(box: Box) -> bool:
    """Tell whether a box lies inside the horizon, corners and all."""
    left, top, right, bottom = box
    return max(abs(left), abs(right)) ** 2 + max(abs(top), abs(bottom)) ** 2 < EDGE**2


def _overlap(box: Box, other: Box) -> bool:
    return box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]
