"""What lies between the two edges of the Milky Way, as areas to be filled by the even-odd rule."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

# Edges no further apart than this are one, but for their rounding.
CLOSED = 0.01


def patches(south: Floats, north: Floats, shown: Bools, write: Callable[[Floats], str]) -> str:
    """Give the areas between two closed lines (step, 2), wherever a step or the next is shown.

    The lines end where they began. `write` gives the path of points without its M and z.
    """
    south, north, shown = south[:-1], north[:-1], shown[:-1]
    wide = (np.abs(south - north) > CLOSED).any(axis=1)
    near = (shown | np.roll(shown, -1)) & (wide | np.roll(wide, -1))
    if near.all():
        return f"M{write(south)}zM{write(north)}z"
    around = (np.concatenate((south[steps], north[steps[::-1]])) for steps in _runs(near))
    return "".join(f"M{write(patch)}z" for patch in around)


def _runs(shown: Bools) -> Iterator[NDArray[np.intp]]:
    """Give the corners of each stretch of steps that are shown, on a line that is closed."""
    count = len(shown)
    first = int(np.argmin(shown))  # from a gap on no stretch is cut in two
    turned = np.roll(shown, -first)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], turned, [False])).astype(np.int8)))
    for start, end in edges.reshape(-1, 2):
        yield (np.arange(start, end + 1) + first) % count
