"""Tracks of targets and where they stand clear of a skyline, against Skyfield and by hand."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from sky.ephemeris import altitude_azimuth
from sky.place import Place
from sky.skyline import LEVEL, skyline_of
from trips.almanac.passages import passages
from trips.almanac.targets import find_target
from trips.almanac.tracks import Track, day_track, has_track, night_track

PLATEAU = Place(40.1, -1.03, 1850, "Europe/Madrid")
ARCTIC = Place(69.1, 18.6, 160, "Europe/Oslo")
EVENING = date(2027, 7, 3)


def tent(**changed: object) -> Track:
    """Rise in the east, ten degrees for each of nine quarters of an hour, stand, and sink."""
    heights = [-10, 0, 10, 20, 30, 20, 10, 0, -10]
    points = tuple((90.0 + 20 * n, float(height)) for n, height in enumerate(heights))
    values = {"name": "Tent", "points": points, "times": tuple(900.0 * n for n in range(9))}
    return Track(**values | changed)  # type: ignore[arg-type]


def test_a_track_comes_out_between_two_points_where_it_crosses_the_land() -> None:
    (passage,) = passages(tent(), skyline_of([(0, 5)]))
    assert passage.clears
    assert passage.hides
    assert (passage.clears.azimuth, passage.clears.altitude) == (120, 5)
    assert (passage.hides.azimuth, passage.hides.altitude) == (220, 5)
    assert (passage.clears.at, passage.highest.at, passage.hides.at) == (1350, 3600, 5850)
    assert passage.highest.altitude == 30


def test_a_peak_in_the_way_parts_a_track_in_two() -> None:
    peak = skyline_of([(0, 0), (160, 0), (170, 40), (180, 0)])
    found = passages(tent(), peak)
    assert [bool(one.hides) for one in found] == [True, True]
    assert found[0].hides
    assert 150 < found[0].hides.azimuth < 170


def test_what_does_not_come_over_the_land_has_no_passage() -> None:
    assert passages(tent(), skyline_of([(0, 31)])) == []
    assert passages(tent(points=(), times=()), LEVEL) == []


def test_what_is_in_view_from_the_first_does_not_come_clear() -> None:
    track = tent(points=((90.0, 10.0), (100.0, 20.0)), times=(0.0, 900.0))
    (passage,) = passages(track, LEVEL)
    assert (passage.clears, passage.hides) == (None, None)


def test_a_round_is_one_stretch_across_its_noon() -> None:
    heights = [20.0, 10.0, -10.0, -20.0, -10.0, 10.0, 20.0]
    points = tuple((n * 60 % 360.0, height) for n, height in enumerate(heights))
    track = tent(points=points, times=tuple(float(n) for n in range(7)), is_round=True)
    (passage,) = passages(track, LEVEL)
    assert passage.clears
    assert passage.hides


def test_a_track_passes_where_skyfield_has_the_planet() -> None:
    track = night_track(find_target("Jupiter"), PLATEAU, date(2027, 3, 3))
    middle = len(track.times) // 2
    altitude, azimuth = altitude_azimuth(
        "jupiter", 40.1, -1.03, 1850, datetime.fromtimestamp(track.times[middle], UTC)
    )
    assert track.points[middle][0] == pytest.approx(azimuth, abs=0.001)
    assert track.points[middle][1] == pytest.approx(altitude, abs=0.02)  # ours with refraction


def test_a_night_runs_from_sunset_to_sunrise_with_the_hours_of_its_clock() -> None:
    track = night_track(find_target("Jupiter"), PLATEAU, EVENING)
    clocks = [clock for _azimuth, _altitude, clock in track.hours]
    assert clocks == ["22:00", "23:00", "00:00", "01:00", "02:00", "03:00", "04:00", "05:00",
                      "06:00"]  # fmt: skip


def test_a_night_without_sunset_has_no_track() -> None:
    assert night_track(find_target("Jupiter"), ARCTIC, date(2027, 6, 21)).points == ()


def test_a_night_without_sunrise_runs_from_noon_to_noon() -> None:
    track = night_track(find_target("Jupiter"), ARCTIC, date(2027, 12, 15))
    assert track.times[-1] - track.times[0] == 86_400


def test_the_round_of_a_day_has_no_hours() -> None:
    track = day_track(find_target("M 31"), PLATEAU, EVENING)
    assert track.hours == ()
    assert track.times[-1] - track.times[0] == 86_400


def test_an_arch_over_the_land_has_no_track() -> None:
    assert not has_track(find_target("milky-way:arch"))
    assert has_track(find_target("milky-way:core"))
