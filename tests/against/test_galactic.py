"""Galactic coordinates against the books, ERFA and Astropy, and the band against Astropy's sky.

H01–H08, H10: see values/galactic.json. Nothing here knows a season or a hemisphere: the core stands
low at 51° north and overhead at 29° south.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import FK4, AltAz, EarthLocation, SkyCoord
from astropy.time import Time
from astropy.utils.iers import conf as iers

from sky.apparent import directions_toward
from sky.galactic import NORTH_POLE, galactic_of, icrs_of, standing_of_band
from sky.place import Place
from sky.targets.milky_way import CORE
from tests.against.published import row

PLACES = [
    pytest.param(Place(40.4, -1.1, 1600), id="40 north"),
    pytest.param(Place(69.1, 18.6, 160), id="69 north"),
    pytest.param(Place(0.1, -78.4, 2800), id="equator"),
    pytest.param(Place(-29.0, 150.0, 300), id="29 south"),
    pytest.param(Place(-77.8, 166.7, 10), id="78 south"),
]
# A year whose Earth orientation Astropy knows without asking the net.
INSTANTS = [datetime(2023, 3, 5, 18, 7, tzinfo=UTC) + timedelta(hours=5.3 * n) for n in range(40)]
UNIX = np.array([instant.timestamp() for instant in INSTANTS])


@pytest.mark.parametrize("identity", ["H01", "H06"])
def test_a_place_has_the_published_galactic_coordinates(identity: str) -> None:
    case = row("galactic", identity)
    given = list(case["inputs"].values())
    if identity == "H06":
        given = [math.degrees(each) for each in given]
    assert galactic_of(*given) == pytest.approx(case["expected"], abs=case["tolerance"])


@pytest.mark.parametrize("identity", ["H02", "H03"])
def test_galactic_coordinates_lie_where_they_are_defined(identity: str) -> None:
    case = row("galactic", identity)
    found = icrs_of(**case["inputs"])
    assert [found.ra_degrees, found.dec_degrees] == pytest.approx(
        case["expected"], abs=case["tolerance"]
    )


def test_the_pole_of_1950_is_the_pole() -> None:
    case = row("galactic", "H04")
    pole = SkyCoord(
        case["inputs"]["ra"] * u.deg, case["inputs"]["dec"] * u.deg, frame=FK4(equinox="B1950")
    ).icrs
    _, latitude = galactic_of(pole.ra.deg, pole.dec.deg)
    assert latitude == pytest.approx(case["expected"], abs=case["tolerance"])


def test_the_galactic_equator_is_inclined_as_published() -> None:
    case = row("galactic", "H05")
    assert 90 - NORTH_POLE.dec_degrees == pytest.approx(case["expected"], abs=case["tolerance"])


def test_the_nova_of_the_book_lies_where_the_book_says() -> None:
    case = row("galactic", "H07")
    nova = SkyCoord(case["inputs"]["ra"], case["inputs"]["dec"], frame=FK4(equinox="B1950")).icrs
    assert galactic_of(nova.ra.deg, nova.dec.deg) == pytest.approx(
        case["expected"], abs=case["tolerance"]
    )


@pytest.mark.parametrize("name", row("galactic", "H08")["inputs"])
def test_known_objects_agree_with_astropy(name: str) -> None:
    case = row("galactic", "H08")
    assert galactic_of(*case["inputs"][name]) == pytest.approx(
        case["expected"][name], abs=case["tolerance"]
    )


@pytest.mark.parametrize("longitude", [0, 33, 90, 123.4, 180, 270, 359.9])
@pytest.mark.parametrize("latitude", [-89, -30, 0, 12.5, 89])
def test_there_and_back_is_the_same_place(longitude: float, latitude: float) -> None:
    point = icrs_of(longitude, latitude)
    back, up = galactic_of(point.ra_degrees, point.dec_degrees)
    assert (back - longitude + 180) % 360 - 180 == pytest.approx(0, abs=1e-9)
    assert up == pytest.approx(latitude, abs=1e-9)


CULMINATIONS = row("galactic", "H10")


@pytest.mark.parametrize(
    ("latitude", "expected"),
    list(zip(CULMINATIONS["inputs"]["latitudes"], CULMINATIONS["expected"], strict=True)),
)
def test_the_core_culminates_where_its_declination_says(latitude: float, expected: float) -> None:
    minutes = datetime(2027, 1, 10, tzinfo=UTC).timestamp() + np.arange(0, 86_400, 60.0)
    found = directions_toward(CORE, Place(latitude, 12.0), minutes)
    assert found.altitude_geometric_degrees.max() == pytest.approx(
        expected, abs=CULMINATIONS["tolerance"]
    )


def sky_of_astropy(place: Place, longitudes: list[float]) -> tuple[np.ndarray, np.ndarray]:
    """Give altitudes and azimuths (instant, longitude) of places on the galactic equator."""
    with iers.set_temp("auto_download", False), iers.set_temp("auto_max_age", None):
        here = EarthLocation(
            place.longitude * u.deg, place.latitude * u.deg, place.elevation_m * u.m
        )
        band = SkyCoord(l=longitudes * u.deg, b=np.zeros(len(longitudes)) * u.deg, frame="galactic")
        seen = band[None, :].transform_to(AltAz(obstime=Time(INSTANTS)[:, None], location=here))
    return seen.alt.deg, seen.az.deg


@pytest.mark.parametrize("place", PLACES)
def test_the_top_of_the_band_is_where_astropy_finds_it_highest(place: Place) -> None:
    """Sampled every half degree along the band: beside the zenith its top is missed by 0.03°."""
    longitudes = np.arange(0, 360, 0.5)
    altitude, azimuth = sky_of_astropy(place, longitudes.tolist())
    at = np.arange(len(INSTANTS)), altitude.argmax(axis=1)
    ours = standing_of_band(directions_toward(NORTH_POLE, place, UNIX), place)
    assert ours.highest_geometric_degrees == pytest.approx(altitude[at], abs=0.03)
    assert (ours.highest_degrees >= ours.highest_geometric_degrees).all()
    apart = np.abs((ours.top_azimuth_degrees - azimuth[at] + 180) % 360 - 180)
    assert (apart * np.cos(np.radians(altitude[at]))).max() < 0.5


@pytest.mark.parametrize("place", PLACES)
def test_the_feet_of_the_band_are_where_astropy_finds_it_on_the_horizon(place: Place) -> None:
    longitudes = np.arange(0, 360, 0.5)
    altitude, azimuth = sky_of_astropy(place, longitudes.tolist())
    feet = standing_of_band(directions_toward(NORTH_POLE, place, UNIX), place).feet_azimuth_degrees
    for at in range(len(INSTANTS)):
        low = azimuth[at][np.abs(altitude[at]) < 0.3]
        for foot in feet[at]:
            nearest = np.abs((low - foot + 180) % 360 - 180).min(initial=360)
            # Where the band lies flat it meets the horizon over many degrees.
            assert nearest < 1.0 / max(np.sin(np.radians(np.abs(altitude[at]).max())), 0.1)
