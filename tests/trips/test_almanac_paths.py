"""The Moon's path in words, bearings, events and the second opinion. Real nights of real places.

What is expected was read from Skyfield's own altaz of the same instants, rounded to what is said.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from trips.almanac.bearings import bearing, compass_point, height, pointed
from trips.almanac.nights import compute_nights
from trips.almanac.path_words import moon_sentences
from trips.almanac.paths import MoonPath, moon_path, sun_path
from trips.almanac.second import second_words
from trips.models import Night, Site

TERUEL = Site(latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
TEKAPO = Site(latitude=-44.0, longitude=170.5, elevation_m=700, zone="Pacific/Auckland")
TROMSO = Site(latitude=69.6, longitude=18.9, elevation_m=0, zone="Europe/Oslo")
FEN = Site(latitude=57.0, longitude=-4.0, elevation_m=300, zone="Europe/London")


def night(site: Site, day: date) -> Night:
    (row,) = compute_nights(site, day, day)
    return row


def told(site: Site, day: date) -> str:
    row = night(site, day)
    return " ".join(
        moon_sentences(
            moon_path(row, site),
            site.zone,
            dark_hours=row.dark_hours_18,
            moonless_hours=row.moonless_hours_18,
        )
    )


@pytest.mark.parametrize(
    ("azimuth", "point"),
    [
        (0, "north"),
        (11.2, "north"),
        (11.3, "north-north-east"),
        (90, "east"),
        (112, "east-south-east"),
        (180, "south"),
        (302, "west-north-west"),
        (348.7, "north-north-west"),
        (348.8, "north"),
        (359.9, "north"),
    ],
)
def test_a_direction_has_one_of_sixteen_points(azimuth: float, point: str) -> None:
    assert compass_point(azimuth) == point


def test_a_bearing_is_in_whole_degrees_and_never_360() -> None:
    assert bearing(301.6) == "west-north-west, 302°"
    assert pointed(112.4) == "east-south-east (112°)"
    assert bearing(359.7) == "north, 0°"


@pytest.mark.parametrize(
    ("altitude", "words"),
    [(33.6, "34°"), (2.0, "2°"), (1.9, "less than 2°"), (-0.3, "less than 2°")],
)
def test_a_height_below_two_degrees_is_not_said_more_precisely(altitude: float, words: str) -> None:
    assert height(altitude) == words


def test_a_moon_that_rises_in_the_night_takes_its_part_of_the_dark() -> None:
    words = told(TERUEL, date(2027, 3, 1))
    assert words.startswith("Rises 04:21 in the south-east (127°), ")
    assert words.endswith("; it takes 1.8\u00a0h of the dark.")


def test_a_moon_that_culminates_is_told_with_its_highest() -> None:
    assert ", highest 22° in the south at 06:44; " in told(
        Site(latitude=40.1, longitude=-1.03, elevation_m=1850, zone="Europe/Madrid"),
        date(2027, 3, 27),
    )


def test_a_moon_that_is_only_setting_has_no_highest() -> None:
    words = told(TERUEL, date(2027, 5, 10))
    assert "up in the west at sunset, sets 01:" in words
    assert "highest" not in words


def test_in_the_south_the_moon_is_highest_in_the_north() -> None:
    words = told(TEKAPO, date(2027, 3, 22))
    assert "in the north at " in words
    assert "in the south at " not in words


def test_a_new_moon_is_up_by_day_only() -> None:
    words = told(TERUEL, date(2027, 7, 3))
    assert words.startswith("Up by day only: sets 21:2")
    assert words.endswith("Down all through the dark.")


def test_a_full_moon_is_up_all_through_the_dark() -> None:
    words = told(TERUEL, date(2027, 3, 21))
    assert words.endswith("Up all through the dark.")
    assert "it takes" not in words


def test_without_dark_the_moon_takes_nothing() -> None:
    assert "dark" not in told(FEN, date(2027, 6, 20))


def test_a_moon_that_does_not_rise_is_said() -> None:
    path = MoonPath((), (), (), has_dusk=True, has_dawn=True, is_up_throughout=False,
                    is_down_throughout=True)  # fmt: skip
    assert moon_sentences(path, "UTC", dark_hours=5, moonless_hours=5) == [
        "Does not rise between the noons.",
        "Down all through the dark.",
    ]


def a_night_when_the_moon(absent: str) -> date:
    days = compute_nights(TROMSO, date(2027, 12, 1), date(2027, 12, 31))
    return next(row.date for row in days if absent in row.absent.values())


def test_a_polar_moon_never_rises_or_never_sets() -> None:
    assert told(TROMSO, a_night_when_the_moon("moon_never_rises")).startswith("Does not rise")
    assert told(TROMSO, a_night_when_the_moon("moon_never_sets")).startswith("Does not set, ")


def test_the_sun_of_a_night_has_a_direction_at_each_event_and_a_lowest() -> None:
    row = night(FEN, date(2027, 6, 21))
    sun = sun_path(row, FEN)
    assert compass_point(sun.events["sunset"].azimuth_degrees) == "north-west"
    assert "astronomical_dusk" not in sun.events
    assert sun.lowest.altitude_geometric_degrees == pytest.approx(57.0 + 23.43 - 90, abs=0.05)


def test_a_second_computation_agrees() -> None:
    words = second_words(night(TERUEL, date(2027, 3, 1)), TERUEL)
    assert words.startswith(
        "Times of Sun, twilight and Moon agree with a second computation within"
    )


def test_a_second_computation_that_differs_is_told_with_the_event() -> None:
    row = night(TERUEL, date(2027, 3, 1))
    assert row.sunset is not None
    row.sunset += timedelta(minutes=2)
    words = second_words(row, TERUEL)
    assert words.startswith("A second computation differs: sunset by 1")
    assert "agree" not in words


def test_an_event_that_only_the_second_computation_has_is_told() -> None:
    row = night(TERUEL, date(2027, 3, 1))
    row.sunrise = None
    assert "it has a sunrise at 07:3" in second_words(row, TERUEL)


def test_beyond_60_degrees_the_second_computation_is_not_asked() -> None:
    words = second_words(night(TROMSO, date(2027, 3, 1)), TROMSO)
    assert "beyond 60° of latitude" in words


def test_where_the_sun_moves_slowly_that_is_said() -> None:
    slow, fast = night(FEN, date(2027, 6, 12)), night(TERUEL, date(2027, 3, 1))
    assert "Where the Sun moves slowly" in second_words(slow, FEN)
    assert "Where the Sun moves slowly" not in second_words(fast, TERUEL)
