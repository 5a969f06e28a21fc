"""A night's targets one after the other: which when, where several stand right at once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

Pair = tuple[float, float]

# Best moments nearer to each other than that are one: the targets share the time around it.
TOGETHER_SECONDS = 20 * 60.0
# Nobody aims, focuses and frames in less.
LEAST_SECONDS = 10 * 60.0


@dataclass(frozen=True, slots=True)
class Wanted:
    """When a target stands right, sorted, its best moment inside, in Unix seconds; and how much
    it counts."""

    spans: Sequence[Pair]
    best: float
    weight: float


def slots(targets: Sequence[Wanted]) -> dict[int, Pair]:
    """Give each target, by its place in `targets`, its stretch of the night, in their order.

    Targets with best moments apart change half-way between these. Those that are best together
    share the time equally, what counts most nearest to its best moment. A share that is too short
    or outside of when the target stands right is its whole window around the best moment.
    """
    groups = _groups(targets)
    edges = [(targets[a[-1]].best + targets[b[0]].best) / 2 for a, b in pairwise(groups)]
    limits = pairwise([-float("inf"), *edges, float("inf")])
    found = {
        number: _inside(targets[number], share)
        for group, between in zip(groups, limits, strict=False)
        for number, share in _shares(group, targets, between)
    }
    return dict(sorted(found.items(), key=lambda one: one[1]))


def _groups(targets: Sequence[Wanted]) -> list[list[int]]:
    """Give those that are best together, in the order of the night."""
    groups: list[list[int]] = []
    for number in sorted(range(len(targets)), key=lambda one: targets[one].best):
        best = targets[number].best
        if groups and best - targets[groups[-1][0]].best < TOGETHER_SECONDS:
            groups[-1].append(number)
        else:
            groups.append([number])
    return groups


def _shares(
    group: Sequence[int], targets: Sequence[Wanted], limits: Pair
) -> Iterator[tuple[int, Pair]]:
    windows = [_around(targets[number]) for number in group]
    start = max(min(window[0] for window in windows), limits[0])
    end = min(max(window[1] for window in windows), limits[1])
    best = targets[group[0]].best
    # Before a best moment at the end what counts most comes last, after one at the start first.
    is_rising = end - best < best - start
    order = sorted(group, key=lambda one: targets[one].weight, reverse=not is_rising)
    each = (end - start) / len(order)
    for place, number in enumerate(order):
        yield number, (start + place * each, start + (place + 1) * each)


def _around(one: Wanted) -> Pair:
    """Give the stretch that holds the best moment."""
    return next(span for span in one.spans if span[0] <= one.best <= span[1])


def _inside(one: Wanted, share: Pair) -> Pair:
    window = _around(one)
    start, end = max(share[0], window[0]), min(share[1], window[1])
    return (start, end) if end - start >= LEAST_SECONDS else window
