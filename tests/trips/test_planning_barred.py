"""A better run that is not offered, and why not."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

from tests.trips.compared_sites import night, nights
from trips.planning.barred import Barred, better_barred
from trips.planning.nights import ALL_WEEK, JudgedNight
from trips.planning.runs import ONE_DAY, best_runs

MOON = datetime(2027, 2, 6, 16, tzinfo=UTC)
FIRST = date(2027, 2, 4)


def barred(
    of: list[JudgedNight], length: int = 2, *, weekdays: frozenset[int] = ALL_WEEK
) -> Barred | None:
    (run,) = best_runs(of, length, [MOON])
    return better_barred(run, of, weekdays)


def closed(of: list[JudgedNight], at: int, why_not: str = "road_closed") -> list[JudgedNight]:
    return [*of[:at], replace(of[at], why_not=why_not), *of[at + 1 :]]


def test_a_better_run_across_a_closed_night_is_named() -> None:
    found = barred(closed(nights(4, 4, 3, 2, first=FIRST), 0))
    assert found is not None
    assert (found.stretch.first, found.stretch.hours) == (FIRST, 8)
    assert found.why_not == ("road_closed",)


def test_one_that_is_no_better_is_not_named() -> None:
    assert barred(closed(nights(3, 3, 4, 4, first=FIRST), 0)) is None


def test_reasons_are_told_once_each_in_the_order_of_the_nights() -> None:
    month = nights(4, 4, 1, 1, first=FIRST)
    found = barred(closed(closed(month, 0, "avoided"), 1, "closed_month"))
    assert found is not None
    assert found.why_not == ("avoided", "closed_month")


def test_other_weekdays_do_not_bar_for_they_are_a_wish() -> None:
    not_on_thursdays = ALL_WEEK - {FIRST.weekday()}
    found = closed(nights(4, 4, 3, 2, first=FIRST), 0, "weekday")
    assert barred(found, weekdays=not_on_thursdays) is None


def test_a_closed_night_on_another_weekday_does_not_bar_either() -> None:
    not_on_thursdays = ALL_WEEK - {FIRST.weekday()}
    found = closed(nights(4, 4, 3, 2, first=FIRST), 0, "closed_month")
    assert barred(found, weekdays=not_on_thursdays) is None


def test_nights_of_another_moon_do_not_bar() -> None:
    month = nights(3, 3, first=FIRST)
    far = [night(FIRST + ONE_DAY * n, 4, why_not="avoided") for n in (20, 21)]
    assert barred([*month, *far]) is None


def test_nights_that_do_not_follow_each_other_are_no_run() -> None:
    month = closed(nights(4, 3, first=FIRST - ONE_DAY), 0, "avoided")
    rest = nights(4, 3, first=FIRST + ONE_DAY * 2)
    found = barred([*month, *rest])
    assert found is None
