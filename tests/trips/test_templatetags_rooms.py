"""Words of the pages around a season."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from tests.trips.making import make_site
from trips.models import Season, Site
from trips.planning.nights import JudgedNight
from trips.templatetags import rooms


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (None, ""),
        (0.2, "a few seconds left"),
        (17.0, "about 20 s left"),
        (89.0, "about 90 s left"),
        (91.0, "about 2 min left"),
    ],
)
def test_time_left_is_rounded_upwards(seconds: float | None, words: str) -> None:
    assert rooms.time_left(seconds) == words


def test_what_took_long_is_said_in_minutes() -> None:
    begun = datetime(2027, 3, 1, tzinfo=UTC)
    assert rooms.spent(begun, begun + timedelta(seconds=12)) == "12 s"
    assert rooms.spent(begun, begun + timedelta(seconds=200)) == "3 min"
    assert rooms.spent(None, begun) == ""


@pytest.mark.parametrize(
    ("months", "words"),
    [
        ([], "all year"),
        (range(1, 13), "all year"),
        ([4, 5, 6, 10], "April to June, October"),
        ([1, 2, 3, 10, 11, 12], "October to March"),
        ([7], "July"),
    ],
)
def test_months_are_told_as_stretches_over_the_turn_of_the_year(
    months: list[int], words: str
) -> None:
    assert rooms.months_in_words(months) == words


def test_a_site_in_a_line_says_what_decides_the_drive() -> None:
    site = Site(night_access="yes", drive_minutes=75, vehicle="high", sky_brightness=21.6)
    assert rooms.in_a_line(site) == (
        "Allowed at night; 75 min drive, high ground clearance; 21.60 mag/arcsec² measured."
    )


def test_a_site_in_a_line_does_not_hide_what_is_not_known() -> None:
    assert rooms.in_a_line(Site()) == (
        "Not known whether it is allowed at night; drive not written down, any car; "
        "darkness not measured, only estimated from the towns around."
    )


def test_a_site_measured_toward_some_directions_alone_says_so() -> None:
    assert rooms.darkness(Site(sky_by_azimuth=[[90.0, 21.2], [270.0, 20.8]])) == (
        "darkness measured by direction, not overhead"
    )


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        (None, None, "no closure written down"),
        (date(2027, 1, 5), date(2027, 3, 1), "closed 5 January 2027 to 1 March 2027"),
        (date(2027, 1, 5), None, "closed from 5 January 2027, no end known"),
        (None, date(2027, 3, 1), "closed until 1 March 2027"),
    ],
)
def test_a_closed_road_is_said(first: date | None, last: date | None, words: str) -> None:
    assert rooms.road_closed(Site(road_closed_from=first, road_closed_to=last)) == words


def test_an_evening_names_its_year_only_after_the_turn() -> None:
    season = Season(first_night=date(2027, 11, 1))
    assert rooms.short_evening(date(2027, 12, 31), season) == "Fri 31 December"
    assert rooms.short_evening(date(2028, 1, 1), season) == "Sat 1 January 2028"


def test_the_first_lighter_level_that_helps_is_told() -> None:
    assert "“Sun 12° down” there would be 5" in rooms.best_lighter({-15: 0, -12: 5})


def test_where_no_lighter_level_helps_the_hours_out_are_named() -> None:
    assert "hours you stay out" in rooms.best_lighter({-15: 0, -12: 0})


@pytest.mark.django_db
def test_a_position_is_a_link_that_maps_open() -> None:
    assert rooms.geo(make_site()) == "geo:40.400000,-1.100000"


def passed(day: date, code: str) -> JudgedNight:
    return JudgedNight(day, 8.0, 8.0, 4.0, 0.2, None, True, 4.0, 4.0, why_not=code)


def test_what_was_passed_over_is_said_once_for_each_reason() -> None:
    nights = [
        passed(date(2027, 1, 2), "weekday"),
        passed(date(2027, 1, 3), "closed_month"),
        passed(date(2027, 2, 4), "closed_month"),
        passed(date(2027, 3, 5), "weekday"),
        passed(date(2027, 3, 6), "avoided"),
        passed(date(2027, 3, 7), "road_closed"),
    ]
    site = Site(months_open=[3, 4, 5], road_closed_from=date(2027, 3, 7))
    assert rooms.why_passed_over(nights, site) == (
        "not an evening that suits, closed January to February, a date to avoid, road closed"
    )
