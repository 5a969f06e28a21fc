"""Nights put on the clock of the wall: computed ones, and a few made by hand."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from typing import Any

import pytest

from trips.almanac.nights import compute_nights
from trips.charts.bands import NightBands, bands_of, common, without
from trips.models import Night, Site

MADRID = "Europe/Madrid"


def site(latitude: float, longitude: float, zone: str) -> Site:
    return Site(name="Hill", latitude=latitude, longitude=longitude, elevation_m=0, zone=zone)


HILL = site(40.4, -1.1, MADRID)
TROMSO = site(69.65, 18.96, "Europe/Oslo")
SVALBARD = site(78.22, 15.65, "Arctic/Longyearbyen")


def night(place: Site, day: date) -> Night:
    (row,) = compute_nights(place, day, day)
    return row


def bands(place: Site, day: date, dark_level: int = -18) -> NightBands:
    return bands_of(night(place, day), place.zone, dark_level=dark_level)


def minutes(clock: str) -> float:
    """Read a clock as minutes after noon: an hour before noon is of the next day."""
    hour, minute = map(int, clock.split(":"))
    return (hour * 60 + minute - 720) % 1440


@dataclass
class MadeNight:
    """A night by hand, without Sun or Moon unless given; times in Unix seconds after noon UTC."""

    date: date = date(2027, 1, 1)
    start: datetime = datetime(2027, 1, 1, 12, tzinfo=UTC)
    end: datetime = datetime(2027, 1, 2, 12, tzinfo=UTC)
    sunset: datetime | None = None
    civil_dusk: datetime | None = None
    nautical_dusk: datetime | None = None
    nautical_dawn: datetime | None = None
    civil_dawn: datetime | None = None
    sunrise: datetime | None = None
    moonrises: list[float] = field(default_factory=list)
    moonsets: list[float] = field(default_factory=list)
    moon_illuminated: float = 0.5
    moon_waxing: bool = True
    dark_18: list[list[float]] = field(default_factory=list)
    absent: dict[str, Any] = field(default_factory=dict)

    def at(self, hours: float) -> float:
        return self.start.timestamp() + hours * 3600


def test_each_band_lies_inside_the_lighter_one() -> None:
    found = bands(HILL, date(2027, 6, 4))
    edges = [found.civil, found.nautical, found.astronomical, found.dark]
    for (lighter,), (darker,) in pairwise(edges):
        assert lighter[0] < darker[0] < darker[1] < lighter[1]


def test_minutes_are_the_clock_on_the_wall() -> None:
    row = night(HILL, date(2027, 1, 10))
    assert row.sunset is not None
    ((sunset, _),) = bands_of(row, MADRID, dark_level=-18).civil
    shown = datetime(2027, 1, 10, 11, tzinfo=UTC) + timedelta(minutes=sunset)  # noon in CET
    assert abs(shown - row.sunset) < timedelta(seconds=1)


@pytest.mark.parametrize(
    ("day", "offsets", "hours"),
    [(date(2027, 3, 27), (60, 120), 23), (date(2027, 10, 30), (120, 60), 25)],
)
def test_a_night_whose_clocks_change_has_both_offsets(
    day: date, offsets: tuple[int, int], hours: int
) -> None:
    row = night(HILL, day)
    found = bands_of(row, MADRID, dark_level=-18)
    assert row.end - row.start == timedelta(hours=hours)
    assert found.offsets == offsets


@pytest.mark.parametrize("day", [date(2027, 3, 27), date(2027, 10, 30)])
def test_when_clocks_change_dusk_keeps_to_the_evening_before_and_dawn_to_the_morning_after(
    day: date,
) -> None:
    (before,), (tonight,), (after,) = (
        bands(HILL, day + timedelta(days=days)).civil for days in (-1, 0, 1)
    )
    assert abs(tonight[0] - before[0]) < 3
    assert abs(tonight[1] - after[1]) < 3
    assert abs(tonight[0] - after[0]) > 50
    assert abs(tonight[1] - before[1]) > 50


def test_an_unchanged_clock_has_one_offset() -> None:
    assert bands(HILL, date(2027, 7, 1)).offsets == (120, 120)


def test_in_the_midnight_sun_there_is_no_band() -> None:
    found = bands(TROMSO, date(2027, 6, 21))
    assert found.civil == found.nautical == found.astronomical == found.dark == ()
    assert found.veil == ()


def test_in_the_polar_night_the_lightest_band_runs_from_noon_to_noon() -> None:
    assert bands(TROMSO, date(2027, 12, 21)).civil == ((0, 1440),)
    found = bands(SVALBARD, date(2027, 12, 21))
    assert found.civil == found.nautical == ((0, 1440),)
    assert 0 < found.dark[0][0] < found.dark[0][1] < 1440


def test_in_the_polar_night_the_veil_is_the_whole_moon() -> None:
    found = bands(SVALBARD, date(2027, 12, 14))
    assert found.veil == found.moon_up == ((0, 1440),)


def test_white_nights_have_twilight_and_no_dark() -> None:
    found = bands(site(57.0, 9.9, "Europe/Copenhagen"), date(2027, 6, 21))
    assert len(found.nautical) == 1
    assert found.dark == ()


def test_a_lighter_dark_level_makes_more_dark() -> None:
    lengths = [
        end - start
        for level in (-18, -15, -12)
        for start, end in bands(HILL, date(2027, 6, 4), level).dark
    ]
    assert lengths == sorted(lengths)
    assert len(set(lengths)) == 3


def test_dark_at_12_degrees_is_the_astronomical_band_itself() -> None:
    found = bands(HILL, date(2027, 6, 4), -12)
    assert found.dark[0] == pytest.approx(found.astronomical[0], abs=0.1)


def test_a_moon_up_over_noon_is_up_from_the_start_of_the_night() -> None:
    found = bands(HILL, date(2027, 3, 12))  # a waxing crescent, up by day
    assert found.moon_up[0][0] == 0
    assert found.veil[0][0] == found.civil[0][0]
    assert found.waxing


def test_a_moon_that_rises_before_dawn_is_up_until_noon() -> None:
    found = bands(HILL, date(2027, 3, 4))
    assert found.moon_up[-1][1] == 1440
    assert found.veil[-1][1] == found.civil[0][1]
    assert not found.waxing


def test_a_moon_that_rises_twice_has_a_stretch_for_each() -> None:
    row = MadeNight()
    row.moonrises, row.moonsets = [row.at(1), row.at(23)], [row.at(10)]
    found = bands_of(row, "UTC", dark_level=-18)
    assert found.moon_up == ((60, 600), (1380, 1440))


def test_a_moon_that_only_sets_was_up() -> None:
    row = MadeNight(absent={"moonrise": "moon_already_up"})
    row.moonsets = [row.at(3)]
    assert bands_of(row, "UTC", dark_level=-18).moon_up == ((0, 180),)


@pytest.mark.parametrize(
    ("word", "expected"), [("moon_never_sets", ((0, 1440),)), ("moon_never_rises", ())]
)
def test_a_moon_without_events_is_up_or_down_throughout(
    word: str, expected: tuple[tuple[float, float], ...]
) -> None:
    row = MadeNight(absent={"moonrise": word, "moonset": word})
    assert bands_of(row, "UTC", dark_level=-18).moon_up == expected


def test_dusk_alone_lasts_until_noon_and_dawn_alone_since_noon() -> None:
    row = MadeNight(absent={"sunrise": "sun_still_down", "civil_dusk": "already_that_low"})
    row.sunset = row.start + timedelta(hours=2)
    row.civil_dawn = row.start + timedelta(hours=20)
    found = bands_of(row, "UTC", dark_level=-18)
    assert found.civil == ((120, 1440),)
    assert found.nautical == ((0, 1200),)


def test_block_and_stay_out_stretches_are_on_the_same_clock() -> None:
    row = night(HILL, date(2027, 7, 3))
    block = datetime(2027, 7, 3, 22, 30, tzinfo=UTC), datetime(2027, 7, 4, 1, tzinfo=UTC)
    found = bands_of(
        row, MADRID, dark_level=-18, usable=block, out=[[edge.timestamp() for edge in block]]
    )
    assert found.usable == (minutes("00:30"), minutes("03:00"))
    assert found.out == (found.usable,)


def test_without_a_block_nothing_is_usable() -> None:
    found = bands(HILL, date(2027, 7, 3))
    assert found.usable is None
    assert found.out == ()


def test_a_stretch_within_the_repeated_hour_never_runs_backwards() -> None:
    row = night(HILL, date(2027, 10, 30))  # 03:00 CEST is 02:00 CET
    block = datetime(2027, 10, 31, 0, 50, tzinfo=UTC), datetime(2027, 10, 31, 1, 10, tzinfo=UTC)
    found = bands_of(row, MADRID, dark_level=-18, usable=block)
    assert found.usable == pytest.approx((minutes("02:10"), minutes("02:50")))


def test_a_stretch_that_ends_as_clocks_go_forward_ends_before_the_hour_that_is_left_out() -> None:
    row = night(HILL, date(2027, 3, 27))  # 02:00 CET is 03:00 CEST
    block = datetime(2027, 3, 27, 23, tzinfo=UTC), datetime(2027, 3, 28, 1, tzinfo=UTC)
    found = bands_of(row, MADRID, dark_level=-18, usable=block)
    assert found.usable == pytest.approx((minutes("00:00"), minutes("02:00")))


def test_a_stretch_across_the_hour_that_is_left_out_has_no_hole() -> None:
    row = night(HILL, date(2027, 3, 27))
    block = datetime(2027, 3, 27, 23, tzinfo=UTC), datetime(2027, 3, 28, 2, tzinfo=UTC)
    found = bands_of(row, MADRID, dark_level=-18, usable=block)
    assert found.usable == pytest.approx((minutes("00:00"), minutes("04:00")))


def test_a_night_can_be_laid_on_another_sites_clock() -> None:
    row = night(HILL, date(2027, 7, 3))
    ((own, _),) = bands_of(row, MADRID, dark_level=-18).civil
    ((laid, _),) = bands_of(row, "Europe/London", dark_level=-18).civil
    assert own - laid == pytest.approx(60)


def test_before_a_skipped_date_the_clock_goes_on_where_it_was() -> None:
    apia = site(-13.83, -171.77, "Pacific/Apia")
    ((sunset, sunrise),) = bands(apia, date(2011, 12, 29)).civil
    ((before_sunset, before_sunrise),) = bands(apia, date(2011, 12, 28)).civil
    assert abs(sunset - before_sunset) < 3
    assert abs(sunrise - before_sunrise) < 3


def test_what_two_bands_have_in_common() -> None:
    assert common(((0, 60), (90, 150)), ((30, 100),)) == ((30, 60), (90, 100))
    assert common(((0, 60),), ((60, 90),)) == ()


def test_what_one_band_has_and_another_has_not() -> None:
    assert without(((0, 60), (90, 150)), ((30, 100),)) == ((0, 30), (100, 150))
    assert without(((0, 60),), ((0, 60),)) == ()
    assert without(((0, 60),), ()) == ((0, 60),)
