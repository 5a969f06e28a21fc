"""Where sampled functions cross a level: batched, bracketed, and without any astronomy.

Many functions are sampled at the same evenly spaced instants, one a row. A crossing is a sign
change between two samples, or two crossings around an extremum that hides between samples. It is
refined inside its own bracket on the polynomial through the six samples around it, so that no
step can leave the bracket.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]

# Samples that the polynomial needs before and after a bracket.
MARGIN = 3
# Roots refined at once: small enough for the arrays to stay in the cache.
CHUNK = 4096
# A Newton step this short, in samples, has landed: the next would be far below a millisecond.
SETTLED = 1e-3
# Halving a bracket of an hour so often reaches a picosecond; Newton needs five or six.
MOST_STEPS = 50

# Turns seven samples around 0 into the coefficients of the polynomial through them.
TO_POWERS = np.linalg.inv(np.vander(np.arange(-MARGIN, MARGIN + 1.0), increasing=True))


@dataclass(frozen=True, slots=True)
class Crossings:
    """The crossings of each row, in order; along a row they alternate between up and down.

    `at` (crossing,) where; row i owns at[offsets[i]:offsets[i + 1]]. `offsets` (row + 1,).
    `starts_above` (row,) whether the function lies above the level before its first crossing.
    """

    at: Floats
    offsets: Ints
    starts_above: Bools

    def row(self, index: int) -> Floats:
        """Give the crossings of one row."""
        return self.at[self.offsets[index] : self.offsets[index + 1]]

    @property
    def rows(self) -> Ints:
        """Give the row of each crossing."""
        return np.repeat(np.arange(len(self.starts_above)), np.diff(self.offsets))


@dataclass(frozen=True, slots=True)
class Extrema:
    """Samples that are local extrema, in order of row and column; arrays of one length.

    `value` the sample; `reach` how far beyond it the function may pass between samples, positive
    beyond a minimum (that is, downwards) and negative beyond a maximum, as its second difference.
    """

    rows: Ints
    columns: Ints
    value: Floats
    reach: Floats


def find_crossings(samples: Floats, levels: Floats, extrema: Extrema | None = None) -> Crossings:
    """Find where each row of `samples` (row, instant) crosses its own level (row,).

    Positions count in samples from the first one. Crossings are sought between sample 2 and the
    third from last. `extrema` are those of the samples (`find_extrema`); give them once for
    several levels. Without any crossing a row's slice is empty.
    """
    above = samples > levels[:, None]
    changes = np.flatnonzero(above[:, MARGIN:-MARGIN] != above[:, MARGIN - 1 : -MARGIN - 1])
    width = samples.shape[1] - 2 * MARGIN
    rows, columns = np.divmod(changes, width)
    starts = rows * samples.shape[1] + columns + (MARGIN - 1)
    positions = _refine(samples, starts, levels[rows])
    if extrema is None:
        extrema = find_extrema(samples)
    hidden_rows, hidden = _hidden(samples, levels, extrema)
    if len(hidden):
        key, hidden_key = rows * width + positions, hidden_rows * width + hidden
        order = np.argsort(hidden_key)
        places = np.searchsorted(key, hidden_key[order])
        rows = np.insert(rows, places, hidden_rows[order])
        positions = np.insert(positions, places, hidden[order])
    offsets = np.searchsorted(rows, np.arange(len(samples) + 1))
    return Crossings(positions, offsets, above[:, MARGIN - 1])


def find_extrema(samples: Floats) -> Extrema:
    """Find the samples of each row that are local extrema, away from the margins."""
    rising = samples[:, MARGIN : -MARGIN + 1] > samples[:, MARGIN - 1 : -MARGIN]
    turns = np.flatnonzero(rising[:, 1:] != rising[:, :-1])
    rows, columns = np.divmod(turns, rising.shape[1] - 1)
    columns += MARGIN
    flat, index = samples.ravel(), rows * samples.shape[1] + columns
    value, before, after = flat[index], flat[index - 1], flat[index + 1]
    bend, tilt = before - 2 * value + after, after - before
    # Through three samples a parabola peaks tilt²/8 bend beyond the middle one; a two-hundredth of
    # the bend leaves room for its not being a parabola.
    with np.errstate(divide="ignore", invalid="ignore"):
        reach = tilt * tilt / (8 * bend) + 0.005 * bend
    return Extrema(rows, columns, value, np.nan_to_num(reach))


def _hidden(samples: Floats, levels: Floats, extrema: Extrema) -> tuple[Ints, Floats]:
    """Find pairs of crossings around extrema that pass the level between two samples."""
    short = extrema.value - levels[extrema.rows]
    near = np.flatnonzero((short * extrema.reach > 0) & (np.abs(short) < np.abs(extrema.reach)))
    pairs = [
        (row, column + root)
        for row, column in zip(
            extrema.rows[near].tolist(), extrema.columns[near].tolist(), strict=True
        )
        for root in _around_extremum(
            samples[row, column - MARGIN : column + MARGIN + 1] - levels[row]
        )
    ]
    if not pairs:
        return np.empty(0, dtype=np.intp), np.empty(0)
    found_rows, roots = zip(*pairs, strict=True)
    return np.array(found_rows, dtype=np.intp), np.array(roots)


def _around_extremum(around: Floats) -> list[float]:
    """Give the two crossings of 0 beside the middle one of seven samples, or none."""
    roots = np.polynomial.polynomial.polyroots(TO_POWERS @ around)
    real = roots[np.abs(roots.imag) < 1e-9].real
    inside: list[float] = np.sort(real[np.abs(real) < 1]).tolist()
    return inside if len(inside) == 2 else []


def _refine(samples: Floats, starts: Ints, levels: Floats) -> Floats:
    """Give the position in its row of the crossing in each bracket [start, start + 1]."""
    flat, width = samples.ravel(), samples.shape[1]
    found = np.empty(len(starts))
    for begin in range(0, len(starts), CHUNK):
        part = slice(begin, begin + CHUNK)
        found[part] = _roots(flat, starts[part], levels[part])
    found += starts % width
    return found


@dataclass(frozen=True, slots=True)
class Quintics:
    """Polynomials through six samples each, in x, the distance from the bracket's middle.

    The even part goes through the means of the samples at ±½, ±1½, ±2½, the odd part through their
    differences, both by divided differences in x². Arrays of one length.
    """

    even: tuple[Floats, Floats, Floats]
    odd: tuple[Floats, Floats, Floats]

    def value(self, x: Floats) -> Floats:
        (e0, e1, e2), (o0, o1, o2) = self.even, self.odd
        near, far = x * x - 0.25, x * x - 2.25
        result: Floats = e0 + near * (e1 + far * e2) + x * (o0 + near * (o1 + far * o2))
        return result

    def slope(self, x: Floats) -> Floats:
        (_, e1, e2), (o0, o1, o2) = self.even, self.odd
        z = x * x
        even = 2 * x * (e1 + (2 * z - 2.5) * e2)
        result: Floats = even + o0 + (3 * z - 0.25) * o1 + ((5 * z - 7.5) * z + 0.5625) * o2
        return result

    def some(self, which: Ints | Bools) -> Quintics:
        e0, e1, e2 = self.even
        o0, o1, o2 = self.odd
        return Quintics((e0[which], e1[which], e2[which]), (o0[which], o1[which], o2[which]))


def _roots(flat: Floats, starts: Ints, levels: Floats) -> Floats:
    """Solve for the root in each bracket, as a fraction of the spacing from its start."""
    y0, y1, y2 = flat[starts - 2], flat[starts - 1], flat[starts]
    y3, y4, y5 = flat[starts + 1], flat[starts + 2], flat[starts + 3]
    e1 = 0.25 * (y1 + y4 - y2 - y3)
    e2 = (0.125 * (y0 + y5 - y1 - y4) - e1) / 6
    o0, third = y3 - y2, (y4 - y1) / 3
    o1 = 0.5 * (third - o0)
    o2 = (0.25 * (0.2 * (y5 - y0) - third) - o1) / 6
    return _solved(Quintics((0.5 * (y2 + y3) - levels, e1, e2), (o0, o1, o2))) + 0.5


def _solved(curves: Quintics) -> Floats:
    """Step twice from the chord's root; corner the few roots for which that is not enough."""
    x = _within(-curves.even[0] / curves.odd[0])
    x = _within(x - curves.value(x) / curves.slope(x))
    step = curves.value(x) / curves.slope(x)
    x -= step
    loose = np.flatnonzero(~((np.abs(step) < SETTLED) & (np.abs(x) <= 0.5)))
    if len(loose):
        x[loose] = _cornered(curves.some(loose))
    return x


def _within(x: Floats) -> Floats:
    result: Floats = np.minimum(np.maximum(x, -0.5), 0.5)
    return result


def _cornered(curves: Quintics) -> Floats:
    """Close in on slow crossings: Newton's step where it stays in the bracket, else half of it."""
    rising = curves.odd[0] > 0
    low, high = np.full(len(rising), -0.5), np.full(len(rising), 0.5)
    x = np.zeros(len(rising))
    for _ in range(MOST_STEPS):
        value = curves.value(x)
        beyond = (value > 0) == rising
        high, low = np.where(beyond, x, high), np.where(beyond, low, x)
        with np.errstate(divide="ignore", invalid="ignore"):
            newton = x - value / curves.slope(x)
        inside = (newton >= low - 1e-12) & (newton <= high + 1e-12)
        after = np.where(inside, newton, 0.5 * (low + high))
        moved = float(np.max(np.abs(after - x)))
        x = after
        if moved < 1e-9:
            break
    return x
