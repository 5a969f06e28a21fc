"""Stars as dots, the brighter the wider: a path for each half magnitude."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Dots:
    """Stars of one size: `d` is stroked with round ends, `width` units across."""

    width: str
    d: str


def star_dots(places: NDArray[np.int64], magnitudes: Floats) -> Iterator[Dots]:
    """Group stars at places (star, 2), the brightest first, as they come."""
    steps = np.rint(magnitudes * 2).tolist()
    stars = zip(steps, places.tolist(), strict=True)
    for step, group in groupby(stars, key=lambda each: each[0]):
        path = "".join(f"M{x} {y}h0" for _step, (x, y) in group)
        yield Dots(f"{_width(step / 2):.1f}".removesuffix(".0"), path)


def _width(magnitude: float) -> float:
    """Give how wide a star is drawn: a law of our own between a point and a coin."""
    return float(np.clip(21.0 * 10 ** (-0.13 * magnitude), 4.5, 29.0))
