"""Rows of evenings that weekdays can give."""

from __future__ import annotations

import pytest

from trips.planning.nights import ALL_WEEK
from trips.planning.offered import longest_row


@pytest.mark.parametrize(
    ("weekdays", "row"),
    [({4, 5, 6}, 3), ({5, 6, 0}, 3), ({2}, 1), ({0, 2, 4}, 1), (set(range(1, 7)), 6), (set(), 0)],
)
def test_weekdays_give_a_row_at_most_as_long(weekdays: set[int], row: int) -> None:
    assert longest_row(weekdays) == row


def test_where_every_day_suits_nothing_limits_a_row() -> None:
    assert longest_row(ALL_WEEK) is None
