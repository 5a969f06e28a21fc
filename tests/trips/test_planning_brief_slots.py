"""Targets of a night one after the other: nothing overlaps, what counts most is best placed."""

from __future__ import annotations

from itertools import pairwise

import pytest

from trips.planning.brief.slots import Wanted, slots

MINUTE, HOUR = 60.0, 3600.0


def _wanted(start: float, end: float, best: float, weight: float = 1.0) -> Wanted:
    return Wanted([(start * HOUR, end * HOUR)], best * HOUR, weight)


def _hours(targets: list[Wanted]) -> dict[int, tuple[float, float]]:
    return {number: (start / HOUR, end / HOUR) for number, (start, end) in slots(targets).items()}


def test_targets_with_best_moments_apart_change_half_way_between_them() -> None:
    assert _hours([_wanted(0, 4, 3), _wanted(0, 4, 1)]) == {1: (0, 2), 0: (2, 4)}


def test_targets_best_at_the_end_share_the_time_and_what_counts_most_comes_last() -> None:
    found = _hours([_wanted(0, 3, 3, 1.0), _wanted(0, 3, 3, 0.2), _wanted(0, 3, 3, 0.5)])
    assert found == {1: (0, 1), 2: (1, 2), 0: (2, 3)}


def test_targets_best_at_the_start_begin_with_what_counts_most() -> None:
    assert list(_hours([_wanted(0, 2, 0, 0.2), _wanted(0, 2, 0, 1.0)])) == [1, 0]


def test_a_share_outside_of_when_a_target_stands_right_is_its_own_window() -> None:
    found = _hours([_wanted(0, 3, 3, 1.0), _wanted(2.9, 3, 3, 0.5)])
    assert found[1] == (2.9, 3)


def test_a_window_in_two_pieces_is_taken_where_it_is_best() -> None:
    one = Wanted([(0.0, HOUR), (2 * HOUR, 3 * HOUR)], 2.5 * HOUR, 1.0)
    assert _hours([one]) == {0: (2, 3)}


def test_a_night_without_targets_has_no_stretches() -> None:
    assert slots([]) == {}


@pytest.mark.parametrize("bests", [(1, 1, 1), (0, 1, 2), (2, 2, 0.5), (0, 0.2, 3)])
def test_no_two_targets_of_one_long_window_overlap(bests: tuple[float, ...]) -> None:
    found = sorted(_hours([_wanted(0, 3, best) for best in bests]).values())
    assert all(first[1] <= second[0] + 1e-9 for first, second in pairwise(found))
