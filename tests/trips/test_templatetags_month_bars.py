"""Cells of months: hours above the bar, usable hours below it, and never an empty place."""

from __future__ import annotations

import pytest

from trips.planning.comparing import MonthHours
from trips.templatetags.month_bars import month_bars


def cell(month: MonthHours | None, tallest_hours: float = 100) -> str:
    return str(month_bars([month], tallest_hours))


def test_hours_stand_above_and_below_their_bar() -> None:
    html = cell(MonthHours(30, 100, 50))
    assert "<span>100</span><svg" in html
    assert 'class="bar-ink"' in html
    assert 'class="bar-usable"' in html
    assert html.endswith("</svg><b>50</b></td>")


def test_with_targets_the_bar_is_of_moonless_usable_and_its_foot_of_their_hours() -> None:
    html = cell(MonthHours(30, 100, 50, moonless_usable=80))
    assert "<span>80</span><svg" in html
    assert "<span>100</span>" not in html
    assert html.endswith("</svg><b>50</b></td>")


def test_targets_of_a_month_without_dark_are_drawn() -> None:
    html = cell(MonthHours(30, 0, 50, moonless_usable=0))
    assert "<span>0</span><svg" in html
    assert "bar-usable" in html
    assert html.endswith("<b>50</b></td>")


@pytest.mark.parametrize("moonless", [0.0, 80.0])
def test_a_month_without_usable_hours_says_0(moonless: float) -> None:
    html = cell(MonthHours(30, moonless, 0))
    assert '<b class="nil">0</b>' in html
    assert "bar-usable" not in html
    assert ("bar-ink" in html) == bool(moonless)


def test_a_month_in_which_the_site_is_closed_says_so() -> None:
    html = cell(MonthHours(30, 80, 0, is_closed=True))
    assert '<b class="nil">shut</b>' in html


def test_a_month_that_is_not_computed_says_so() -> None:
    assert "not computed" in cell(None)


def test_all_bars_of_a_row_have_one_scale() -> None:
    half, whole = (cell(MonthHours(30, hours, 0)) for hours in (50, 100))
    assert 'viewBox="0 0 22 29"' in half
    assert 'viewBox="0 0 22 58"' in whole
