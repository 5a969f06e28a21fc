"""Names beside what they name in the picture of the sky, none over another: all that are wanted,
and others until there are ten.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import islice, product

import numpy as np
from django.utils.text import Truncator
from django.utils.translation import gettext as _

from sky.dome import Standing, WholeSky
from trips.charts.dome_room import (
    Box,
    Line,
    Places,
    crossings,
    is_entered,
    is_inside,
    letters,
    overlap,
    wider,
)

MOST_NAMES, LONGEST_NAME = 10, 26
# Stars are named down to here, and the pole star always.
FAINTEST_NAMED = 1.7
POLE_STAR, POLE_STAR_SHOWN = "Polaris", 2.0
# In units of the picture, for letters as large as they get on a phone, of a wide face.
LETTER, BOLD_LETTER, LINE, BASELINE = 40, 46, 70, 52
# How much of a name is left of its anchor.
SHARE_LEFT = {"start": 0.0, "middle": 0.5, "end": 1.0}
# On the rings at these altitudes their degrees are written, in the first of these directions that
# is free.
RINGS_DEGREES = (60, 30)
RING_AZIMUTHS = (118, 242, 62, 298, 146, 214, 34, 326)
# The name of the band goes to the highest part of it that is free, no lower than this.
BAND_NAME_DEGREES = 12.0

# A wanted name without room beside its place is written this far from it, at the end of a line that
# leads there, in the first of these directions (clockwise from the right) that is free.
LEADERS = (110, 170, 240, 320, 420)
LEADER_TURNS = (0, 180, 30, 150, 330, 210, 60, 120, 300, 240, 90, 270)
# Beyond this from the level, a name stands over or under the end of its line.
STEEP = 0.3
RING, LEADER_GAP = 26, 12
MOST_TURNS = 4

Place = Callable[[Standing], tuple[int, int]]


@dataclass(frozen=True, slots=True)
class NameAt:
    """A name at a place: `anchor` start, middle or end, `kind` a class of dome.css.

    `leader` is the line from what it names, where it does not stand beside it.
    """

    x: int
    y: int
    anchor: str
    words: str
    kind: str
    leader: str = ""


@dataclass(frozen=True, slots=True)
class _Mark:
    """What is named: where it is, or may be. Without a radius the name goes right over it, the
    first place that is free.
    """

    words: str
    kind: str
    places: tuple[tuple[int, int], ...]
    radius: int = 0  # of what is drawn there, to keep clear of


@dataclass(frozen=True, slots=True)
class _Way:
    name: NameAt
    box: Box
    far: int = 0
    leader: Line | None = None


def placed_names(sky: WholeSky, place: Place, *, lines: Places, band: Places) -> Iterator[NameAt]:
    """Place the names in the order of their worth; one without room is left out.

    `lines` (point, 2) are places on drawn lines: a name crosses them, or a star, only where it has
    to. `band` (step, 2) are the places of the line along the Milky Way.
    """
    stars = list(_star_marks(sky, place))
    marks = list(_marks(sky, place, _along_band(sky, band)))
    taken = [_around(mark) for mark in marks if mark.radius]
    crossed = np.concatenate([lines, *(np.array(star.places) for star in stars)])
    wanted = [mark for mark in marks if mark.kind == "wanted"]
    names = _wanted_names(wanted, taken, crossed)
    others = [mark for mark in (*marks, *stars) if mark.kind != "wanted"]
    yield from names
    yield from islice(_fitting(others, taken, crossed), max(MOST_NAMES - len(names), 0))
    yield from _fitting(_rings(place), taken, np.concatenate([crossed, band]))


def _wanted_names(marks: list[_Mark], taken: list[Box], crossed: Places) -> list[NameAt]:
    """Name all that is wanted: whoever had no room is placed before the others once more."""
    best: list[NameAt] = []
    room: list[Box] = []
    for _turn in range(MOST_TURNS):
        tried = list(taken)
        placed = {mark: name for mark in marks for name in _fitting([mark], tried, crossed)}
        if len(placed) <= len(best):
            break
        best, room = list(placed.values()), tried
        marks = sorted(marks, key=placed.__contains__)
    taken += room[len(taken) :]
    return best


def _fitting(marks: list[_Mark], taken: list[Box], crossed: Places) -> Iterator[NameAt]:
    """Give each mark the first of its ways that is free and crosses least, and take its room."""
    for mark in marks:
        own = _around(mark)
        others = [box for box in taken if box != own]
        if mark.kind == "star" and any(overlap(own, box) for box in others):
            continue  # another name lies over it
        best = _best((way for way in _ways(mark) if _is_free(way, others)), crossed)
        if best:
            taken.append(wider(best.box))
            yield best.name


def _best(ways: Iterator[_Way], crossed: Places) -> _Way | None:
    """Give the first that crosses nothing, else the one that crosses least; a far one at last."""
    best, least = None, (1, 0)
    for way in ways:
        if way.far and best and not least[0]:
            break
        worth = (way.far > 0, way.far + crossings(way.box, crossed))
        if best is None or worth < least:
            best, least = way, worth
        if least == (False, 0):
            break
    return best


def _marks(sky: WholeSky, place: Place, along_band: tuple[tuple[int, int], ...]) -> Iterator[_Mark]:
    for one in sky.wanted:
        if one.standings[0].is_up and not one.is_arch:
            yield _Mark(_short(one.name), "wanted", (place(one.standings[0]),), 36)
    for words, standing, radius in _bodies(sky):
        if sky.is_open(standing) and not sky.is_wanted(standing):
            yield _Mark(words, "body", (place(standing),), radius)
    if sky.has_band and along_band:
        arch = next((one for one in sky.wanted if one.is_arch), None)
        words, kind = (_short(arch.name), "wanted") if arch else (_("Milky Way"), "body")
        yield _Mark(words, kind, along_band)


def _short(name: str) -> str:
    """Give the first part of a name; the whole stands in words below the picture."""
    return Truncator(name.partition(",")[0]).chars(LONGEST_NAME)


def _bodies(sky: WholeSky) -> Iterator[tuple[str, Standing, int]]:
    yield _("Sun"), sky.sun, 40
    yield _("Moon"), sky.moon, 36
    for planet in sky.planets:
        yield _(planet.name), planet.standing, 20
    if sky.has_band:
        yield _("galactic core"), sky.milky_way.core, 0


def _along_band(sky: WholeSky, band: Places) -> tuple[tuple[int, int], ...]:
    """Give places along the band that the land leaves, the highest first."""
    altitudes, azimuths = sky.milky_way.equator.T
    least = np.maximum(sky.skyline.at(azimuths), BAND_NAME_DEGREES)
    highest = np.argsort(-altitudes, kind="stable")
    chosen = highest[(altitudes > least)[highest]][::2]
    return tuple((x, y) for x, y in band[chosen].tolist())


def _star_marks(sky: WholeSky, place: Place) -> Iterator[_Mark]:
    chosen = list(sky.stars.named(min(FAINTEST_NAMED, sky.faintest)))
    if sky.faintest > POLE_STAR_SHOWN:
        chosen[2:2] = [star for star in sky.stars.named(sky.faintest) if star.name == POLE_STAR]
    for star in chosen:
        if sky.is_open(star.standing) and not sky.is_wanted(star.standing):
            yield _Mark(star.name, "star", (place(star.standing),), 16)


def _rings(place: Place) -> list[_Mark]:
    return [
        _Mark(
            f"{altitude}°",
            "degrees",
            tuple(place(Standing(altitude, azimuth)) for azimuth in RING_AZIMUTHS),
        )
        for altitude in RINGS_DEGREES
    ]


def _ways(mark: _Mark) -> Iterator[_Way]:
    """Give the ways to write a name, the best first."""
    wide = letters(mark.words) * (LETTER if mark.kind in ("star", "degrees") else BOLD_LETTER)
    if not mark.radius:
        yield from (_way(mark, wide, "middle", x, y - LINE // 2) for x, y in mark.places)
    if len(mark.places) == 1:
        yield from (_way(mark, wide, *each) for each in _beside(mark))
    if len(mark.places) == 1 and mark.kind == "wanted":
        yield from (
            _led(mark, wide, far, turn)
            for far, turn in product(range(1, len(LEADERS) + 1), LEADER_TURNS)
        )


def _way(mark: _Mark, wide: float, anchor: str, at: int, top: int) -> _Way:
    left = at - wide * SHARE_LEFT[anchor]
    box = (left, top, left + wide, top + LINE)
    return _Way(NameAt(at, top + BASELINE, anchor, mark.words, mark.kind), box)


def _led(mark: _Mark, wide: float, far: int, turn: int) -> _Way:
    """Write a name at the end of a line: away from it to a side, or over or under it."""
    (x, y), reach = mark.places[0], LEADERS[far - 1]
    level, down = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    at, end = round(x + reach * level), round(y + reach * down)
    anchor = "middle" if abs(level) < STEEP else "start" if level > 0 else "end"
    top = end - LINE // 2 + (round(down * LINE / 2) if anchor == "middle" else 0)
    line = (x + RING * level, y + RING * down, at - LEADER_GAP * level, end - LEADER_GAP * down)
    way = _way(mark, wide, anchor, at, top)
    drawn = "M{} {}L{} {}".format(*map(round, line))
    return replace(way, name=replace(way.name, leader=drawn), far=far, leader=line)


def _beside(mark: _Mark) -> list[tuple[str, int, int]]:
    """Give anchor, place and upper edge: beside it, over and under it, aslant."""
    (x, y), gap = mark.places[0], mark.radius + 10
    over, under = y - gap - LINE, y + gap
    return [
        ("start", x + gap, y - LINE // 2),
        ("end", x - gap, y - LINE // 2),
        ("middle", x, over),
        ("middle", x, under),
        ("start", x, over),
        ("end", x, over),
        ("start", x, under),
        ("end", x, under),
    ]


def _around(mark: _Mark) -> Box:
    (x, y), radius = mark.places[0], mark.radius
    return (x - radius, y - radius, x + radius, y + radius)


def _is_free(way: _Way, others: list[Box]) -> bool:
    if not is_inside(way.box) or any(overlap(way.box, other) for other in others):
        return False
    return way.leader is None or not any(is_entered(other, way.leader) for other in others)
