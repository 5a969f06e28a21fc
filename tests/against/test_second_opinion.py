"""Astral's answer beside ours: a season agrees, a wrong night is noticed, silence is counted."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from sky.night import Night
from sky.place import Place
from sky.second_opinion import ALLOWED_SECONDS, second_opinion
from tests.nights import nights_of

YEAR = date(2027, 1, 1), date(2027, 12, 31)
WEEK = date(2027, 3, 1), date(2027, 3, 7)
TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")


@pytest.mark.parametrize(
    "place",
    [
        pytest.param(TERUEL, id="40 north, at 1600 m"),
        pytest.param(Place(0, 0, 0, "UTC"), id="equator"),
        pytest.param(Place(51.5, 0, 0, "Europe/London"), id="51.5 north"),
        pytest.param(Place(57, -4, 300, "Europe/London"), id="57 north"),
        pytest.param(Place(60, 10, 0, "Europe/Oslo"), id="60 north"),
        pytest.param(Place(-44, 170.5, 700, "Pacific/Auckland"), id="44 south"),
        pytest.param(Place(1.9, -157.4, 0, "Pacific/Kiritimati"), id="UTC+14"),
    ],
)
def test_the_second_opinion_agrees_on_a_year(place: Place) -> None:
    opinion = second_opinion(place, nights_of(place, *YEAR))
    assert opinion.differences == ()
    assert opinion.agrees
    assert opinion.compared > 2500
    assert all(opinion.largest[kind] <= ALLOWED_SECONDS[kind] for kind in ALLOWED_SECONDS)
    assert opinion.unanswered <= 10


def test_twilight_agrees_to_five_seconds() -> None:
    """Far closer than is allowed: both take the Sun's centre without refraction."""
    opinion = second_opinion(TERUEL, nights_of(TERUEL, *YEAR))
    assert opinion.largest["twilight"] < 5


def changed(nights: list[Night], index: int, **fields: object) -> list[Night]:
    return [
        replace(night, **fields) if number == index else night  # type: ignore[arg-type]
        for number, night in enumerate(nights)
    ]


@pytest.mark.parametrize(("event", "seconds"), [("sunset", 90), ("nautical_dawn", 40)])
def test_an_event_that_is_wrong_is_noticed(event: str, seconds: float) -> None:
    nights = nights_of(TERUEL, *WEEK)
    wrong = getattr(nights[2], event) + timedelta(seconds=seconds)
    opinion = second_opinion(TERUEL, changed(nights, 2, **{event: wrong}))
    (difference,) = opinion.differences
    assert (difference.night, difference.event) == (date(2027, 3, 3), event)
    assert difference.seconds == pytest.approx(seconds, abs=30)
    assert not opinion.agrees


def test_an_event_that_we_left_out_is_noticed() -> None:
    nights = nights_of(TERUEL, *WEEK)
    opinion = second_opinion(TERUEL, changed(nights, 2, sunrise=None))
    (difference,) = opinion.differences
    assert difference.event == "sunrise"
    assert difference.ours is None
    assert difference.seconds is None


def test_a_moonset_half_an_hour_late_is_noticed() -> None:
    nights = nights_of(TERUEL, *WEEK)
    late = tuple(instant + timedelta(minutes=30) for instant in nights[3].moonsets)
    assert late
    opinion = second_opinion(TERUEL, changed(nights, 3, moonsets=late))
    assert [difference.event for difference in opinion.differences] == ["moonsets"]


def test_beyond_60_degrees_nothing_is_compared_and_that_is_said() -> None:
    tromso = Place(69.6, 18.9, 0, "Europe/Oslo")
    opinion = second_opinion(tromso, nights_of(tromso, *WEEK))
    assert opinion.compared == 0
    assert opinion.skipped["latitude_beyond_60"] > 50


def test_where_the_sun_moves_slowly_it_is_skipped_and_that_is_said() -> None:
    """At 57° in June the Sun crosses its levels at less than 5° an hour."""
    place = Place(57, -4, 0, "Europe/London")
    opinion = second_opinion(place, nights_of(place, date(2027, 6, 10), date(2027, 6, 16)))
    assert opinion.skipped["sun_moves_slowly"] > 0
    assert opinion.agrees


def test_where_the_sun_moves_fast_none_is_skipped() -> None:
    assert second_opinion(TERUEL, nights_of(TERUEL, *WEEK)).skipped == {}
