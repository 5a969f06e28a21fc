"""The room that names take in a picture of the sky, and what is in their way: boxes and lines."""

from __future__ import annotations

from unicodedata import east_asian_width

import numpy as np
from numpy.typing import NDArray

Places = NDArray[np.int64]
Box = tuple[float, float, float, float]  # left, top, right, bottom
Line = tuple[float, float, float, float]  # from x, y to x, y

NARROW, WIDE = frozenset("fijlrtI.,:'’ -"), frozenset("mwMW")
APART, NEAR = 12, 28
# A line is tried at so many places.
LINE_STEPS = 8


def letters(words: str) -> float:
    """Give how many common letters are as wide as these words."""
    return sum(_letter(each) for each in words)


def _letter(letter: str) -> float:
    if letter in NARROW:
        return 0.7
    if letter in WIDE or east_asian_width(letter) in "WF":
        return 1.7
    return 1.15 if letter.isupper() else 1.0


def overlap(box: Box, other: Box) -> bool:
    return box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]


def wider(box: Box) -> Box:
    """Keep the lines of two names apart."""
    left, top, right, bottom = box
    return left, top - APART, right, bottom + APART


def is_entered(box: Box, line: Line) -> bool:
    """Tell whether a line runs into a box from outside, by some of its places."""
    shares = (step / LINE_STEPS for step in range(LINE_STEPS + 1))
    x1, y1, x2, y2 = line
    inside = [_holds(box, x1 + share * (x2 - x1), y1 + share * (y2 - y1)) for share in shares]
    return any(inside) and not inside[0]  # rings of two close targets overlap


def _holds(box: Box, x: float, y: float) -> bool:
    return box[0] < x < box[2] and box[1] < y < box[3]


def crossings(box: Box, crossed: Places) -> int:
    left, top, right, bottom = box[0] - NEAR, box[1] - NEAR, box[2] + NEAR, box[3] + NEAR
    x, y = crossed[:, 0], crossed[:, 1]
    return int(np.count_nonzero((left < x) & (x < right) & (top < y) & (y < bottom)))
