"""A coast night is not confirmed before its tides were read."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from trips.planning.tide_rule import CoastNight, Water, misread, spring_moon, still_lacking

NEW_MOON = datetime(2027, 7, 4, 3, 2, tzinfo=UTC)
READ = CoastNight(
    on_coast=True,
    kinds=("high", "low", "high"),
    datum="lowest astronomical tide",
    source="tide table of the port, 2027",
    leave_by=NEW_MOON,
)


def test_a_coast_night_with_all_of_it_lacks_nothing() -> None:
    assert still_lacking(READ) == ()


def test_a_coast_night_without_any_lacks_all_and_an_inland_one_nothing() -> None:
    lacking = still_lacking(CoastNight(on_coast=True))
    assert lacking == ("high_water", "low_water", "tide_datum", "tide_source", "leave_by")
    assert still_lacking(CoastNight(on_coast=False)) == ()


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        (replace(READ, kinds=("low",)), "high_water"),
        (replace(READ, kinds=("high", "high")), "low_water"),
        (replace(READ, datum="  "), "tide_datum"),
        (replace(READ, source=""), "tide_source"),
        (replace(READ, leave_by=None), "leave_by"),
    ],
)
def test_each_is_asked_for(typed: CoastNight, code: str) -> None:
    assert still_lacking(typed) == (code,)


@pytest.mark.parametrize(
    ("days", "is_near"), [(-2.1, False), (-2, True), (0, True), (4, True), (4.1, False)]
)
def test_springs_are_around_new_and_full_moon(days: float, *, is_near: bool) -> None:
    at = NEW_MOON + timedelta(days=days)
    assert spring_moon(at, {NEW_MOON: "new"}) == ((NEW_MOON, "new") if is_near else None)


@pytest.mark.parametrize(
    ("waters", "code"),
    [
        ([(1, True, 4.1), (7, False, 0.6), (13, True, 3.9)], ""),
        ([(7, False, 0.6), (1, True, 4.1)], ""),
        ([(1, True, 0.6), (7, False, 4.1)], "high_below_low"),
        ([(1, True, 4.1), (7, False, 4.1)], "high_below_low"),
        ([(1, True, 4.1), (1, False, 0.6)], "two_at_once"),
        ([(1, True, 4.1), (13, True, 3.9)], ""),
        ([], ""),
    ],
)
def test_high_water_stands_above_the_low_water_next_to_it(
    waters: list[tuple[int, bool, float]], code: str
) -> None:
    read = [Water(NEW_MOON + timedelta(hours=hour), is_high, m) for hour, is_high, m in waters]
    assert misread(read) == code
