"""Public holidays of a country.

Sources, from memory: Spain's National Day is 12 October by Ley 18/1987; Norway's days are feasts of
its church, which move with Easter (28 March in 2027), and 1 and 17 May by an act of 1947.
"""

from __future__ import annotations

from datetime import date

import pytest
from django.utils import translation

from trips.almanac.public_holidays import public_holidays


def test_days_of_the_whole_country_are_named() -> None:
    found = public_holidays("ES", date(2027, 10, 1), date(2027, 12, 31))
    assert found[date(2027, 10, 12)] == "National Day"
    assert date(2027, 12, 25) in found


def test_feasts_that_move_are_where_easter_puts_them() -> None:
    found = public_holidays("NO", date(2027, 3, 20), date(2027, 5, 31))
    assert {date(2027, 3, 26), date(2027, 3, 29), date(2027, 5, 17)} <= set(found)


def test_days_outside_are_not_given() -> None:
    assert public_holidays("ES", date(2027, 10, 13), date(2027, 10, 20)) == {}


def test_a_stretch_over_the_turn_of_the_year_has_both_years() -> None:
    found = public_holidays("es", date(2027, 12, 20), date(2028, 1, 7))
    assert {date(2027, 12, 25), date(2028, 1, 1), date(2028, 1, 6)} <= set(found)


@pytest.mark.parametrize("country", ["", "XX", "Spain", "__class__"])
def test_a_country_that_is_not_known_has_none(country: str) -> None:
    assert public_holidays(country, date(2027, 1, 1), date(2027, 12, 31)) == {}


def test_a_reader_whose_language_is_not_known_reads_the_country_s_own() -> None:
    with translation.override("zu"):
        found = public_holidays("ES", date(2027, 12, 25), date(2027, 12, 25))
    assert found == {date(2027, 12, 25): "Natividad del Señor"}
