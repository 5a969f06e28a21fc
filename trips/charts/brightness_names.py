"""Where the names of lines stand in a plot: beside their line, clear of the others where it goes.

All in pixels of the plot, x to the right and y down.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from trips.charts.panorama import Point
from trips.charts.picture import width_of

Box = tuple[float, float, float, float]

# Along a line, where a name is tried; from the line, the foot of a name above it and below.
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92)
ABOVE, BELOW, LETTER_UP, LETTER_DOWN = -6.0, 15.0, 10.0, 3.0
TRIED_PX = 12.0


@dataclass(frozen=True, slots=True)
class NamedLine:
    """A line with the piece of it that its name may stand at; `must` it be named?"""

    name: str
    pieces: Sequence[Sequence[Point]]
    at: Sequence[Point]
    must: bool


def placed_names(
    lines: Sequence[NamedLine], width: float, height: float
) -> Iterator[tuple[int, float, float]]:
    """Give the number of each line that is named, and the middle of the foot of its name.

    Earlier lines come first. A name that must stand may cross lines, but no other name.
    """
    taken: list[Box] = []
    for number, line in enumerate(lines):
        tried = [place for place in _places(line) if _is_free(place[2], taken, width, height)]
        clear = (place for place in tried if not _is_crossed(place[2], lines))
        place = next(clear, tried[0] if tried and line.must else None)
        if place:
            taken.append(place[2])
            yield number, place[0], place[1]


def _places(line: NamedLine) -> Iterator[tuple[float, float, Box]]:
    if not line.at:
        return
    half = width_of(line.name) / 2
    for share, away in product(SHARES, (ABOVE, BELOW)):
        x, y = line.at[round(share * (len(line.at) - 1))]
        foot = y + away
        yield x, foot, (x - half, foot - LETTER_UP, x + half, foot + LETTER_DOWN)


def _is_free(box: Box, taken: Iterable[Box], width: float, height: float) -> bool:
    left, top, right, bottom = box
    is_inside = left >= 0 and top >= 0 and right <= width and bottom <= height
    return is_inside and not any(
        left < there and here < right and top < low and high < bottom
        for here, high, there, low in taken
    )


def _is_crossed(box: Box, lines: Sequence[NamedLine]) -> bool:
    left, top, right, bottom = box
    return any(
        left <= x <= right and top <= y <= bottom
        for line in lines
        for piece in line.pieces
        for x, y in _dense(piece)
    )


def _dense(piece: Sequence[Point]) -> Iterator[Point]:
    """Give points so near each other that no name fits between them."""
    for (x, y), (other, there) in pairwise(piece):
        steps = max(1, int(max(abs(other - x), abs(there - y)) / TRIED_PX))
        for step in range(steps):
            share = step / steps
            yield x + (other - x) * share, y + (there - y) * share
