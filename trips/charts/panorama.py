"""A stretch of the horizon as a plan: azimuth across, apparent altitude up, in pixels.

What is drawn may run on beyond the edges: the picture cuts it off there.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sky.skyline import Skyline

Floats = NDArray[np.float64]

UNSEEN_PX = 0.15

Point = tuple[float, float]  # azimuth and altitude in degrees, or x and y in pixels


@dataclass(frozen=True, slots=True)
class Panorama:
    """`first` the azimuth at the left edge and `span` degrees across; `low` to `high` upwards."""

    first: float
    span: float
    low: float
    high: float
    width: float
    height: float

    def x(self, azimuth: float) -> float:
        """Give the place of an azimuth; one outside lies beyond the nearer edge."""
        beyond = (360 - self.span) / 2
        return ((azimuth - self.first + beyond) % 360 - beyond) * self.width / self.span

    def y(self, altitude: float) -> float:
        return (self.high - altitude) * self.height / (self.high - self.low)

    def shows(self, x: float, y: float) -> bool:
        return 0 <= x <= self.width and 0 <= y <= self.height

    def land(self, skyline: Skyline, *, column: float = 1.0) -> list[Point]:
        """Give the edge of the land from the left to the right: of every so many pixels across no
        more than the ends, the highest and the lowest."""
        first, last = self.first, self.first + self.span
        inner = slice(1, 1 + len(skyline.points))
        twice = np.concatenate((skyline.azimuths[inner], skyline.azimuths[inner] + 360))
        corners = np.unique(twice[(first < twice) & (twice < last)])
        azimuths = np.concatenate(((first,), corners, (last,)))
        across = (azimuths - first) * self.width / self.span
        down = (self.high - skyline.at(azimuths)) * self.height / (self.high - self.low)
        edge = thinned(np.stack((across, down), axis=-1), column=column)
        return [(x, y) for x, y in edge.tolist()]

    def path(self, points: Sequence[Point]) -> list[list[Point]]:
        """Give a path in pieces, each going on beyond the edge where the round is cut."""
        pieces: list[list[Point]] = [[]]
        turn = 360 * self.width / self.span
        placed = [(self.x(azimuth), self.y(altitude)) for azimuth, altitude in points]
        for (x, y), (after, below) in pairwise(placed):
            pieces[-1].append((x, y))
            if abs(after - x) > turn / 2:
                way = turn if after < x else -turn
                pieces[-1].append((after + way, below))
                pieces.append([(x - way, y)])
        pieces[-1].extend(placed[-1:])
        return [smoothed(piece) for piece in pieces if self._is_seen(piece)]

    def _is_seen(self, piece: Sequence[Point]) -> bool:
        return any(
            max(a[0], b[0]) >= 0
            and min(a[0], b[0]) <= self.width
            and min(a[1], b[1]) <= self.height
            for a, b in pairwise(piece)
        )


def smoothed(piece: Sequence[Point], unseen: float = UNSEEN_PX) -> list[Point]:
    """Leave out every second point for as long as the line does not move by what can be seen."""
    return [(x, y) for x, y in smoothed_line(np.array(piece), unseen).tolist()]


def smoothed_line(kept: Floats, unseen: float) -> Floats:
    """Give the same of a line (point, 2)."""
    while len(kept) > 2:
        before, middle, after = kept[:-2:2], kept[1:-1:2], kept[2::2]
        along, aside = after - before, middle - before
        area = np.abs(along[:, 0] * aside[:, 1] - along[:, 1] * aside[:, 0])
        is_needed = area > unseen * np.maximum(np.hypot(*along.T), unseen)
        if is_needed.all():
            break
        is_kept = np.ones(len(kept), dtype=bool)
        is_kept[1:-1:2] = is_needed
        kept = kept[is_kept]
    return kept


def drawn_line(points: Iterable[Point]) -> str:
    """Write points as path data."""
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)


def number(pixels: float) -> str:
    """Write a number of pixels, never localised."""
    return f"{round(pixels, 1):g}"


def thinned(line: Floats, *, column: float) -> Floats:
    """Keep of the points (point, 2) of a column so wide the ends, the highest and the lowest."""
    group = line[:, 0] // column
    is_next = np.diff(group) != 0
    firsts = np.flatnonzero(np.concatenate(((True,), is_next)))
    lasts = np.flatnonzero(np.concatenate((is_next, (True,))))
    ranked = np.lexsort((line[:, 1], group))
    is_kept = np.zeros(len(line), dtype=bool)
    is_kept[np.concatenate((firsts, lasts, ranked[firsts], ranked[lasts]))] = True
    return line[is_kept]
