"""Spans as arrays: what they share, joined, left out and cut."""

from __future__ import annotations

import numpy as np

from sky.span_arrays import cut, intersect, outside, union


def spans(*pairs: tuple[float, float]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.array(pairs, dtype=np.float64).reshape(-1, 2)


def test_what_lies_in_both_is_kept() -> None:
    found = intersect(spans((0, 4), (6, 9)), spans((3, 7), (8, 12)))
    assert found.tolist() == [[3, 4], [6, 7], [8, 9]]


def test_spans_that_only_touch_share_nothing() -> None:
    assert intersect(spans((0, 4)), spans((4, 7))).shape == (0, 2)


def test_spans_that_touch_or_overlap_are_joined() -> None:
    assert union(spans((5, 7), (0, 2), (2, 4), (6, 9))).tolist() == [[0, 4], [5, 9]]


def test_a_span_of_no_length_is_not_kept() -> None:
    assert union(spans((3, 3))).shape == (0, 2)


def test_what_lies_outside_is_the_rest() -> None:
    assert outside(spans((2, 3), (5, 12)), 0, 10).tolist() == [[0, 2], [3, 5]]
    assert outside(spans(), 0, 10).tolist() == [[0, 10]]


def test_a_cut_span_is_two_and_what_lies_beyond_the_ends_is_dropped() -> None:
    found = cut(spans((0, 5), (6, 20)), np.array([1.0, 4.0, 10.0]))
    assert found.tolist() == [[1, 4], [4, 5], [6, 10]]


def test_a_cut_at_an_edge_leaves_nothing_empty() -> None:
    assert cut(spans((1, 4)), np.array([1.0, 4.0, 10.0])).tolist() == [[1, 4]]
