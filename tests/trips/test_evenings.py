"""Stretches of evenings as people write them."""

from __future__ import annotations

from contextlib import suppress
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trips.forms.evenings import EveningsError, read_evenings, tell_evenings, write_evenings

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
MARCH = ((date(2027, 3, 25), date(2027, 3, 28)),)


@pytest.mark.parametrize(
    "text",
    [
        "2027-03-25 to 2027-03-28",
        "2027-03-25..2027-03-28",
        "2027-03-25 – 2027-03-28",
        "2027-03-25/2027-03-28",
        "25–28 March",
        "25-28 Mar 2027",
        "25 March - 28 March",
        " 25 to 28 march ,",
        "March 25-28",
        "March 25 to March 28 2027",
    ],
)
def test_one_stretch_may_be_written_in_many_ways(text: str) -> None:
    assert read_evenings(text, FIRST, LAST) == MARCH


def test_a_single_evening_is_a_stretch() -> None:
    assert read_evenings("2027-03-25", FIRST, LAST) == ((date(2027, 3, 25), date(2027, 3, 25)),)


def test_several_stretches_are_put_in_order_and_twins_are_one() -> None:
    found = read_evenings("13 August; 25–28 March\n13 August", FIRST, LAST)
    assert found == (*MARCH, (date(2027, 8, 13), date(2027, 8, 13)))


def test_a_stretch_may_cross_the_turn_of_the_year() -> None:
    (found,) = read_evenings("28 December – 3 January 2028", FIRST, LAST)
    assert found == (date(2027, 12, 28), date(2028, 1, 3))


def test_a_date_without_a_year_is_meant_in_each_year_of_the_season() -> None:
    found = read_evenings("1 May", date(2027, 1, 1), date(2028, 12, 31))
    assert [first.year for first, _ in found] == [2027, 2028]


@pytest.mark.parametrize("text", ["June", "june 2027", "1–30 June"])
def test_a_month_without_a_day_is_all_of_it(text: str) -> None:
    assert read_evenings(text, FIRST, LAST) == ((date(2027, 6, 1), date(2027, 6, 30)),)


def test_months_may_be_written_from_one_to_another() -> None:
    assert read_evenings("January to February", FIRST, LAST) == ((FIRST, date(2027, 2, 28)),)
    (winter,) = read_evenings("November – February 2028", FIRST, LAST)
    assert winter == (date(2027, 11, 1), date(2028, 2, 29))


def test_nothing_written_is_nothing_to_avoid() -> None:
    assert read_evenings(" , ;\n", FIRST, LAST) == ()


@pytest.mark.parametrize(
    "text", ["Easter", "25", "31 April", "29 Feb", "2027-13-01", "25 March to", "a-b", "1–2–3 May"]
)
def test_what_is_no_date_is_named_with_what_would_be_right(text: str) -> None:
    with pytest.raises(EveningsError, match="is no date; write 25–28 March, June") as refused:
        read_evenings(f"1 May, {text}", FIRST, LAST)
    assert f"“{text}”" in str(refused.value)


def test_a_stretch_that_ends_before_it_begins_is_refused() -> None:
    with pytest.raises(EveningsError, match="“28–25 March” ends before it begins"):
        read_evenings("28–25 March", FIRST, LAST)


def test_more_stretches_than_anybody_has_are_refused() -> None:
    with pytest.raises(EveningsError, match="more than 60"):
        read_evenings("1 May," * 61, FIRST, LAST)


dates = st.dates(FIRST, LAST)


@given(st.lists(st.tuples(dates, dates).map(lambda ends: (min(ends), max(ends))), max_size=5))
def test_what_is_written_is_read_again(evenings: list[tuple[date, date]]) -> None:
    assert read_evenings(write_evenings(evenings), FIRST, LAST) == tuple(sorted(set(evenings)))


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_a_sentence(text: str) -> None:
    with suppress(EveningsError):
        assert all(first <= last for first, last in read_evenings(text, FIRST, LAST))


def test_stretches_are_told_with_each_month_and_year_once() -> None:
    told = tell_evenings([*MARCH, (date(2027, 3, 30), date(2027, 4, 2)), (FIRST, FIRST)])
    assert told == "25–28 March 2027, 30 March – 2 April 2027, 1 January 2027"
