"""Close pairs: which are told of, where they are seen, and what lies at the edges of the years.

Instants and separations are held against Skyfield in tests/against/test_close_pairs.py.
"""

from __future__ import annotations

from datetime import date

import pytest

from sky.close_pairs import PAIRS, STARS, close_approaches, limit_of, spans_below
from sky.errors import SkyError
from sky.pair_nights import LEAST_ALTITUDE_DEGREES, nights_of_pairs
from sky.place import Place

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
USHUAIA = Place(-54.8, -68.3, 0, "America/Argentina/Ushuaia")
YEAR = date(2027, 1, 1), date(2027, 12, 31)


def test_every_pair_has_a_member_that_moves() -> None:
    assert not [pair for pair in PAIRS if set(pair) <= set(STARS)]
    assert len(set(PAIRS)) == len(PAIRS)


def test_no_pair_is_wider_than_its_limit_and_the_moon_has_a_wider_one() -> None:
    found = close_approaches(*YEAR)
    assert all(one.separation_degrees < limit_of(one.pair) for one in found)
    assert limit_of(("moon", "venus")) > limit_of(("venus", "mars"))


def test_a_narrower_limit_leaves_fewer_and_none_but_those() -> None:
    wide, narrow = close_approaches(*YEAR), close_approaches(*YEAR, limit_degrees=0.5)
    assert {one.pair for one in narrow if "moon" not in one.pair} == {
        one.pair for one in wide if "moon" not in one.pair and one.separation_degrees < 0.5
    }


def test_two_halves_of_a_year_are_the_year() -> None:
    spring = close_approaches(YEAR[0], date(2027, 6, 30))
    autumn = close_approaches(date(2027, 7, 1), YEAR[1])
    assert spring + autumn == close_approaches(*YEAR)


def test_a_pair_on_new_years_eve_is_told_once() -> None:
    over = close_approaches(date(2027, 12, 1), date(2028, 1, 31))
    assert len({(one.pair, one.instant.date()) for one in over}) == len(over)


@pytest.mark.parametrize("year", [1972, 2050])
def test_the_first_and_the_last_year_can_be_computed(year: int) -> None:
    assert close_approaches(date(year, 1, 1), date(year, 12, 31))


def test_other_years_are_refused() -> None:
    with pytest.raises(SkyError) as refused:
        close_approaches(date(2050, 12, 1), date(2051, 1, 1))
    assert refused.value.code == "season_outside"


def test_a_pair_that_stays_apart_has_no_span() -> None:
    assert spans_below(("jupiter", "saturn"), *YEAR, 3.0) == ()


def test_a_span_holds_the_moment_of_the_least_separation() -> None:
    for one in close_approaches(*YEAR):
        spans = spans_below(one.pair, *YEAR, limit_of(one.pair))
        assert any(span.start <= one.instant < span.end for span in spans)


@pytest.mark.parametrize("place", [TERUEL, USHUAIA])
def test_what_is_seen_stands_clear_of_haze_in_the_dark_or_twilight(place: Place) -> None:
    found = nights_of_pairs(close_approaches(*YEAR), place)
    assert found
    assert all(one.altitude_degrees >= LEAST_ALTITUDE_DEGREES for one in found)


def test_a_pair_beside_the_sun_is_not_seen() -> None:
    every = close_approaches(*YEAR)
    seen = {one.approach for one in nights_of_pairs(every, TERUEL)}
    beside = [one for one in every if one.elongation_degrees < 8]
    assert beside
    assert not seen & set(beside)


def test_in_the_polar_summer_no_pair_is_seen() -> None:
    june = close_approaches(date(2027, 6, 1), date(2027, 6, 30))
    assert june
    assert nights_of_pairs(june, Place(78.2, 15.6, 0, "Arctic/Longyearbyen")) == ()
    assert nights_of_pairs(june, TERUEL)
