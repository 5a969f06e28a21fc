"""Stretches of time as nights store them: pairs of Unix seconds, sorted and disjoint.

What sky.spans says in datetimes, for the tens of thousands of nights that a ranking looks at.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

Pair = tuple[float, float]
Pairs = tuple[Pair, ...]


def within(pairs: Iterable[Sequence[float]], window: Pair) -> Pairs:
    """Give what of the pairs lies inside the window; in one of no length lies nothing."""
    first, last = window
    if first >= last:
        return ()
    return tuple(
        [
            (start if start > first else first, end if end < last else last)
            for start, end in pairs
            if start < last and end > first
        ]
    )


def seconds(pairs: Iterable[Pair]) -> float:
    """Sum the lengths of the pairs."""
    return sum([end - start for start, end in pairs])
