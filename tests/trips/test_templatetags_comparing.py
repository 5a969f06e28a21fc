"""How sites are written beside each other: figures, drives, access, names in any script."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from trips.models import Site
from trips.planning.comparing import Compared, MonthHours
from trips.templatetags import comparing


def plain(text: str) -> str:
    return text.replace("\xa0", " ").replace("\u2060", "")


def access(**fields: Any) -> list[str]:
    return [plain(phrase) for phrase in comparing.access(Site(**fields))]


def usable(hours: float) -> Compared[Site]:
    month = MonthHours(nights=31, moonless=hours, usable=hours)
    return Compared(Site(), (), {(2027, 3): month}, None, 0, {})


@pytest.mark.parametrize(
    ("hours", "at_a_bar", "in_a_sentence"),
    [
        (0, "0", "none"),
        (0.004, "0", "none"),
        (0.02, "0.1", "0.1 h"),
        (0.4, "0.4", "0.4 h"),
        (23.44, "23", "23.4 h"),
        (99.96, "100", "100 h"),
        (1602.3, "1602", "1602 h"),
    ],
)
def test_hours_are_short_and_nothing_is_written_as_nothing(
    hours: float, at_a_bar: str, in_a_sentence: str
) -> None:
    assert comparing.whole(hours) == at_a_bar
    assert plain(comparing.long_hours(hours)) == in_a_sentence


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0, "0 min"), (75, "75 min"), (130, "130 min")],
)
def test_drives_are_minutes_on_every_page(minutes: int, words: str) -> None:
    assert plain(comparing.drive(minutes)) == words


@pytest.mark.parametrize(("value", "words"), [(21, "21.00"), (21.4, "21.40"), (21.846, "21.85")])
def test_what_was_measured_has_hundredths(value: float, words: str) -> None:
    assert comparing.magnitudes(value) == words


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        (date(2027, 7, 2), date(2027, 7, 2), "2 Jul"),
        (date(2027, 7, 2), date(2027, 7, 4), "2–4 Jul"),
        (date(2027, 7, 30), date(2027, 8, 1), "30 Jul–1 Aug"),
        (date(2027, 12, 30), date(2028, 1, 1), "30 Dec 2027–1 Jan 2028"),
    ],
)
def test_stretches_of_dates_repeat_nothing(first: date, last: date, words: str) -> None:
    assert comparing.dates(first, last) == words


def test_a_year_is_added_once() -> None:
    assert comparing.dates_of_year(date(2027, 7, 2), date(2027, 7, 4)) == "2–4 Jul 2027"
    over_new_year = comparing.dates_of_year(date(2027, 12, 31), date(2028, 1, 1))
    assert over_new_year == "31 Dec 2027–1 Jan 2028"


@pytest.mark.parametrize(
    ("months", "words"),
    [
        ([4, 5, 6, 7], "open Apr–Jul"),
        ([1, 2, 3, 10, 11, 12], "open Oct–Mar"),
        ([1, 5, 6, 12], "open May–Jun, Dec–Jan"),
        ([7], "open Jul"),
    ],
)
def test_open_months_are_joined_over_the_turn_of_the_year(months: list[int], words: str) -> None:
    assert access(night_access="yes", months_open=months) == ["allowed at night", words]


@pytest.mark.parametrize("months", [[], list(range(1, 13))])
def test_a_site_that_is_always_open_needs_no_months(months: list[int]) -> None:
    assert access(night_access="yes", months_open=months) == ["allowed at night"]


def test_access_is_said_in_words() -> None:
    assert access(night_access="unknown") == ["access at night not known"]
    ahead = access(night_access="permit", permit_lead_days=21)
    assert ahead == ["by permit, 21 days ahead", "still to ask for"]
    held = access(night_access="permit", permit_number="invented-9")
    assert held == ["by permit", "number held"]


def test_the_largest_group_is_said_where_it_is_known() -> None:
    said = access(night_access="yes", largest_group=12)
    assert said == ["allowed at night", "groups of up to 12"]
    assert access(night_access="yes") == ["allowed at night"]


@pytest.mark.parametrize(
    ("known", "words"),
    [
        ({"night_access": "yes", "sky_brightness": 21.5}, ""),
        ({"night_access": "yes"}, " (darkness not measured)"),
        ({"night_access": "permit", "sky_brightness": 21.5}, " (by permit)"),
        ({}, " (access at night not known, darkness not measured)"),
    ],
)
def test_praise_says_what_is_asked_and_what_is_not_known(known: dict[str, Any], words: str) -> None:
    assert comparing.unsure(Site(**known)) == words


@pytest.mark.parametrize(
    ("hours", "other", "words"),
    [
        (710.2, 704.9, "710 h"),
        (259.4, 259.2, "259.4 h"),
        (259.2, 259.4, "259.2 h"),
        (259.21, 259.2, "259 h"),
        (0.0, 0.0, "none"),
    ],
)
def test_hours_beside_others_do_not_read_alike_where_they_differ(
    hours: float, other: float, words: str
) -> None:
    assert plain(comparing.hours_beside(usable(hours), usable(other))) == words
    assert plain(comparing.hours_beside(usable(hours), None)) == plain(comparing.long_hours(hours))


def test_names_in_a_sentence_are_few_and_the_rest_is_counted() -> None:
    sites = [Site(name=name) for name in "ABCDEF"]
    assert comparing.named(sites[:2]) == "A, B"
    assert comparing.named(sites) == "A, B, C, D, 2 more"


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        (date(2027, 11, 15), date(2027, 11, 30), "road closed 15–30 Nov"),
        (date(2027, 11, 15), None, "road closed from 15 Nov 2027"),
        (None, date(2028, 4, 1), "road closed until 1 Apr 2028"),
    ],
)
def test_a_closed_road_is_said(first: date | None, last: date | None, words: str) -> None:
    said = access(night_access="yes", road_closed_from=first, road_closed_to=last)
    assert said == ["allowed at night", words]


def test_some_weekdays_are_named_and_all_are_not() -> None:
    assert comparing.weekdays([6, 4, 5]) == "Fri, Sat, Sun"
    assert comparing.weekdays(range(7)) == ""


def test_only_names_from_right_to_left_are_isolated() -> None:
    assert comparing.isolated("قمة الجبل") == "\u2068قمة الجبل\u2069"
    assert comparing.isolated("山の上 Hill 9") == "山の上 Hill 9"


def test_a_long_list_is_cut_and_the_rest_counted() -> None:
    assert comparing.few([1, 2, 3, 4], 3) == [1, 2, 3]
    assert comparing.beyond_few([1, 2, 3, 4], 3) == 1
    assert comparing.beyond_few([1], 3) == 0
