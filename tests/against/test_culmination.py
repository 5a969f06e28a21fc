"""Culminations against Astropy 8: the highest of a day, and the sidereal time at midnight."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils import iers

from sky.directions import refraction_degrees
from sky.place import Place
from sky.targets import deep_sky
from sky.targets.culmination import culmination
from sky.targets.target import FixedPoint

PLACES = [
    pytest.param(Place(40.4, -1.1, 1600, "Europe/Madrid"), id="40 north"),
    pytest.param(Place(69.1, 18.6, 160, "Europe/Oslo"), id="69 north"),
    pytest.param(Place(-34.0, 150.0, 700, "Australia/Sydney"), id="34 south"),
]
NAMES = ["M 31", "47 Tucanae", "M 42", "M 8", "Omega Centauri", "M 81"]


@pytest.fixture(autouse=True)
def _without_network() -> Iterator[None]:
    with (
        iers.conf.set_temp("auto_download", False),
        iers.conf.set_temp("auto_max_age", None),
    ):
        yield


def point_of(name: str) -> FixedPoint:
    point = deep_sky.target(name).points[0]
    assert isinstance(point, FixedPoint)
    return point


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", NAMES)
def test_the_altitude_is_the_highest_of_a_day(name: str, place: Place) -> None:
    """Within 0.2°, as the docstring says; refraction is tested elsewhere."""
    point = point_of(name)
    coordinate = SkyCoord(point.ra_degrees * u.deg, point.dec_degrees * u.deg)
    location = EarthLocation.from_geodetic(place.longitude, place.latitude, place.elevation_m)
    day = Time("2027-03-05") + np.linspace(0, 1, 1441) * u.day
    highest = coordinate.transform_to(AltAz(obstime=day, location=location)).alt.deg.max()
    air = float(refraction_degrees(np.array([highest]), place.elevation_m)[0])
    ours = culmination(point, place, year=2027).altitude_degrees
    assert ours == pytest.approx(highest + air, abs=0.2)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", NAMES)
def test_it_is_in_the_meridian_at_that_midnight(name: str, place: Place) -> None:
    """A day is 1° of sidereal time; half of one is the rounding, 0.4° precession until 2027."""
    point = point_of(name)
    evening = culmination(point, place, year=2027).midnight
    noon = datetime.combine(evening, time(12), tzinfo=UTC)
    midnight = noon + timedelta(hours=12 - place.longitude / 15)
    sidereal = Time(midnight).sidereal_time("mean", longitude=place.longitude * u.deg).deg
    apart = (sidereal - point.ra_degrees + 180) % 360 - 180
    assert abs(apart) < 1.5


def test_what_stays_below_the_horizon_does_not_rise() -> None:
    assert not culmination(point_of("47 Tucanae"), Place(40.4, -1.1), year=2027).rises


def test_what_clears_the_horizon_rises() -> None:
    assert culmination(point_of("47 Tucanae"), Place(17.0, -1.1), year=2027).rises
