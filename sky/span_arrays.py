"""Spans as arrays of (start, end), sorted and disjoint, for thousands at once. No astronomy.

What sky.spans says in instants of one night, for all nights of a season.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sky.crossings import Crossings

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

NONE: Floats = np.empty((0, 2))


def overlaps(first: Floats, second: Floats) -> tuple[Ints, Ints]:
    """Give every pair of indexes of spans that share some time, in order of the second."""
    begin = np.searchsorted(first[:, 1], second[:, 0], side="right")
    end = np.searchsorted(first[:, 0], second[:, 1], side="left")
    counts = np.maximum(end - begin, 0)
    of_second = np.repeat(np.arange(len(second)), counts)
    before = np.repeat(np.cumsum(counts) - counts, counts)
    of_first = np.repeat(begin, counts) + np.arange(len(of_second)) - before
    return of_first, of_second


def intersect(first: Floats, second: Floats) -> Floats:
    """Give what lies in both."""
    one, other = overlaps(first, second)
    start = np.maximum(first[one, 0], second[other, 0])
    end = np.minimum(first[one, 1], second[other, 1])
    kept = end > start
    return np.stack((start[kept], end[kept]), axis=1)


def union(spans: Floats) -> Floats:
    """Join spans in any order that touch or overlap."""
    ordered = spans[np.argsort(spans[:, 0], kind="stable")]
    ordered = ordered[ordered[:, 1] > ordered[:, 0]]
    if not len(ordered):
        return NONE
    reach = np.maximum.accumulate(ordered[:, 1])
    first = np.concatenate(([True], ordered[1:, 0] > reach[:-1]))
    last = np.concatenate((first[1:], [True]))
    return np.stack((ordered[first, 0], reach[last]), axis=1)


def outside(spans: Floats, start: float, end: float) -> Floats:
    """Give what of start to end lies in none of the spans."""
    edges = np.concatenate(([start], np.clip(spans, start, end).ravel(), [end])).reshape(-1, 2)
    return edges[edges[:, 1] > edges[:, 0]]


def cut(spans: Floats, at: Floats) -> Floats:
    """Cut spans at instants (ascending), and drop what lies before the first or after the last."""
    pieces = np.stack((at[:-1], at[1:]), axis=1)
    return intersect(spans, pieces[pieces[:, 1] > pieces[:, 0]])


def holding(spans: Floats, at: Floats) -> Ints:
    """Give for each instant the span (sorted, disjoint) that holds it, −1 for none."""
    number = np.searchsorted(spans[:, 0], at, side="right") - 1
    if not len(spans):
        return number
    result: Ints = np.where(at <= spans[number, 1], number, -1)
    return result


def spread(spans: Floats, step: float) -> tuple[Ints, Floats]:
    """Lay instants over every span, its ends among them and three at least: numbers of spans, and
    Unix seconds."""
    counts = np.maximum(np.ceil((spans[:, 1] - spans[:, 0]) / step).astype(np.intp) + 1, 3)
    of = np.repeat(np.arange(len(spans)), counts)
    number = np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)
    share = number / np.maximum(counts[of] - 1, 1)
    return of, spans[of, 0] + share * (spans[of, 1] - spans[of, 0])


def below(crossings: Crossings, row: int, start: float, end: float) -> Floats:
    """Give when one row of crossings lies below its level, between two instants."""
    return _sides(crossings, row, start, end)[1]


def above(crossings: Crossings, row: int, start: float, end: float) -> Floats:
    """Give when one row of crossings lies above its level, between two instants."""
    return _sides(crossings, row, start, end)[0]


def _sides(crossings: Crossings, row: int, start: float, end: float) -> tuple[Floats, Floats]:
    edges = np.concatenate(([-np.inf], crossings.row(row), [np.inf]))
    spans = np.clip(np.stack((edges[:-1], edges[1:]), axis=1), start, end)
    first = 0 if crossings.starts_above[row] else 1
    sides = spans[first::2], spans[1 - first :: 2]
    up, down = (side[side[:, 1] > side[:, 0]] for side in sides)
    return up, down
