"""What to focus on through a night: which, when again, and when nothing is there.

Against Astropy: tests/against/test_focus.py.
"""

from __future__ import annotations

from datetime import UTC, datetime
from itertools import pairwise

import pytest

from sky.focus import FocusStop, focus_stops
from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of

PLACE = Place(40.4, -1.1, 1600)
DUSK = datetime(2027, 3, 9, 19, 30, tzinfo=UTC).timestamp()
HOUR = 3600.0


def stops(hours: float = 6.0, skyline: Skyline = LEVEL) -> tuple[FocusStop, ...]:
    return focus_stops(PLACE, skyline, DUSK, DUSK + hours * HOUR)


def test_the_brightest_comes_first_be_it_star_or_planet() -> None:
    assert [target.name for target in stops()[0].targets] == ["Jupiter", "Sirius", "Mars"]
    for stop in stops(9.0):
        brightness = [target.magnitude for target in stop.targets]
        assert brightness == sorted(brightness)


def test_nothing_low_and_nothing_overhead_is_taken() -> None:
    heights = [one.standing.altitude_degrees for stop in stops(9.0) for one in stop.targets]
    assert min(heights) >= 20
    assert max(heights) <= 70


def test_land_hides_what_stands_behind_it() -> None:
    wall = skyline_of([(0, 0), (90, 0), (91, 60), (150, 60), (151, 0)])
    assert "Jupiter" not in {one.name for one in stops(0.5, wall)[0].targets}


def test_behind_high_land_all_around_there_is_none() -> None:
    first = stops(3.0, Skyline(((0.0, 75.0),)))
    assert [(stop.at, stop.targets) for stop in first] == [(DUSK, ()), (DUSK + 2 * HOUR, ())]


def test_focus_is_looked_at_again_after_two_hours() -> None:
    assert [stop.at for stop in stops(4.5)] == [DUSK, DUSK + 2 * HOUR, DUSK + 4 * HOUR]


def test_or_as_soon_as_the_first_is_gone() -> None:
    whole = stops(9.0)
    for stop, after in pairwise(whole):
        until = stop.targets[0].until
        assert after.at == min(stop.at + 2 * HOUR, until or DUSK + 9 * HOUR)
    assert any(stop.targets[0].until == after.at for stop, after in pairwise(whole))


def test_what_goes_at_once_is_not_taken() -> None:
    """Sirius comes down to 20° at 22:36."""
    sirius_goes = datetime(2027, 3, 9, 22, 36, tzinfo=UTC).timestamp()
    for minutes, is_taken in ((35, True), (25, False)):
        start = sirius_goes - minutes * 60
        first = focus_stops(PLACE, LEVEL, start, start + HOUR)[0]
        assert ("Sirius" in {one.name for one in first.targets}) == is_taken


def test_the_moon_is_told_while_it_stands_right() -> None:
    """Half lit, it culminates near dusk on 15 March and is down before dawn."""
    dusk = datetime(2027, 3, 15, 19, 30, tzinfo=UTC).timestamp()
    found = focus_stops(PLACE, LEVEL, dusk, dusk + 9 * HOUR)
    moons = [stop.moon for stop in found]
    assert any(moons)
    assert moons[-1] is None
    assert all(20 <= moon.altitude_degrees <= 70 for moon in moons if moon)


@pytest.mark.parametrize("hours", [0.0, -2.0])
def test_no_time_has_no_stop(hours: float) -> None:
    assert stops(hours) == ()
