"""The month calendar: weeks, marks, totals and notes."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.trips.lines import NO_NIGHT, make_line, make_lines
from trips.charts.calendar import Cell, Month, months, sheets

JUNE_1, JUNE_30 = date(2027, 6, 1), date(2027, 6, 30)


def cells(month: Month) -> dict[int, Cell]:
    return {cell.day: cell for week in month.weeks for cell in week if cell}


def test_a_month_begins_under_its_weekday() -> None:
    # 1 June 2027 is a Tuesday.
    first = months(make_lines(JUNE_1, JUNE_30))[0].weeks[0]
    assert [cell.day if cell else None for cell in first] == [None, 1, 2, 3, 4, 5, 6]


def test_every_week_has_seven_days_and_every_date_is_there_once() -> None:
    june = months(make_lines(JUNE_1, JUNE_30))[0]
    assert {len(week) for week in june.weeks} == {7}
    assert [cell.day for week in june.weeks for cell in week if cell] == list(range(1, 31))


def test_months_run_across_a_year() -> None:
    found = months(make_lines(date(2027, 11, 20), date(2028, 2, 3)))
    names = [month.name for month in found]
    assert names == ["November 2027", "December 2027", "January 2028", "February 2028"]


def test_weeks_outside_the_season_are_left_out_and_days_of_its_weeks_are_not() -> None:
    june = months(make_lines(date(2027, 6, 10), date(2027, 6, 15)))[0]
    assert sorted(cells(june)) == list(range(7, 21))
    assert not cells(june)[7].inside
    assert cells(june)[7].night is None


def test_a_night_that_is_missing_is_known_as_such() -> None:
    lines = make_lines(JUNE_1, JUNE_30)
    del lines[4]
    missing = cells(months(lines)[0])[5]
    assert missing.night is None
    assert missing.inside


def test_a_season_without_nights_has_no_months() -> None:
    assert months([]) == ()


def test_a_run_is_named_at_its_first_night_and_said_at_the_others() -> None:
    lines = make_lines(JUNE_1, date(2027, 6, 3), run=2)
    found = cells(months(lines)[0])
    assert [(cell.run, cell.runs_on) for cell in list(found.values())[:3]] == [
        ("run 2", ""), ("", "run 2"), ("", "run 2"),
    ]  # fmt: skip
    assert found[1].kind == "run"


def test_a_run_that_follows_another_is_named_again() -> None:
    lines = [make_line(date(2027, 6, 1), run=1), make_line(date(2027, 6, 2), run=2)]
    assert cells(months(lines)[0])[2].run == "run 2"


def test_a_run_across_months_is_named_again_where_the_month_begins() -> None:
    june, july = months(make_lines(JUNE_30, date(2027, 7, 2), run=1))
    assert cells(june)[30].run == "run 1"
    assert (cells(july)[1].run, cells(july)[1].runs_on) == ("run 1", "")
    assert (cells(july)[2].run, cells(july)[2].runs_on) == ("", "run 1")


@pytest.mark.parametrize(
    ("fields", "kind"),
    [
        ({"is_candidate": True}, "candidate"),
        ({"is_candidate": False}, ""),
        ({"is_candidate": True, "against": "road closed"}, "against"),
        ({"is_candidate": True, "run": 1}, "run"),
    ],
)
def test_one_thing_stands_out_of_a_night(fields: dict[str, Any], kind: str) -> None:
    assert cells(months([make_line(JUNE_1, **fields)])[0])[1].kind == kind


def test_hours_are_told_with_one_decimal_and_nothing_as_none() -> None:
    lines = [make_line(JUNE_1, usable_hours=4.0), make_line(date(2027, 6, 2), usable_hours=0)]
    found = cells(months(lines)[0])
    assert (found[1].hours, found[1].is_usable) == ("4.0\u00a0h", True)
    assert (found[2].hours, found[2].is_usable) == ("none", False)


def test_a_month_tells_its_totals() -> None:
    lines = make_lines(JUNE_1, date(2027, 6, 4))
    lines[3] = make_line(date(2027, 6, 4), against="road closed")
    june = months(lines)[0]
    assert june.candidates == "3 candidate nights; 1 more would be (road closed)"
    assert (
        june.hours
        == "usable 7.5\u00a0h, dark 14.0\u00a0h, moonless 10.0\u00a0h, usable dark 12.0\u00a0h"
    )


def test_an_offered_night_says_when_and_another_has_no_hours() -> None:
    lines = [make_line(JUNE_1), make_line(date(2027, 6, 2), against="site closed")]
    found = cells(months(lines)[0])
    assert (found[1].hours, found[1].when, found[1].is_usable) == (
        "2.5\u00a0h", "23:30–02:00", True,
    )  # fmt: skip
    assert (found[2].hours, found[2].when, found[2].is_usable) == ("", "", False)


@pytest.mark.parametrize(
    ("candidates", "told"),
    [
        ((True, True), "site closed: 2 nights would be candidates"),
        ((True, False), "site closed: 1 night would be a candidate"),
        ((False, False), "site closed: no night would be a candidate"),
    ],
)
def test_a_month_that_is_closed_says_so_first(candidates: tuple[bool, bool], told: str) -> None:
    lines = [
        make_line(date(2027, 6, n), against="site closed", is_candidate=is_candidate)
        for n, is_candidate in enumerate(candidates, 1)
    ]
    assert months(lines)[0].candidates == told


def test_six_months_make_a_sheet() -> None:
    year = months(make_lines(date(2027, 1, 1), date(2027, 12, 31)))
    assert [len(sheet) for sheet in sheets(year)] == [6, 6]
    assert [len(sheet) for sheet in sheets(year[:7])] == [6, 1]
    assert sheets(()) == []


def test_a_month_without_dark_says_so() -> None:
    nothing = {"dark_hours": 0, "moonless_hours": 0, "usable_hours": 0, "is_candidate": False}
    june = months([make_line(JUNE_1, bands=NO_NIGHT, **nothing)])[0]
    assert (june.candidates, june.hours) == ("no candidate night", "no dark")


def test_events_and_reasons_stand_under_their_month() -> None:
    lines = make_lines(JUNE_1, date(2027, 6, 12))
    lines[3] = make_line(date(2027, 6, 4), events=("New Moon 21:40",))
    for at in (6, 7, 8, 10):
        lines[at] = make_line(date(2027, 6, at + 1), against="dates to avoid")
    notes = [(note.days, note.words, note.is_against) for note in months(lines)[0].notes]
    assert notes == [
        ("4", "New Moon 21:40", False),
        ("7–9, 11", "dates to avoid", True),
    ]


def test_a_month_without_events_has_no_notes() -> None:
    assert months([make_line()])[0].notes == ()


def test_short_nights_are_seen_from_eight_to_seven() -> None:
    june = months(make_lines(JUNE_1, JUNE_30))[0]
    assert (june.first_minute, june.last_minute) == (480, 1140)


def test_long_nights_widen_the_window_of_all_months_to_whole_hours() -> None:
    lines = [make_line(date(2027, 11, 1), bands={"dark": ((390, 1165),)}), make_line(JUNE_1)]
    found = months(sorted(lines, key=lambda line: line.bands.date))
    assert {(month.first_minute, month.last_minute) for month in found} == {(360, 1200)}


def test_a_polar_night_widens_it_to_that_of_the_season_chart_and_no_more() -> None:
    month = months([make_line(bands={"dark": ((0, 1440),), "usable": None})])[0]
    assert (month.first_minute, month.last_minute) == (240, 1260)


def test_a_usable_block_is_never_left_outside() -> None:
    month = months([make_line(bands={"dark": ((0, 1440),), "usable": (60, 300)})])[0]
    assert month.first_minute == 60


def test_the_hemisphere_is_handed_on() -> None:
    assert months([make_line()], south=True)[0].south
    assert not months([make_line()])[0].south


def test_weekdays_begin_with_monday() -> None:
    weekdays = months([make_line()])[0].weekdays
    assert weekdays[0] == ("Mon", "Monday")
    assert len(weekdays) == 7
