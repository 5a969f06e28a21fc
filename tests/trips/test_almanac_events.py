"""What falls into the nights of a season, with its own date."""

from __future__ import annotations

from datetime import date

import pytest

from trips.almanac.events import events_between, events_of, moon_dates

MADRID = "Europe/Madrid"
YEAR = date(2027, 1, 1), date(2027, 12, 31)


@pytest.mark.parametrize(
    ("night", "told"),
    [
        # The instants are held against outside sources in tests/against/test_phases.py; here it is
        # their dates that count.
        (date(2027, 11, 27), "New Moon 04:24 on 28 November"),
        (date(2027, 9, 15), "Full Moon 01:04 on 16 September"),
        (date(2027, 9, 22), "equinox 08:02 on 23 September"),
        (date(2027, 10, 30), "clocks go back on 31 October"),
        (date(2027, 3, 27), "clocks go forward on 28 March"),
    ],
)
def test_what_happens_past_midnight_has_its_own_date(night: date, told: str) -> None:
    assert told in events_between(*YEAR, MADRID)[night]


def test_what_happens_in_the_evening_needs_no_date() -> None:
    assert events_between(*YEAR, MADRID)[date(2027, 3, 20)] == ("equinox 21:25",)


def test_a_turn_of_the_year_early_on_the_day_after_belongs_to_the_last_night() -> None:
    # The equinox of 22/23 September, seen from a season that ends on the 22nd.
    told = events_between(date(2027, 9, 1), date(2027, 9, 22), MADRID)
    assert told[date(2027, 9, 22)] == ("equinox 08:02 on 23 September",)


def test_the_ends_of_what_can_be_computed_are_no_mistake() -> None:
    assert events_between(date(2050, 12, 1), date(2050, 12, 31), MADRID)
    assert events_between(date(1972, 1, 1), date(1972, 1, 31), "Pacific/Kiritimati")


def test_a_night_without_an_event_is_not_listed() -> None:
    assert date(2027, 3, 2) not in events_between(*YEAR, MADRID)


def test_a_night_by_itself_tells_the_quarters_too() -> None:
    assert events_of(date(2027, 7, 3), MADRID) == ("New Moon 05:02 on 4 July",)
    (quarter,) = events_of(date(2027, 7, 10), MADRID)
    assert quarter.startswith("first quarter of the Moon")
    assert events_of(date(2027, 7, 5), MADRID) == ()


def test_a_zone_without_changes_of_clocks_has_none() -> None:
    told = [words for night in events_between(*YEAR, "UTC").values() for words in night]
    assert not [words for words in told if "clocks" in words]


def test_moons_stand_at_their_own_dates() -> None:
    dates = {(moon.date, moon.kind) for moon in moon_dates(*YEAR, MADRID)}
    assert (date(2027, 11, 28), "new") in dates
    assert (date(2027, 3, 8), "new") in dates  # at 10:29, by day
    assert (date(2027, 9, 16), "full") in dates
