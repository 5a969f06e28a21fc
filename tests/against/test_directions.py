"""Altitude and azimuth against the books, Skyfield and PyEphem.

A04, C02, C03: Meeus and Saemundsson. A23: the NREL solar position algorithm. Referees elsewhere:
Skyfield 1.55 with JPL DE421 (within 1″, which is its own observer's aberration and ours left out)
and PyEphem 4.2 (VSOP87 and a Moon of its own, rounded: within 0.01°).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any

import ephem
import numpy as np
import pytest

from sky.directions import direction_of, directions_of, highest, pressure_hpa, refraction_degrees
from sky.ephemeris import BODIES, timescale
from sky.place import Place
from sky.spans import Span
from tests.against import skyfield_search as referee
from tests.against.published import row

ARCSECOND = 1 / 3600
PLACES = [
    pytest.param(Place(40.4, -1.1, 1600, "Europe/Madrid"), id="40 north at 1600 m"),
    pytest.param(Place(69.1, 18.6, 160, "Europe/Oslo"), id="69 north"),
    pytest.param(Place(89.9, 30.0, 0), id="beside the north pole"),
    pytest.param(Place(0.1, -78.4, 2800, "America/Guayaquil"), id="equator at 2800 m"),
    pytest.param(Place(-44.0, 170.5, 700, "Pacific/Auckland"), id="44 south"),
    pytest.param(Place(-77.8, 166.7, 10, "Antarctica/McMurdo"), id="78 south"),
]
# Two weeks at odd hours: every body is up and down, in the east and in the west.
INSTANTS = [datetime(2027, 3, 5, 18, 7, tzinfo=UTC) + timedelta(hours=7.3 * n) for n in range(46)]


@pytest.fixture(scope="module")
def kernel() -> Iterator[Any]:
    with referee.kernel() as opened:
        yield opened


def on_the_sky(azimuth: Any, other: Any, altitude: Any) -> Any:
    """Give the distance of two azimuths as it is seen: their circle shrinks toward the zenith."""
    apart = (np.asarray(azimuth) - np.asarray(other) + 180) % 360 - 180
    return np.abs(apart) * np.cos(np.radians(altitude))


@pytest.mark.parametrize("identity", ["C02", "C03"])
def test_refraction_is_the_published_one(identity: str) -> None:
    case = row("directions", identity)
    ours = refraction_degrees(np.array(case["inputs"]["altitude_geometric_degrees"]), 0.0) * 60
    assert ours == pytest.approx(case["expected"], abs=case["tolerance"])


def test_refraction_goes_with_the_pressure_of_the_height() -> None:
    """C02 times P/1010, with the pressure of the definition."""
    low, high = (float(refraction_degrees(np.array([5.0]), height)[0]) for height in (0.0, 1600.0))
    assert high / low == pytest.approx(math.exp(-1600 / 8400))
    assert pressure_hpa(1600.0) == pytest.approx(1010 * high / low)


def test_venus_stands_where_the_book_says() -> None:
    case = row("directions", "A04")
    inputs = case["inputs"]
    place = Place(inputs["latitude"], inputs["longitude"], inputs["elevation_m"])
    ours = direction_of(inputs["body"], place, datetime.fromisoformat(inputs["instant"]))
    expected = case["expected"]
    assert ours.altitude_geometric_degrees == pytest.approx(
        expected["altitude_degrees"], abs=case["tolerance"]
    )
    assert ours.azimuth_degrees == pytest.approx(expected["azimuth_degrees"], abs=case["tolerance"])


def test_the_sun_stands_where_the_solar_algorithm_says() -> None:
    case = row("positions", "A23")
    inputs = case["inputs"]
    place = Place(inputs["latitude"], inputs["longitude"], inputs["elevation_m"])
    ours = direction_of("sun", place, datetime.fromisoformat(inputs["instant"]))
    expected = case["expected"]
    assert ours.altitude_geometric_degrees == pytest.approx(
        expected["altitude_degrees"], abs=case["tolerance"]
    )
    assert ours.azimuth_degrees == pytest.approx(expected["azimuth_degrees"], abs=case["tolerance"])


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("body", ["sun", "moon", "venus", "saturn"])
def test_altitude_and_azimuth_agree_with_skyfield(kernel: Any, place: Place, body: str) -> None:
    time = timescale().from_datetimes(INSTANTS)
    seen = referee.observer(kernel, place).at(time).observe(kernel[BODIES[body]]).apparent()
    altitude, azimuth, _ = seen.altaz()
    ours = directions_of(body, place, INSTANTS)
    assert ours.altitude_geometric_degrees == pytest.approx(altitude.degrees, abs=ARCSECOND)
    apart = on_the_sky(ours.azimuth_degrees, azimuth.degrees, altitude.degrees)
    assert apart.max() < ARCSECOND


@pytest.mark.parametrize("place", PLACES)
def test_the_apparent_altitude_agrees_with_skyfield_s_refraction(kernel: Any, place: Place) -> None:
    """Its formula is Bennett's turned round, and takes the pressure at the apparent altitude: the
    lift agrees to 4 %, as the two formulas and a third one of ERFA's do among themselves."""
    time = timescale().from_datetimes(INSTANTS)
    seen = referee.observer(kernel, place).at(time).observe(kernel["moon"]).apparent()
    pressure = pressure_hpa(place.elevation_m)
    lifted = seen.altaz(temperature_C=10.0, pressure_mbar=pressure)[0].degrees
    theirs = lifted - seen.altaz()[0].degrees
    found = directions_of("moon", place, INSTANTS)
    ours = found.altitude_degrees - found.altitude_geometric_degrees
    up = found.altitude_geometric_degrees > 0
    assert ours[up] == pytest.approx(theirs[up], rel=0.04, abs=0.1 / 3600)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize(("body", "theirs"), [("sun", ephem.Sun), ("moon", ephem.Moon)])
def test_altitude_and_azimuth_agree_with_pyephem(place: Place, body: str, theirs: Any) -> None:
    for instant in INSTANTS[::5]:
        seen = ephem.Observer()
        seen.lat, seen.lon = math.radians(place.latitude), math.radians(place.longitude)
        seen.elevation, seen.pressure = place.elevation_m, 0.0
        seen.date = ephem.Date(instant)
        found = theirs(seen)
        ours = direction_of(body, place, instant)
        assert ours.altitude_geometric_degrees == pytest.approx(math.degrees(found.alt), abs=0.01)
        apart = on_the_sky(
            ours.azimuth_degrees, math.degrees(found.az), ours.altitude_geometric_degrees
        )
        assert apart < 0.01


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("body", ["sun", "moon"])
def test_nothing_is_higher_than_the_highest(kernel: Any, place: Place, body: str) -> None:
    """Skyfield, asked every minute of a night, finds nothing above it by more than a minute's."""
    span = Span(datetime(2027, 3, 5, 18, tzinfo=UTC), datetime(2027, 3, 6, 18, tzinfo=UTC))
    unix = np.arange(span.start.timestamp(), span.end.timestamp(), 60.0)
    theirs = referee.height_above_level(kernel, place, unix, 0.0) if body == "sun" else None
    if theirs is None:
        time = timescale().from_datetimes([datetime.fromtimestamp(at, UTC) for at in unix])
        seen = referee.observer(kernel, place).at(time).observe(kernel["moon"]).apparent()
        theirs = seen.altaz()[0].degrees
    ours = highest(body, place, span).altitude_geometric_degrees
    assert -ARCSECOND <= ours - float(np.max(theirs)) < 0.01
