"""The picture of the whole sky against Astropy's: everything within half a pixel of its place.

A picture 520 px wide has 3.85 units to the pixel. Astropy 8 says where things stand; refraction is
written once more in astropy_sky.py, the projection once more here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import astropy.units as u
import numpy as np
import pytest
from astropy.coordinates import AltAz, SkyCoord, get_body
from numpy.typing import NDArray

from sky.dome import WholeSky
from sky.place import Place
from sky.stars import bright_stars
from sky.targets.kinds import target_of
from sky.targets.target import FixedPoint
from tests.against.astropy_sky import alone, here, refraction, time_of
from trips.almanac.nights import compute_nights
from trips.almanac.places import place_of
from trips.almanac.whole_sky import whole_sky
from trips.charts.dome import Dome, dome
from trips.models import Site

Floats = NDArray[np.float64]

HALF_A_PIXEL = 2.0  # units
LOW_DEGREES = 1.0  # below, half a pixel of refraction is anybody's guess
WANTED = ("milky-way:core", "milky-way:arch", "deep-sky:NGC0224", "deep-sky:NGC0104")
PLANETS = ("mercury", "venus", "mars", "jupiter", "saturn")


@dataclass(frozen=True)
class Seen:
    """A night's sky as it is drawn, and Astropy's frame for the same place and instant."""

    place: Place
    sky: WholeSky
    drawn: Dome
    frame: Any

    def places(self, seen: Any) -> Floats:
        """Give where Astropy's coordinates belong in the picture, those that are up: (point, 2)."""
        height = np.atleast_1d(seen.alt.deg)
        azimuth = np.atleast_1d(seen.az.rad)
        away = 10.0 * (90.0 - height - refraction(height, self.place.elevation_m))
        found = np.stack((-away * np.sin(azimuth), -away * np.cos(azimuth)), axis=-1)
        result: Floats = found[height > LOW_DEGREES]
        return result


@pytest.fixture(
    scope="module",
    params=[
        pytest.param((40.4, -1.1, 1600, "Europe/Madrid", 23), id="40 north"),
        pytest.param((-29.0, 150.0, 300, "Australia/Brisbane", 13), id="29 south"),
        pytest.param((65.0, 25.0, 20, "Europe/Helsinki", 21), id="65 north"),
        pytest.param((88.0, 25.0, 0, "UTC", 20), id="88 north"),
    ],
)
def seen(request: pytest.FixtureRequest) -> Seen:
    """A night in November with a Moon of three days before the full: here low, there high."""
    latitude, longitude, elevation, zone, hour = request.param
    site = Site(
        name="Hill", latitude=latitude, longitude=longitude, elevation_m=elevation, zone=zone
    )
    instant = datetime(2027, 11, 10, hour, 17, tzinfo=UTC)
    night = (instant - timedelta(hours=6)).date()
    (row,) = compute_nights(site, night, night)
    sky = whole_sky(row, site, None, instant, [target_of(key) for key in WANTED])
    place = place_of(site)
    frame = AltAz(
        obstime=time_of(np.array(instant.timestamp())), location=here(place), pressure=0 * u.hPa
    )
    return Seen(place, sky, dome(sky, clock="", rim="", title="", description=""), frame)


def dots(path: str) -> Floats:
    found = re.findall(r"M(-?\d+) (-?\d+)h0", path)
    return np.array(found, dtype=float).reshape(-1, 2)


def apart(wanted: Floats, drawn: Floats) -> Floats:
    """Give how far each wanted place is from the nearest that is drawn."""
    result: Floats = np.hypot(*(wanted[:, None] - drawn[None, :]).transpose(2, 0, 1)).min(axis=1)
    return result


def test_every_star_is_drawn_where_astropy_sees_it(seen: Seen) -> None:
    stars = bright_stars()
    shown = stars.vectors[stars.magnitudes <= seen.sky.faintest]
    with alone():
        ra, dec = np.arctan2(shown[:, 1], shown[:, 0]), np.arcsin(shown[:, 2])
        wanted = seen.places(SkyCoord(ra * u.rad, dec * u.rad).transform_to(seen.frame))
    drawn = np.concatenate([dots(each.d) for each in seen.drawn.dots])
    assert len(wanted) > 100
    assert apart(wanted, drawn).max() < HALF_A_PIXEL
    high = drawn[np.hypot(*drawn.T) < 900 - 10 * (LOW_DEGREES + 1)]
    assert apart(high, wanted).max() < HALF_A_PIXEL, "and no other is drawn"


def test_planets_and_the_moon_are_drawn_where_astropy_sees_them(seen: Seen) -> None:
    moon = seen.drawn.moon
    drawn = np.concatenate([dots(seen.drawn.planets), [(moon.x, moon.y)] if moon else []])
    with alone():
        bodies = [get_body(name, seen.frame.obstime, seen.frame.location)
                  for name in (*PLANETS, "moon")]  # fmt: skip
        wanted = np.concatenate([seen.places(body.transform_to(seen.frame)) for body in bodies])
    assert len(wanted)
    assert apart(wanted, drawn).max() < HALF_A_PIXEL


def test_what_is_wanted_is_ringed_where_astropy_sees_it(seen: Seen) -> None:
    points = [point for key in WANTED for point in target_of(key).points]
    stars = [point for point in points if isinstance(point, FixedPoint)]
    rings = np.array([(x, y) for x, y, _radius in seen.drawn.rings], dtype=float)
    with alone():
        sought = SkyCoord(
            [star.ra_degrees for star in stars] * u.deg,
            [star.dec_degrees for star in stars] * u.deg,
        )
        wanted = seen.places(sought.transform_to(seen.frame))
    assert len(wanted)
    assert apart(wanted, rings).max() < HALF_A_PIXEL


def test_the_arch_is_drawn_along_astropy_s_galactic_equator(seen: Seen) -> None:
    along = np.arange(-180.0, 180.0, 2.5)
    drawn = np.array(re.findall(r"(-?\d+) (-?\d+)", seen.drawn.arch), dtype=float)
    with alone():
        equator = SkyCoord(l=along * u.deg, b=np.zeros_like(along) * u.deg, frame="galactic")
        wanted = seen.places(equator.transform_to(seen.frame))
    assert len(wanted) > 40
    assert apart(wanted, drawn).max() < HALF_A_PIXEL


def test_the_moon_s_lit_side_is_turned_as_astropy_turns_it(seen: Seen) -> None:
    """Half a degree from the Moon toward the Sun, drawn, says which way that is in the picture."""
    moon = seen.drawn.moon
    if moon is None:
        assert seen.sky.moon.altitude_degrees <= 0
        return
    with alone():
        at, sun = (
            get_body(name, seen.frame.obstime, seen.frame.location).transform_to(seen.frame)
            for name in ("moon", "sun")
        )
        near = at.directional_offset_by(at.position_angle(sun), 0.5 * u.deg)
    x, y = (seen.places(near) - seen.places(at))[0]
    assert (np.degrees(np.arctan2(y, x)) - moon.turned + 180) % 360 - 180 == pytest.approx(0, abs=1)
