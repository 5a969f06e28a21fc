"""Lit, then dark against Astropy asked each minute of random months: nothing missed or invented.

Referee: tests/against/astropy_sky.py; between two minutes of unlike sign its edge is where the
straight line passes zero. The rule of which spans make a pair is written here once more.
"""

from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise, product

import numpy as np
import pytest
from numpy.typing import NDArray

from sky.lit_then_dark import LitAndDark, lit_and_dark, side_lit_spans
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of
from sky.span_arrays import intersect
from sky.targets.target import Body, FixedPoint, Point, Target
from sky.windows import Wanted, find_windows
from tests.against.agreement import Margin, clear_of, light_margin, track_of
from tests.against.astropy_sky import Sky, alone

Floats = NDArray[np.float64]

MINUTE = 60.0
ALLOWED_SECONDS = 60.0
NIGHTS = 31
HILLS = skyline_of([(0, 2), (60, 9), (130, 3), (200, 6), (250, 14), (300, 5)])
CORE, PLEIADES = FixedPoint(266.41667, -29.00778), FixedPoint(56.75, 24.117)
CASES: list[tuple[Place, date, float, Skyline, Point, float]] = [
    (Place(40.4, -1.1, 1600, "Europe/Madrid"), date(2027, 7, 1), 290.0, LEVEL, CORE, 8.0),
    (Place(40.4, -1.1, 1600, "Europe/Madrid"), date(2027, 10, 1), 197.0, HILLS, PLEIADES, 25.0),
    (Place(28.3, -16.5, 2100, "Atlantic/Canary"), date(2030, 3, 3), 60.0, HILLS, CORE, -90.0),
    (Place(-44.0, 170.5, 700, "Pacific/Auckland"), date(2028, 5, 9), 15.0, LEVEL, CORE, 20.0),
    (Place(57.2, -3.8, 400, "Europe/London"), date(1985, 11, 2), 0.0, HILLS, Body("jupiter"), 5.0),
    (Place(1.9, -157.4, 3, "Pacific/Kiritimati"), date(2041, 9, 1), 300.0, LEVEL, CORE, 10.0),
]


@pytest.mark.parametrize("number", range(len(CASES)))
def test_the_nights_and_times_are_those_of_a_look_each_minute(number: int) -> None:
    place, first, face, skyline, point, least = CASES[number]
    table = compute_season([place], first, first + timedelta(days=NIGHTS - 1))
    target = Target("test:point", "point", (point,), "moonless", None)
    windows = find_windows([Wanted(target, "moonless", least)], place, skyline, table)[0]
    hours = _hours(table) if number % 2 else table.noons[0, [0, -1]][None]
    ours = lit_and_dark(
        table, 0, place, face,
        lit=intersect(side_lit_spans(table, 0, place, skyline, face), hours),
        dark=intersect(windows.spans, hours),
    )  # fmt: skip
    with alone():
        sky = Sky(place, float(table.noons[0, 0]), float(table.noons[0, -1]))
        moon, line = sky.body("moon"), clear_of(skyline, -90.0, sky.body("moon"))
        moonlit, moonless = light_margin(sky, "moonlit"), light_margin(sky, "moonless")
        stands = clear_of(skyline, least, track_of(sky, point))

        def lights(unix: Floats) -> Floats:
            angle = np.degrees(np.arccos(np.cos(np.radians(moon.apparent(unix)[1] - face))))
            room: Floats = np.min((moonlit(unix), line(unix), angle - 30, 80 - angle), axis=0)
            return room

        def darkens(unix: Floats) -> Floats:
            room: Floats = np.minimum(moonless(unix), stands(unix))
            return room

        lit, dark = (_spans(each, sky, hours) for each in (lights, darkens))
        theirs = _paired(lit, dark, table.noons[0])
        assert [(one.night, one.is_lit_first) for one in ours] == [pair[:2] for pair in theirs]
        for one, (_, _, lit_one, dark_one) in zip(ours, theirs, strict=True):
            found = np.array((*one.lit, *one.dark)) - np.array((*lit_one, *dark_one))
            assert np.abs(found).max() < ALLOWED_SECONDS
            _agree_on_the_moon(one, sky, face)
    assert ours, "a month without a night shows nothing: take another"


def _agree_on_the_moon(one: LitAndDark, sky: Sky, face: float) -> None:
    middle = np.array([sum(one.lit) / 2])
    altitude, azimuth = (float(each[0]) for each in sky.body("moon").apparent(middle))
    fraction = (1 - np.cos(np.radians(float(sky.illuminated_angle(middle)[0])))) / 2
    assert one.altitude_degrees == pytest.approx(altitude, abs=0.01)
    assert one.azimuth_degrees == pytest.approx(azimuth, abs=0.01)
    assert one.illuminated == pytest.approx(fraction, abs=0.001)
    # The wall's left end, of who faces it, lies a quarter of a turn clockwise of its normal.
    leftward = np.cos(np.radians(azimuth - (face + 90.0)))
    assert one.is_from_left == bool(leftward > 0)
    assert one.angle_degrees == pytest.approx(np.degrees(np.arcsin(abs(leftward))), abs=0.01)


def _hours(table: SeasonTable) -> Floats:
    """Give from six hours after each noon to fifteen."""
    noons: Floats = table.noons[0, :-1]
    return np.stack((noons + 6 * 3600, noons + 15 * 3600), axis=1)


def _spans(margin: Margin, sky: Sky, hours: Floats) -> list[tuple[float, float]]:
    unix = np.arange(sky.start, sky.end, MINUTE)
    room = margin(unix)
    edges, found = np.flatnonzero((room[1:] > 0) != (room[:-1] > 0)), []
    at = unix[edges] + MINUTE * room[edges] / (room[edges] - room[edges + 1])
    bounds = [sky.start, *at.tolist(), sky.end]
    for start, end in list(pairwise(bounds))[0 if room[0] > 0 else 1 :: 2]:
        for first, last in hours.tolist():
            if min(end, last) > max(start, first):
                found.append((max(start, first), min(end, last)))
    return found


def _paired(
    lit: list[tuple[float, float]], dark: list[tuple[float, float]], noons: Floats
) -> list[tuple[int, bool, tuple[float, float], tuple[float, float]]]:
    """Give night, whether lit comes first, and both spans: by trying every pair."""
    best: dict[tuple[int, bool], tuple[float, float, tuple[float, float], tuple[float, float]]] = {}
    for one, other in product(lit, dark):
        night = int(np.searchsorted(noons, one[0], side="right")) - 1
        is_same = night == int(np.searchsorted(noons, other[0], side="right")) - 1
        is_long = one[1] - one[0] >= 15 * MINUTE and other[1] - other[0] >= 60 * MINUTE
        if not (is_same and is_long) or (one[1] > other[0] and other[1] > one[0]):
            continue
        is_first = one[1] <= other[0]
        wait = other[0] - one[1] if is_first else one[0] - other[1]
        rank = (other[1] - other[0], -wait, one, other)
        best[night, is_first] = max(best.get((night, is_first), rank), rank)
    order = sorted(best, key=lambda key: (key[0], not key[1]))
    return [(*key, best[key][2], best[key][3]) for key in order]
