"""When something stands clear of a line that has corners: sampled, batched, bracketed.

Many rows, each a function of x (an hour angle, or time) that gives a clearance, positive while
clear, and an azimuth. The clearance is smooth but where the azimuth passes a corner of the line, so
corners are sampled too: between two samples it has no kink, and what hides there is a parabola's
top. No astronomy.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from sky.span_arrays import spread

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]


class Line(Protocol):
    """A skyline, as far as it matters here."""

    @property
    def altitudes(self) -> Floats: ...


# (row, x) → (clearance, azimuth in degrees), arrays of one length.
Clearance = Callable[[Ints, Floats], tuple[Floats, Floats]]

# Steps of the closing-in; each about halves the digits that are missing.
MOST_STEPS = 60
# Hidden extrema are sought where the neighbours' parabola comes this near to zero, in degrees: a
# height beside the zenith turns like the edge of a roof, half a sample's motion over any parabola.
NEAR = 3.0


NO_CORNERS: Floats = np.empty(0)


@dataclass(frozen=True, slots=True)
class Samples:
    """Sorted by row, then by x. Arrays of one length."""

    row: Ints
    x: Floats
    clearance: Floats
    azimuth: Floats


def find_edges(clearance: Clearance, samples: Samples, tolerance: float) -> tuple[Ints, Floats]:
    """Give the row and x of each change between clear and not clear, sorted by row and x."""
    samples = _with_hidden(clearance, samples)
    is_clear = samples.clearance > 0
    changes = (samples.row[1:] == samples.row[:-1]) & (is_clear[1:] != is_clear[:-1])
    at = np.flatnonzero(changes)
    row = samples.row[at]
    ends = (samples.x[at], samples.clearance[at]), (samples.x[at + 1], samples.clearance[at + 1])
    return row, close_in(lambda which, x: clearance(row[which], x)[0], *ends, tolerance)


def clear_spans(
    clearance: Clearance, samples: Samples, *, corners: Floats = NO_CORNERS, tolerance: float
) -> Floats:
    """Give the spans (n, 2) of one row in which it is clear, from its first sample to its last."""
    (spans,) = spans_of_each(clearance, samples, 1, corners=corners, tolerance=tolerance)
    return spans


def spans_of_each(
    clearance: Clearance,
    samples: Samples,
    rows: int,
    *,
    corners: Floats = NO_CORNERS,
    tolerance: float,
) -> list[Floats]:
    """Give the same of each of so many rows, all of which are sampled."""
    with_corners = add_corners(clearance, samples, corners)
    row, edges = find_edges(clearance, with_corners, tolerance)
    found = []
    for number in range(rows):
        first, last = np.searchsorted(samples.row, (number, number + 1))
        ends = (samples.x[first : first + 1], edges[row == number], samples.x[last - 1 : last])
        around = np.concatenate(ends)
        spans = np.stack((around[:-1], around[1:]), axis=1)
        found.append(spans[0 if samples.clearance[first] > 0 else 1 :: 2])
    return found


def clear_within(
    clearance: Clearance,
    spans: Floats,
    *,
    step: float,
    corners: Floats = NO_CORNERS,
    tolerance: float,
) -> tuple[Ints, Floats]:
    """Leave of spans of x (n, 2) what is clear: the number of the span, and pieces (m, 2) of it.

    Each span is a row of the clearance, sampled at most a step apart.
    """
    if not len(spans):
        return np.empty(0, np.intp), spans
    of, at = spread(spans, step)
    samples = add_corners(clearance, sample(clearance, at, of), corners)
    edge_row, edges = find_edges(clearance, samples, tolerance)
    row = np.concatenate((np.repeat(np.arange(len(spans)), 2), edge_row))
    bounds = np.concatenate((spans.ravel(), edges))
    order = np.lexsort((bounds, row))
    row, bounds = row[order], bounds[order]
    inside = np.flatnonzero(row[1:] == row[:-1])
    row, pieces = row[inside], np.stack((bounds[inside], bounds[inside + 1]), axis=1)
    is_clear = clearance(row, pieces.mean(axis=1))[0] > 0
    return row[is_clear], pieces[is_clear]


def grazing_rows(clearance: Clearance, samples: Samples, within: float) -> Ints:
    """Name the rows in which the clearance turns back nearer to zero than `within`."""
    samples = _with_hidden(clearance, samples)
    at = _turns(samples) + 1
    near = np.abs(samples.clearance[at]) < within
    return np.unique(samples.row[at[near]])


def sample(clearance: Clearance, x: Floats, row: Ints | None = None) -> Samples:
    """Sample at x of each row; without rows, all of one."""
    row = np.zeros(len(x), np.intp) if row is None else row
    return Samples(row, x, *clearance(row, x))


def add_corners(clearance: Clearance, samples: Samples, corners: Floats) -> Samples:
    """Sample also where the azimuth passes a corner (ascending, degrees).

    Where the azimuth is not a number no corner is looked for: far from the line none matters.
    """
    row, x = _corners(clearance, samples, corners)
    return _merged(samples, sample(clearance, x, row)) if len(row) else samples


def near_line(altitude: Floats, azimuth: Floats, line: Line, motion: float) -> Floats:
    """Give the azimuths, and no number where the altitude cannot come to the line by the next
    sample, between which it moves by at most `motion` degrees."""
    low, high = line.altitudes.min() - motion, line.altitudes.max() + motion
    return np.where((altitude >= low) & (altitude <= high), azimuth, np.nan)


def _merged(first: Samples, second: Samples) -> Samples:
    row, x = np.concatenate((first.row, second.row)), np.concatenate((first.x, second.x))
    order = np.lexsort((x, row))
    return Samples(
        row[order],
        x[order],
        np.concatenate((first.clearance, second.clearance))[order],
        np.concatenate((first.azimuth, second.azimuth))[order],
    )


def _corners(clearance: Clearance, samples: Samples, corners: Floats) -> tuple[Ints, Floats]:
    """Find where the azimuth passes corners: straight between samples, and once again closer."""
    if len(corners) < 2:  # one point is a level line
        return np.empty(0, np.intp), np.empty(0)
    start = samples.azimuth[:-1]
    move = (samples.azimuth[1:] - start + 180) % 360 - 180
    known = (samples.row[1:] == samples.row[:-1]) & np.isfinite(move)
    start, move = np.where(known, start, 0.0), np.where(known, move, 0.0)
    low, high = np.minimum(start, start + move), np.maximum(start, start + move)
    around = np.concatenate((corners - 360, corners, corners + 360))
    begin, end = np.searchsorted(around, low, side="right"), np.searchsorted(around, high)
    counts = np.maximum(end - begin, 0)
    of = np.repeat(np.arange(len(counts)), counts)
    number = np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)
    corner = around[np.repeat(begin, counts) + number]
    return samples.row[of], _passing(clearance, samples, of, (corner - start[of]) / move[of])


def _passing(clearance: Clearance, samples: Samples, of: Ints, share: Floats) -> Floats:
    """Refine where, between two samples, the azimuth has moved by a share: two secant steps."""
    x0, width = samples.x[of], samples.x[of + 1] - samples.x[of]
    move = (samples.azimuth[of + 1] - samples.azimuth[of] + 180) % 360 - 180
    at = share
    for _ in range(2):
        azimuth = clearance(samples.row[of], x0 + at * width)[1]
        passed = ((azimuth - samples.azimuth[of] + 180) % 360 - 180) / move
        at = np.clip(at + np.nan_to_num(share - passed), 0.0, 1.0)
    result: Floats = x0 + at * width
    return result


def _with_hidden(clearance: Clearance, samples: Samples) -> Samples:
    """Add the tops of parabolas that may pass zero between samples of one sign."""
    at = _turns(samples) + 1
    top, reach = _parabola_top(samples.x, samples.clearance, at)
    # A corner is its own extremum; elsewhere the top may lie beyond zero, or so near that it is
    # worth a look.
    near = np.abs(samples.clearance[at]) <= reach + NEAR
    row, top = samples.row[at[near]], top[near]
    if not len(row):
        return samples
    return _merged(samples, Samples(row, top, *clearance(row, top)))


def _turns(samples: Samples) -> Ints:
    """Number the samples whose next one is nearer to zero than both its neighbours of its sign."""
    row, x, size = samples.row, samples.x, np.abs(samples.clearance)
    is_clear = samples.clearance > 0
    same = (row[2:] == row[:-2]) & (x[2:] > x[1:-1]) & (x[1:-1] > x[:-2])
    alike = (is_clear[2:] == is_clear[1:-1]) & (is_clear[:-2] == is_clear[1:-1])
    nearest = (size[1:-1] <= size[2:]) & (size[1:-1] <= size[:-2])
    return np.flatnonzero(same & alike & nearest)


def _parabola_top(x: Floats, value: Floats, at: Ints) -> tuple[Floats, Floats]:
    """Give where the parabola through three samples has its top, and how far beyond the middle."""
    before, after = x[at - 1] - x[at], x[at + 1] - x[at]
    left = (value[at - 1] - value[at]) / before
    right = (value[at + 1] - value[at]) / after
    bend = (right - left) / (after - before)
    slope = left - bend * before
    with np.errstate(divide="ignore", invalid="ignore"):
        move = np.where(bend != 0, -slope / (2 * bend), 0.0)
    move = np.clip(np.nan_to_num(move), before, after)
    reach = np.abs(slope * move + bend * move * move)
    return x[at] + move, reach


Ends = tuple[Floats, Floats]
Function = Callable[[Ints, Floats], Floats]


def close_in(function: Function, low: Ends, high: Ends, tolerance: float) -> Floats:
    """Solve for a root in each bracket, given as (x, value) of two ends of unlike sign.

    Regula falsi with the Illinois rule, halving where that does not shrink the bracket. `function`
    takes the numbers of the brackets and x.
    """
    (a, fa), (b, fb) = (low[0].copy(), low[1].copy()), (high[0].copy(), high[1].copy())
    root, open_ = np.where(np.abs(fa) < np.abs(fb), a, b), np.arange(len(a))
    side = np.zeros(len(a), np.int8)
    for step in range(MOST_STEPS):
        if not len(open_):
            break
        ax, bx, av, bv = a[open_], b[open_], fa[open_], fb[open_]
        x = bx - bv * (bx - ax) / (bv - av) if step % 4 != 3 else 0.5 * (ax + bx)
        x = np.clip(np.where(np.isfinite(x), x, 0.5 * (ax + bx)), ax, bx)
        value = function(open_, x)
        moved, root[open_] = np.abs(x - root[open_]), x
        is_low = (value > 0) == (av > 0)
        a[open_], fa[open_] = np.where(is_low, x, ax), np.where(is_low, value, av)
        b[open_], fb[open_] = np.where(is_low, bx, x), np.where(is_low, bv, value)
        stuck_low, stuck_high = is_low & (side[open_] == 1), ~is_low & (side[open_] == -1)
        fb[open_] = np.where(stuck_low, 0.5 * fb[open_], fb[open_])
        fa[open_] = np.where(stuck_high, 0.5 * fa[open_], fa[open_])
        side[open_] = np.where(is_low, 1, -1)
        settled = (value == 0) | (moved < tolerance) & (step > 0) | (bx - ax < tolerance)
        open_ = open_[~settled]
    return root
