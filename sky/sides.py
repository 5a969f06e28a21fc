"""On which side of a level, and for how long: what crossings say of instants and stretches.

No astronomy: time below a level, the first fall of a stretch, one function over one night.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
from numpy.typing import NDArray

from sky.crossings import Crossings
from sky.spans import Span, Spans

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

# Farther apart than any two instants of a season, to search many rows as one.
ROW_SECONDS = 4e8


@dataclass(frozen=True, slots=True)
class Located:
    """Where instants (row, …) fall among crossings: `index` of the next one, `above` until it."""

    index: Ints
    above: NDArray[np.bool_]


def locate(crossings: Crossings, at: Floats, rows: Ints) -> Located:
    """Find the next crossing at or after each instant of its row, and the side before it."""
    base = float(at.min()) if at.size else 0.0
    keys = crossings.at - base + crossings.rows * ROW_SECONDS
    index = np.searchsorted(keys, at - base + rows * ROW_SECONDS)
    odd = ((index - crossings.offsets[rows]) & 1).astype(bool)
    return Located(index, crossings.starts_above[rows] ^ odd)


def evening_and_morning(crossings: Crossings, noons: Floats) -> tuple[Floats, Floats]:
    """Give each night's first fall below the level, and the first rise after it.

    Without a fall, the first rise of the night. Shapes (place, night), Unix seconds, NaN for none.
    """
    found = locate(crossings, noons, rows_of(noons))
    here, there, above = found.index[:, :-1], found.index[:, 1:], found.above[:, :-1]
    evening = np.where(above, here, here + 1)
    morning = np.where(evening < there, evening + 1, here)
    return _taken(crossings.at, evening, there), _taken(crossings.at, morning, there)


def _taken(at: Floats, index: Ints, before: Ints) -> Floats:
    padded = np.append(at, np.nan)
    result: Floats = np.where(index < before, padded[np.minimum(index, len(at))], np.nan)
    return result


def rows_of(noons: Floats) -> Ints:
    return np.broadcast_to(np.arange(len(noons))[:, None], noons.shape)


def below_until(crossings: Crossings, at: Floats, rows: Ints) -> Floats:
    """Give, up to a constant of its row, the seconds spent below the level until each instant."""
    return clock_below(crossings, locate(crossings, at, rows), crossings.at, at, rows)


def clock_below(
    crossings: Crossings, found: Located, clock: Floats, clock_at: Floats, rows: Ints
) -> Floats:
    """Sum how far a clock runs below the level until each located instant.

    `clock` is its reading at the crossings, `clock_at` at the instants. With time as the clock that
    is time below; with moonless time as the clock, it is moonless time below.
    """
    own = crossings.rows
    number = np.arange(len(clock)) - crossings.offsets[own]
    below_before = crossings.starts_above[own] ^ ((number & 1) == 0)
    gained = np.where(below_before & (number > 0), np.diff(clock, prepend=0.0), 0.0)
    total = np.concatenate(([0.0], np.cumsum(gained)))
    start = crossings.offsets[rows]
    # Before a row's first crossing the count runs from that crossing, and so is negative.
    anchor = np.clip(np.maximum(found.index - 1, start), 0, max(len(clock) - 1, 0))
    reading = clock[anchor] if len(clock) else np.zeros(clock_at.shape)
    empty = crossings.offsets[rows + 1] == start
    since = np.where(found.above, 0.0, clock_at - np.where(empty, 0.0, reading))
    result: Floats = total[found.index] - total[start] + since
    return result


@dataclass(frozen=True, slots=True)
class Side:
    """One function over one night: on which side of its level it starts, and its crossings."""

    start: float
    end: float
    above: bool
    crossings: tuple[float, ...]

    def falls(self) -> tuple[datetime, ...]:
        return _instants(self.crossings[(0 if self.above else 1) :: 2])

    def rises(self) -> tuple[datetime, ...]:
        return _instants(self.crossings[(1 if self.above else 0) :: 2])

    def below(self) -> Spans:
        edges = [*self.crossings, self.end]
        if not self.above:
            edges.insert(0, self.start)
        pairs = zip(edges[::2], edges[1::2], strict=False)
        return tuple(Span.from_seconds(start, end) for start, end in pairs if start < end)

    def evening_and_morning(self) -> tuple[datetime | None, datetime | None]:
        """Give the first fall and the first rise after it, or the first rise alone."""
        falls, rises = self.falls(), self.rises()
        evening = falls[0] if falls else None
        later = [rise for rise in rises if evening is None or rise > evening]
        return evening, later[0] if later else None


def side_of(crossings: Crossings, place: int, start: float, end: float) -> Side:
    row = crossings.row(place)
    here, there = np.searchsorted(row, (start, end))
    above = bool(crossings.starts_above[place]) ^ bool(here & 1)
    return Side(start, end, above, tuple(row[here:there].tolist()))


def _instants(seconds: Sequence[float]) -> tuple[datetime, ...]:
    return tuple(datetime.fromtimestamp(second, UTC) for second in seconds)
