"""When something stands clear of a line, tried on functions whose edges are known by hand."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from sky.clearing import (
    Clearance,
    add_corners,
    clear_spans,
    close_in,
    find_edges,
    grazing_rows,
    near_line,
    sample,
)
from sky.skyline import skyline_of

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

GRID = np.arange(0.0, 101.0, 10.0)
TOLERANCE = 1e-9


def clearance_of(height: Callable[[Floats], Floats], *, turn: float = 0.0) -> Clearance:
    """Give the same height to every row, and an azimuth that moves by `turn` for each unit of x."""

    def clearance(_row: Ints, x: Floats) -> tuple[Floats, Floats]:
        return height(x), turn * x % 360.0

    return clearance


def spans_of(height: Callable[[Floats], Floats], grid: Floats = GRID) -> Floats:
    clearance = clearance_of(height)
    return clear_spans(clearance, sample(clearance, grid), tolerance=TOLERANCE)


def bump(top: float, *, at: float, width: float = 3.0) -> Callable[[Floats], Floats]:
    """Give a parabola that has its top at a place, and falls by 1 in `width` on either side."""
    return lambda x: top - ((x - at) / width) ** 2


def test_a_wave_is_clear_from_its_rise_to_its_fall() -> None:
    found = spans_of(lambda x: np.sin(2 * np.pi * (x - 13) / 50))
    assert found == pytest.approx(np.array([[13, 38], [63, 88]]), abs=1e-6)


def test_what_is_clear_at_an_end_is_clear_from_there() -> None:
    assert spans_of(lambda x: 42.5 - x) == pytest.approx(np.array([[0, 42.5]]))
    assert spans_of(lambda x: x - 42.5) == pytest.approx(np.array([[42.5, 100]]))


def test_what_is_always_clear_is_one_span_and_what_never_is_none() -> None:
    assert spans_of(lambda x: x * 0 + 1).tolist() == [[0, 100]]
    assert spans_of(lambda x: x * 0 - 1).shape == (0, 2)


def test_on_the_line_is_not_clear() -> None:
    assert spans_of(lambda x: x * 0).shape == (0, 2)


def test_a_peak_between_two_samples_is_found() -> None:
    assert spans_of(bump(0.25, at=44.0)) == pytest.approx(np.array([[42.5, 45.5]]))


def test_a_peak_that_stays_short_of_the_line_is_not() -> None:
    assert spans_of(bump(-1e-9, at=44.0)).shape == (0, 2)


def test_a_roof_between_two_samples_is_found_though_their_parabola_is_flat() -> None:
    """As a height turns beside the zenith, five degrees in twenty minutes."""
    found = spans_of(lambda x: 1 - 0.5 * np.abs(x - 44.0))
    assert found == pytest.approx(np.array([[42, 46]]))


def test_a_dip_between_two_samples_is_found() -> None:
    dip = bump(0.25, at=44.0)
    assert spans_of(lambda x: -dip(x)) == pytest.approx(np.array([[0, 42.5], [45.5, 100]]))


def test_rows_keep_to_themselves() -> None:
    """One row rises at 25, the next falls at 75: between them no edge is seen."""

    def clearance(row: Ints, x: Floats) -> tuple[Floats, Floats]:
        return np.where(row == 0, x - 25, 75 - x), np.zeros(len(x))

    samples = sample(clearance, np.tile(GRID, 2), np.repeat(np.arange(2), len(GRID)))
    row, edge = find_edges(clearance, samples, TOLERANCE)
    assert row.tolist() == [0, 1]
    assert edge == pytest.approx([25, 75])


def test_a_spike_of_the_line_between_two_samples_hides_what_stands_behind_it() -> None:
    """Height 10 over a plain with a spike of 20 at azimuth 44, two degrees wide at its foot."""
    spike = skyline_of([(0, 0), (43, 0), (44, 20), (45, 0)])

    def clearance(_row: Ints, x: Floats) -> tuple[Floats, Floats]:
        return 10 - spike.at(x), x

    samples = sample(clearance, GRID)
    corners = spike.azimuths[1:-1]
    found = clear_spans(clearance, samples, corners=corners, tolerance=TOLERANCE)
    assert found == pytest.approx(np.array([[0, 43.5], [44.5, 100]]))
    assert clear_spans(clearance, samples, tolerance=TOLERANCE).tolist() == [[0, 100]]


@pytest.mark.parametrize("turn", [1.0, -1.0])
def test_corners_are_sampled_where_the_azimuth_passes_them_either_way(turn: float) -> None:
    clearance = clearance_of(np.ones_like, turn=turn)
    found = add_corners(clearance, sample(clearance, GRID), np.array([33.0, 327.0]))
    (new,) = np.setdiff1d(found.x, GRID)
    assert new == pytest.approx(33.0)
    assert (np.diff(found.x) > 0).all()


def test_a_corner_is_found_across_north() -> None:
    clearance = clearance_of(np.ones_like, turn=7.1)
    found = add_corners(clearance, sample(clearance, GRID), np.array([1.0, 180.0]))
    new = np.setdiff1d(found.x, GRID)
    assert new == pytest.approx(np.array([1, 180, 361, 540]) / 7.1)


def test_a_corner_that_is_passed_unevenly_is_found_closely() -> None:
    def clearance(_row: Ints, x: Floats) -> tuple[Floats, Floats]:
        return np.ones_like(x), x + 2 * np.sin(x / 7)

    corners = np.array([33.0, 66.0])
    found = add_corners(clearance, sample(clearance, GRID), corners)
    new = np.setdiff1d(found.x, GRID)
    assert new + 2 * np.sin(new / 7) == pytest.approx(corners, abs=1e-2)


def test_without_an_azimuth_no_corner_is_looked_for() -> None:
    def clearance(_row: Ints, x: Floats) -> tuple[Floats, Floats]:
        return np.ones_like(x), np.full_like(x, np.nan)

    samples = sample(clearance, GRID)
    assert add_corners(clearance, samples, np.array([33.0, 66.0])) is samples


def test_a_line_of_one_point_has_no_corners() -> None:
    clearance = clearance_of(np.ones_like, turn=1.0)
    samples = sample(clearance, GRID)
    assert add_corners(clearance, samples, np.array([33.0])) is samples


def test_far_from_the_line_the_azimuth_does_not_matter() -> None:
    line = skyline_of([(0, 5), (180, 20)])
    altitude, azimuth = np.array([-2.0, -0.5, 12.0, 25.5, 27.0]), np.arange(5.0)
    found = near_line(altitude, azimuth, line, motion=6.0)
    assert np.isnan(found).tolist() == [True, False, False, False, True]
    assert found[1:4].tolist() == [1, 2, 3]


@pytest.mark.parametrize("side", [1.0, -1.0])
@pytest.mark.parametrize(("short", "rows"), [(0.01, [0]), (0.03, [])])
def test_a_row_that_turns_back_just_before_the_line_grazes_it(
    side: float, short: float, rows: list[int]
) -> None:
    """From below and from above; nearer than 0.02, and not so near."""
    peak = bump(-short, at=44.0)
    clearance = clearance_of(lambda x: side * peak(x))
    assert grazing_rows(clearance, sample(clearance, GRID), within=0.02).tolist() == rows


def test_a_row_that_passes_the_line_steeply_does_not_graze_it() -> None:
    clearance = clearance_of(lambda x: x - 44.0)
    assert grazing_rows(clearance, sample(clearance, GRID), within=0.02).tolist() == []


def test_roots_are_closed_in_on_in_their_own_brackets() -> None:
    """A straight line, a steep cube, a step, and a root at an end, each in its own bracket."""
    functions = (
        lambda x: x - 3.3,
        lambda x: (x - 7.7) ** 3,
        lambda x: np.where(x < 2.2, -1.0, 50.0),
        lambda x: x - 10.0,
    )

    def function(which: Ints, x: Floats) -> Floats:
        return np.array([functions[n](at) for n, at in zip(which, x, strict=True)])

    low, high = np.zeros(4), np.full(4, 10.0)
    every = np.arange(4)
    ends = (low, function(every, low)), (high, function(every, high))
    found = close_in(function, *ends, TOLERANCE)
    assert found == pytest.approx([3.3, 7.7, 2.2, 10.0], abs=1e-4)
    assert found[[0, 2, 3]] == pytest.approx([3.3, 2.2, 10.0], abs=1e-7)


def test_no_brackets_have_no_roots() -> None:
    none = np.empty(0)
    assert len(close_in(lambda _which, x: x, (none, none), (none, none), TOLERANCE)) == 0
