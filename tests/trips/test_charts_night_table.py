"""The night-by-night table: a night in words."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.utils import translation

from tests.trips.lines import NO_NIGHT, make_bands, make_line, make_lines
from trips.charts import night_words as words
from trips.charts.night_table import Row, night_table


def row(**fields: Any) -> Row:
    return night_table([make_line(**fields)]).rows[0]


def test_a_night_is_told_in_words() -> None:
    told = row()
    assert told.evening == "Tue 1 June"
    assert told.sunset == "21:00"
    assert told.dark == "23:30–03:00"
    assert told.moon == "25\u00a0%,\u00a0rises\u00a002:00"
    assert (told.dark_hours, told.moonless_hours, told.usable_hours) == ("3.5", "2.5", "2.5")
    assert told.mark == "candidate"


def test_years_are_named_where_there_are_two() -> None:
    one = night_table(make_lines(date(2027, 12, 30), date(2027, 12, 31)))
    two = night_table(make_lines(date(2027, 12, 30), date(2028, 1, 1)))
    assert one.rows[-1].evening == "Fri 31 December"
    assert two.rows[-1].evening == "Sat 1 Jan 2028"


def test_times_are_told_to_the_nearest_minute() -> None:
    assert words.clock(573.4) == "21:33"
    assert words.clock(573.6) == "21:34"
    assert words.clock(719.7) == "00:00"
    assert words.clock(720) == "00:00"
    assert words.clock(1440) == "12:00"


@pytest.mark.parametrize(
    ("civil", "told"),
    [
        (((540.4, 1080),), "21:00"),
        ((), "does not set"),
        (((0, 1440),), "does not rise"),
        (((0, 1300),), "before noon"),
    ],
)
def test_a_sunset_that_is_not_there_says_why(civil: Any, told: str) -> None:
    assert words.sunset(make_bands(civil=civil)) == told


def test_dark_is_never_left_empty() -> None:
    assert words.dark_span(make_bands(dark=())) == "no dark"
    assert words.dark_span(make_bands(dark=((0, 1440),))) == "noon to noon"
    two = make_bands(dark=((0, 30), (1400, 1440)))
    assert words.dark_span(two) == "12:00–12:30, 11:20–12:00"


@pytest.mark.parametrize(
    ("moon_up", "veil", "told"),
    [
        (((0, 600),), ((540, 600),), "sets\u00a022:00"),
        (((1000, 1440),), ((1000, 1080),), "rises\u00a004:40"),
        (((0, 600), (1000, 1440)), ((540, 600), (1000, 1080)), "sets\u00a022:00, rises\u00a004:40"),
        (((600, 1000),), ((600, 1000),), "rises\u00a022:00, sets\u00a004:40"),
        (((0, 500),), (), "not up at night"),
        (((500, 1200),), ((540, 1080),), "up throughout"),
        ((), (), "not up at night"),
    ],
)
def test_the_moon_is_told_by_what_it_does_at_night(moon_up: Any, veil: Any, told: str) -> None:
    bands = make_bands(moon_up=moon_up, veil=veil, lit=0.114)
    assert words.moon(bands) == f"11\u00a0%,\u00a0{told}"


def test_without_a_sunset_the_moon_is_told_from_noon_to_noon() -> None:
    bands = make_bands(**NO_NIGHT | {"moon_up": ((0, 200), (900, 1440))})
    assert words.moon_events(bands) == "sets\u00a015:20, rises\u00a003:00"
    whole = make_bands(**NO_NIGHT | {"moon_up": ((0, 1440),)})
    assert words.moon(whole).endswith("up throughout")


@pytest.mark.parametrize(
    ("fields", "mark"),
    [
        ({"run": 3}, "run 3"),
        ({"run": 3, "against": "road closed"}, "run 3"),
        ({"against": "road closed"}, "road closed"),
        ({}, "candidate"),
        ({"is_candidate": False}, "too short"),
        ({"is_candidate": False, "usable_hours": 0}, "none while out"),
        ({"is_candidate": False, "usable_hours": 0, "moonless_hours": 0}, "moonlit"),
        ({"is_candidate": False, "usable_hours": 0, "moonless_hours": 0, "dark_hours": 0},
         "no dark"),
    ],
)  # fmt: skip
def test_a_mark_says_what_a_night_is_or_why_it_is_nothing(fields: Any, mark: str) -> None:
    assert row(**fields).mark == mark


def test_less_than_a_tenth_of_an_hour_is_not_told_as_nothing() -> None:
    assert row(usable_hours=0.01).usable_hours == "0.1"


def test_no_hours_are_none() -> None:
    assert row(usable_hours=0).usable_hours == "none"
    assert not row(usable_hours=0).is_usable


def test_figures_are_localised_where_they_are_read() -> None:
    with translation.override("de"):
        assert words.figure(2.5) == "2,5"
    assert words.figure(2.5) == "2.5"


def test_the_caption_says_what_the_table_holds() -> None:
    table = night_table(make_lines(date(2027, 6, 1), date(2027, 6, 10)))
    assert table.caption == "1 June 2027 to 10 June 2027: 10 nights, 10 candidate nights."


def test_no_nights_make_no_rows() -> None:
    assert night_table([]).rows == ()


def test_the_strips_of_all_nights_have_the_window_of_the_seasons_chart() -> None:
    for dark in ((690, 900), (330, 1210), (0, 1440)):
        table = night_table([make_line(bands={"dark": (dark,)})])
        assert (table.first_minute, table.last_minute) == (240, 1260)


def test_hours_that_are_not_offered_do_not_stand_out() -> None:
    assert row().is_usable
    assert not row(against="site closed").is_usable


def test_when_it_is_usable_is_told_from_and_to() -> None:
    assert words.usable_span(make_bands(usable=(438.4, 678))) == "19:18–23:18"
    assert words.usable_span(make_bands(usable=None)) == ""


@pytest.mark.parametrize(
    ("against", "told"),
    [
        (["", ""], "2 candidate nights"),
        (["", "site closed"], "1 candidate night; 1 more would be (site closed)"),
        (["site closed", "site closed"], "no candidate night; 2 would be (site closed)"),
        (["site closed", "to avoid"], "no candidate night; 2 would be (not offered)"),
    ],
)
def test_candidates_that_are_not_offered_are_counted_with_their_reason(
    against: list[str], told: str
) -> None:
    lines = [make_line(date(2027, 6, n), against=why) for n, why in enumerate(against, 1)]
    assert words.candidates(lines) == told


def test_days_are_gathered_in_ranges() -> None:
    assert words.day_ranges([1, 2, 3, 7, 9, 10]) == "1–3, 7, 9–10"
    assert words.day_ranges([]) == ""
