"""A night's targets one after the other: until when each, where several stand right at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Wanted:
    """When a target stands right, sorted, and its best moment inside; in Unix seconds."""

    spans: Sequence[Pair]
    best: float


def slots(targets: Sequence[Wanted]) -> list[Pair]:
    """Give each target the stretch of its window around its best moment that is no neighbour's.

    Half-way between the best moments of two neighbours the later one's time begins; of equal ones
    the first gets the first half of what they share. `targets` in the order of their best moments.
    """
    windows = [_around(one) for one in targets]
    edges = [
        _edge(first, second, own, other)
        for first, second, own, other in zip(
            targets, targets[1:], windows, windows[1:], strict=False
        )
    ]
    starts = [-float("inf"), *edges]
    ends = [*edges, float("inf")]
    return [
        (max(start, window[0]), min(end, window[1]))
        for window, start, end in zip(windows, starts, ends, strict=True)
    ]


def _around(one: Wanted) -> Pair:
    """Give the stretch that holds the best moment."""
    return next(span for span in one.spans if span[0] <= one.best <= span[1])


def _edge(first: Wanted, second: Wanted, own: Pair, other: Pair) -> float:
    if second.best > first.best:
        return (first.best + second.best) / 2
    return (max(own[0], other[0]) + min(own[1], other[1])) / 2
