"""Names beside what they name in a picture of the sky, none over another."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import product

import numpy as np
from django.utils.text import Truncator
from numpy.typing import NDArray

from trips.charts.name_room import Box, Line, Places, crossings, is_entered, letters, overlap, wider

LONGEST_NAME = 26
# In units of the picture, for letters as large as they get on a phone, of a wide face.
LETTER, BOLD_LETTER, LINE, BASELINE = 40, 46, 70, 52
STARS = frozenset(("star", "star m"))
LIGHT_KINDS = STARS | {"degrees"}
# How much of a name is left of its anchor.
SHARE_LEFT = {"start": 0.0, "middle": 0.5, "end": 1.0}

# A wanted name without room beside its place is written this far from it, at the end of a line that
# leads there, in the first of these directions (clockwise from the right) that is free.
LEADERS = (110, 170, 240, 320, 420)
LEADER_TURNS = (0, 180, 30, 150, 330, 210, 60, 120, 300, 240, 90, 270)
# Beyond this from the level, a name stands over or under the end of its line.
STEEP = 0.3
RING, LEADER_GAP = 26, 12
MOST_TURNS = 4


@dataclass(frozen=True, slots=True)
class NameAt:
    """A name at a place: `anchor` start, middle or end, `kind` a class of the picture's sheet.

    `leader` is the line from what it names, where it does not stand beside it.
    """

    x: int
    y: int
    anchor: str
    words: str
    kind: str
    leader: str = ""


@dataclass(frozen=True, slots=True)
class Mark:
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


@dataclass(slots=True)
class NameRoom:
    """The room that is left for names: inside a picture's edge, off the boxes that are `taken`.

    A name crosses the places of `crossed`, which are on drawn lines, only where it has to.
    """

    is_inside: Callable[[Box], bool]
    crossed: Places
    taken: list[Box]

    def wanted(self, marks: list[Mark]) -> list[NameAt]:
        """Name all of these: whoever had no room is placed before the others once more."""
        best: list[NameAt] = []
        room = self.taken
        for _turn in range(MOST_TURNS):
            tried = replace(self, taken=list(self.taken))
            placed = {mark: name for mark in marks for name in tried.fitting([mark])}
            if len(placed) <= len(best):
                break
            best, room = list(placed.values()), tried.taken
            marks = sorted(marks, key=placed.__contains__)
        self.taken = room
        return best

    def fitting(self, marks: list[Mark]) -> Iterator[NameAt]:
        """Give each mark the first of its ways that is free and crosses least, and take its room;
        one without room is left out."""
        for mark in marks:
            own = around(mark)
            others = [box for box in self.taken if box != own]
            if mark.kind in STARS and any(overlap(own, box) for box in others):
                continue  # another name lies over it
            best = self._best(way for way in _ways(mark) if self._is_free(way, others))
            if best:
                self.taken.append(wider(best.box))
                yield best.name

    def _best(self, ways: Iterator[_Way]) -> _Way | None:
        """Give the first that crosses nothing, else the one that crosses least; a far one at
        last."""
        best, least = None, (1, 0)
        for way in ways:
            if way.far and best and not least[0]:
                break
            worth = (way.far > 0, way.far + crossings(way.box, self.crossed))
            if best is None or worth < least:
                best, least = way, worth
            if least == (False, 0):
                break
        return best

    def _is_free(self, way: _Way, others: list[Box]) -> bool:
        if not self.is_inside(way.box) or any(overlap(way.box, other) for other in others):
            return False
        return way.leader is None or not any(is_entered(other, way.leader) for other in others)


def short(name: str) -> str:
    """Give the first part of a name; the whole stands in words below the picture."""
    return Truncator(name.partition(",")[0]).chars(LONGEST_NAME)


def around(mark: Mark) -> Box:
    """Give the room of what is drawn there."""
    (x, y), radius = mark.places[0], mark.radius
    return (x - radius, y - radius, x + radius, y + radius)


def box_of(name: NameAt) -> Box:
    """Give the room that a name takes at most."""
    wide = letters(name.words) * BOLD_LETTER
    left, top = name.x - wide * SHARE_LEFT[name.anchor], name.y - BASELINE
    return (left, top, left + wide, top + LINE)


def uncovered(places: Places, boxes: Iterable[Box]) -> NDArray[np.bool_]:
    """Tell which places (place, 2) no box covers."""
    x, y = places.T
    shown = np.ones(len(places), dtype=bool)
    for left, top, right, bottom in boxes:
        shown &= ~((left < x) & (x < right) & (top < y) & (y < bottom))
    return shown


def _ways(mark: Mark) -> Iterator[_Way]:
    """Give the ways to write a name, the best first."""
    wide = letters(mark.words) * (LETTER if mark.kind in LIGHT_KINDS else BOLD_LETTER)
    if not mark.radius:
        yield from (_way(mark, wide, "middle", x, y - LINE // 2) for x, y in mark.places)
    if len(mark.places) == 1:
        yield from (_way(mark, wide, *each) for each in _beside(mark))
    if len(mark.places) == 1 and mark.kind == "wanted":
        yield from (
            _led(mark, wide, far, turn)
            for far, turn in product(range(1, len(LEADERS) + 1), LEADER_TURNS)
        )


def _way(mark: Mark, wide: float, anchor: str, at: int, top: int) -> _Way:
    left = at - wide * SHARE_LEFT[anchor]
    box = (left, top, left + wide, top + LINE)
    return _Way(NameAt(at, top + BASELINE, anchor, mark.words, mark.kind), box)


def _led(mark: Mark, wide: float, far: int, turn: int) -> _Way:
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


def _beside(mark: Mark) -> list[tuple[str, int, int]]:
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
