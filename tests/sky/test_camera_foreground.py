"""When the land in front has light: twilight, and a Moon that is neither low nor bright."""

from __future__ import annotations

from datetime import date

import pytest

from sky.camera.foreground import ForegroundTimes, foreground_times
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import Skyline, skyline_of

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
LEVEL = skyline_of([])

WALLED = skyline_of([(azimuth, 60.0) for azimuth in range(0, 360, 30)])


def one_night(evening: date, land: Skyline = LEVEL) -> ForegroundTimes:
    return foreground_times(compute_season([TERUEL], evening, evening), 0, TERUEL, land)


def minutes(spans: list[list[float]]) -> float:
    return sum(end - start for start, end in spans) / 60


def test_every_ordinary_night_has_twilight_twice_for_half_an_hour() -> None:
    found = one_night(date(2027, 3, 8))
    assert len(found.twilight) == 2
    assert minutes(found.twilight.tolist()) / 2 == pytest.approx(31, abs=2)


def test_a_night_after_first_quarter_has_a_moonlit_land_and_one_at_new_moon_has_not() -> None:
    assert minutes(one_night(date(2027, 3, 14)).moonlit.tolist()) > 60
    assert len(one_night(date(2027, 3, 8)).moonlit) == 0


def test_a_moon_behind_the_land_lights_none_and_twilight_does() -> None:
    found = one_night(date(2027, 3, 14), WALLED)
    assert len(found.moonlit) == 0
    assert len(found.twilight) == 2
