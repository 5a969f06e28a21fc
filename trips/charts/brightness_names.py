"""Where the names of lines stand in a plot: beside their line, clear of the others where it goes.

All in pixels of the plot, x to the right and y down.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from trips.charts.panorama import Point
from trips.charts.picture import width_on_paper

Box = tuple[float, float, float, float]
Floats = NDArray[np.float64]

# Along a line, where a name is tried; from the line, the foot of a name above it and below.
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8, 0.08, 0.92)
ABOVE, BELOW, LETTER_UP, LETTER_DOWN = -6.0, 15.0, 10.0, 3.0
TRIED_PX = 12.0


@dataclass(frozen=True, slots=True)
class NamedLine:
    """A line in pieces; its name stands along one of `at`, the first if it can.

    `must` it be named, whatever lies behind?
    """

    name: str
    pieces: Sequence[Sequence[Point]]
    at: Sequence[Sequence[Point]]
    must: bool


def placed_names(
    lines: Sequence[NamedLine], width: float, height: float
) -> Iterator[tuple[int, float, float]]:
    """Give the number of each line that is named, and the middle of the foot of its name.

    Earlier lines come first. A name that must stand may cross lines, but no other name.
    """
    taken: list[Box] = []
    dense = _dense(piece for line in lines for piece in line.pieces)
    for number, line in enumerate(lines):
        tried = [place for place in _places(line) if _is_free(place[2], taken, width, height)]
        clear = (place for place in tried if not _is_crossed(place[2], dense))
        place = next(clear, tried[0] if tried and line.must else None)
        if place:
            taken.append(place[2])
            yield number, place[0], place[1]


def _places(line: NamedLine) -> Iterator[tuple[float, float, Box]]:
    half = width_on_paper(line.name) / 2
    for piece, share, away in product(line.at, SHARES, (ABOVE, BELOW)):
        x, y = piece[round(share * (len(piece) - 1))]
        foot = y + away
        yield x, foot, (x - half, foot - LETTER_UP, x + half, foot + LETTER_DOWN)


def _is_free(box: Box, taken: Iterable[Box], width: float, height: float) -> bool:
    left, top, right, bottom = box
    is_inside = left >= 0 and top >= 0 and right <= width and bottom <= height
    return is_inside and not any(
        left < there and here < right and top < low and high < bottom
        for here, high, there, low in taken
    )


def _is_crossed(box: Box, dense: Floats) -> bool:
    left, top, right, bottom = box
    x, y = dense
    return bool(((left <= x) & (x <= right) & (top <= y) & (y <= bottom)).any())


def _dense(pieces: Iterable[Sequence[Point]]) -> Floats:
    """Give points (2, point) so near each other that no name fits between them."""
    return np.concatenate([np.empty((2, 0)), *map(_filled, pieces)], axis=1)


def _filled(piece: Sequence[Point]) -> Floats:
    xy = np.array(piece).T
    longest = float(np.abs(np.diff(xy, axis=1)).max(initial=0.0))
    between = max(1, math.ceil(longest / TRIED_PX))
    given = np.arange(len(piece))
    at = np.linspace(0, len(piece) - 1, (len(piece) - 1) * between + 1)
    return np.stack([np.interp(at, given, one) for one in xy])
