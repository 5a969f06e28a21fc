"""Bars of months: one scale, whole pixels, a foot that is seen, and nothing drawn for nothing."""

from __future__ import annotations

import pytest

from trips.charts.bars import TALLEST, Bar, bar, scale_of


def drawn(moonless: float, usable: float, *, tallest: float = 200) -> Bar:
    found = bar(moonless, usable, tallest_hours=tallest)
    assert found is not None
    return found


def test_the_tallest_bar_has_the_full_height_and_the_others_their_share() -> None:
    assert drawn(200, 0).height == TALLEST
    assert drawn(100, 0).height == TALLEST // 2


def test_a_zero_is_not_drawn() -> None:
    assert bar(0, 0, tallest_hours=200) is None
    assert bar(0, 0, tallest_hours=0) is None


def test_a_little_is_drawn() -> None:
    assert drawn(0.1, 0).height == 1


def test_the_foot_stands_on_the_line_with_a_gap_above_it() -> None:
    found = drawn(200, 100)
    assert found.foot == f"M0 {TALLEST // 2}h22v{TALLEST // 2}H0z"
    assert found.ink == f"M0 0h22v{TALLEST // 2 - 1}H0z"


def test_few_usable_hours_have_a_foot_that_is_seen() -> None:
    assert drawn(200, 0.2).foot == f"M0 {TALLEST - 2}h22v2H0z"


def test_no_usable_hours_have_no_foot() -> None:
    found = drawn(200, 0)
    assert (found.foot, found.ink) == ("", f"M0 0h22v{TALLEST}H0z")


@pytest.mark.parametrize("usable", [100, 100.0001])
def test_a_month_that_is_usable_throughout_has_no_ink_above(usable: float) -> None:
    found = drawn(100, usable)
    assert (found.ink, found.foot) == ("", "M0 0h22v29H0z")


def test_targets_of_twilight_can_have_more_hours_than_the_dark_has() -> None:
    found = drawn(50, 100)
    assert (found.ink, found.foot) == ("", "M0 0h22v29H0z")


def test_sizes_follow_the_type_beside_the_bar() -> None:
    found = drawn(200, 0)
    assert (found.width_em, found.height_em) == ("1.375em", "3.625em")


def test_the_scale_is_the_greatest_of_all_sites() -> None:
    assert scale_of([3.0, 190.4, 20.0]) == 190.4
    assert scale_of([]) == 0
