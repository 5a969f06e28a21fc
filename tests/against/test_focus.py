"""What to focus on, against published magnitudes and Astropy's sky.

Magnitudes: Mallama & Hilton 2018. When a target leaves the heights: tests/against/astropy_sky.py,
asked each ten seconds.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import numpy as np
import pytest

from sky.ephemeris import planet_magnitudes
from sky.focus import FocusTarget, focus_stops
from sky.place import Place
from sky.skyline import skyline_of
from sky.stars import bright_stars
from tests.against.agreement import clear_of
from tests.against.astropy_sky import Sky, Track, alone
from tests.against.published import rows

PLACE = Place(40.4, -1.1, 1600)
HILLS = skyline_of([(0, 2), (60, 24), (130, 3), (200, 31), (250, 14), (300, 5)])
START = datetime(2027, 3, 9, 19, 30, tzinfo=UTC).timestamp()
END = START + 9 * 3600.0
MINUTE = 60.0


@pytest.mark.parametrize("case", rows("planet_magnitudes"), ids=lambda case: case["id"])
def test_planets_are_as_bright_as_published(case: Any) -> None:
    found = planet_magnitudes(date.fromisoformat(case["inputs"]["day"]))
    assert found[case["inputs"]["body"]] == pytest.approx(case["expected"], abs=case["tolerance"])


def test_targets_stand_right_until_the_minute_that_is_told() -> None:
    stops = focus_stops(PLACE, HILLS, START, END)
    with alone():
        sky = Sky(PLACE, START, END)
        for stop in stops:
            for target in stop.targets:
                _stands_until(target, stop.at, _track(target, sky))
    told = [target.until for stop in stops for target in stop.targets]
    assert None in told
    assert any(told)


def _stands_until(target: FocusTarget, at: float, track: Track) -> None:
    altitude, azimuth = (float(each[0]) for each in track.apparent(np.array([at])))
    assert target.standing.altitude_degrees == pytest.approx(altitude, abs=0.1)
    assert target.standing.azimuth_degrees == pytest.approx(azimuth, abs=0.1)
    unix = np.arange(at, END, MINUTE / 6)
    height, clear = track.apparent(unix)[0], clear_of(HILLS, -90.0, track)(unix)
    gone = unix[(height < 20) | (height > 70) | (clear < 0)]
    if target.until is None:
        assert not len(gone)
    else:
        assert -MINUTE / 6 <= target.until - gone[0] <= MINUTE + MINUTE / 6


def _track(target: FocusTarget, sky: Sky) -> Track:
    stars = bright_stars()
    if target.name not in stars.names:
        return sky.body(target.name.lower())
    x, y, z = stars.vectors[stars.names.index(target.name)]
    return sky.star(float(np.degrees(np.arctan2(y, x))) % 360, float(np.degrees(np.arcsin(z))))
