"""What a night is worth: the best contiguous hours of it, each instant counted once.

An instant counts with the greatest weight among the wanted targets that then stand right; targets
are never summed. Without a list, the moonless dark is all that is wanted, with weight 1.
Arrays, because a ranking weighs every night of every site.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sky.span_arrays import NONE, intersect, union

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

HOUR = 3600.0


@dataclass(frozen=True, slots=True, eq=False)
class WantedSpans:
    """When something wanted stands right at a site: `spans` (span, 2) Unix seconds, sorted.

    `weight` 0 to 1: what an hour of it counts.
    """

    weight: float
    spans: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Weighed:
    """What nights (night,) are worth inside the hours in which people are out.

    `hours` of the best block, `start` and `end` of it in Unix seconds (NaN where there is none);
    `hours_out` all that counts; `pieces` (piece, 2) when anything counts, of night `night`
    (piece,). Hours are weighted.
    """

    hours: Floats
    start: Floats
    end: Floats
    hours_out: Floats
    pieces: Floats
    night: Ints


def weigh(wanted: Sequence[WantedSpans], out: Floats, most_hours: float) -> Weighed:
    """Weigh each night by its best block of at most `most_hours`, the earliest on a tie.

    `out` (night, 2) the hours in which people are out, ascending; of no length: nothing counts.
    """
    levels = [(gain, intersect(spans, out)) for gain, spans in _levels(wanted)]
    nothing, unknown = np.zeros(len(out)), np.full(len(out), np.nan)
    pieces = levels[0][1] if levels else NONE
    night = _night_of(pieces[:, 0], out)
    if not len(pieces):
        return Weighed(nothing, unknown, unknown, nothing, pieces, night)
    worth = _Worth.of(levels)
    best = _best_windows(levels, worth, out, most_hours * HOUR)
    hours, start, end = nothing.copy(), unknown.copy(), unknown.copy()
    hours[best.night] = best.worth / HOUR
    start[best.night], end[best.night] = _trimmed(pieces, best)
    hours_out = worth.between(out[:, 0], out[:, 1]) / HOUR
    return Weighed(hours, start, end, hours_out, pieces, night)


def anything(wanted: Sequence[WantedSpans]) -> Floats:
    """Give when anything counts, whether or not people are out; (span, 2)."""
    spans = [one.spans for one in wanted if one.weight > 0]
    return union(np.concatenate(spans)) if spans else NONE


def _levels(wanted: Sequence[WantedSpans]) -> list[tuple[float, Floats]]:
    """Cut the weights into steps: how much each adds, and when at least that much counts."""
    steps = sorted({one.weight for one in wanted if one.weight > 0}, reverse=True)
    levels, spans = [], NONE
    for step, below in pairwise([*steps, 0.0]):
        spans = union(np.concatenate([spans, *(one.spans for one in wanted if one.weight == step)]))
        levels.append((step - below, spans))
    return levels[::-1]


@dataclass(frozen=True, slots=True, eq=False)
class _Worth:
    """Weighted seconds until an instant: known at the edges `at`, and straight between them."""

    at: Floats
    seconds: Floats

    @classmethod
    def of(cls, levels: Sequence[tuple[float, Floats]]) -> _Worth:
        at = np.sort(np.concatenate([spans.ravel() for _, spans in levels]))
        seconds = np.zeros(len(at))
        for gain, spans in levels:
            if len(spans):
                lengths = np.cumsum(spans[:, 1] - spans[:, 0])
                clock = np.stack((lengths - (spans[:, 1] - spans[:, 0]), lengths), axis=1)
                seconds += gain * np.interp(at, spans.ravel(), clock.ravel())
        return cls(at, seconds)

    def between(self, start: Floats, end: Floats) -> Floats:
        first, last = (np.interp(instant, self.at, self.seconds) for instant in (start, end))
        return _to_the_millisecond(last - first)


@dataclass(frozen=True, slots=True, eq=False)
class _Windows:
    night: Ints
    start: Floats
    end: Floats
    worth: Floats


def _best_windows(
    levels: Sequence[tuple[float, Floats]], worth_of: _Worth, out: Floats, longest: float
) -> _Windows:
    """Try every window that starts or ends at an edge: between edges the worth is a straight line
    in the window's start, so that its top is at one of them."""
    edges = np.concatenate([spans.ravel() for _, spans in levels])
    night = np.concatenate([np.repeat(_night_of(spans[:, 0], out), 2) for _, spans in levels])
    pieces = levels[0][1]
    of_piece = _night_of(pieces[:, 0], out)
    first = pieces[np.searchsorted(of_piece, night), 0]
    last = pieces[np.searchsorted(of_piece, night, side="right") - 1, 1]
    start = np.concatenate((edges, np.maximum(edges - longest, first)))
    night, last = np.tile(night, 2), np.tile(last, 2)
    end = np.minimum(start + longest, last)
    worth = worth_of.between(start, end)
    most = np.zeros(len(out))
    np.maximum.at(most, night, worth)
    best = np.flatnonzero(worth == most[night])
    order = best[np.lexsort((start[best], night[best]))]
    chosen = order[np.flatnonzero(np.diff(night[order], prepend=-1))]
    return _Windows(night[chosen], start[chosen], end[chosen], worth[chosen])


def _trimmed(pieces: Floats, windows: _Windows) -> tuple[Floats, Floats]:
    """Cut from the windows' ends what counts nothing."""
    opens = np.searchsorted(pieces[:, 1], windows.start, side="right")
    closes = np.searchsorted(pieces[:, 0], windows.end, side="left") - 1
    return (
        np.maximum(windows.start, pieces[opens, 0]),
        np.minimum(windows.end, pieces[closes, 1]),
    )


def _night_of(at: Floats, out: Floats) -> Ints:
    return np.searchsorted(out[:, 0], at, side="right") - 1


def _to_the_millisecond(seconds: Floats) -> Floats:
    # So that rounding does not choose between equals, and four hours are four hours.
    result: Floats = np.round(seconds, 3)
    return result
