"""Astropy's sky as the referee: directions over a stretch of time, asked every quarter of an hour.

Astropy 8 with ERFA and JPL DE421; its UT1 is the one that our timescale has, since its own table
ends. It has polar motion and the observer's own aberration, together up to 0.7″, which ours leaves
out. Between the quarters of an hour a spline through unit vectors is good to 0.01″.
Refraction is written here once more, from the definition: Saemundsson 1986 at 10 °C.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cached_property, lru_cache
from importlib.resources import as_file, files
from typing import Any

import astropy.units as u
import numpy as np
from astropy.coordinates import AltAz, EarthLocation, SkyCoord, get_body, solar_system_ephemeris
from astropy.coordinates.erfa_astrom import ErfaAstromInterpolator, erfa_astrom
from astropy.time import Time
from astropy.utils import iers
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from sky.ephemeris import timescale
from sky.place import Place

Floats = NDArray[np.float64]

STEP_SECONDS = 900.0
MOON_RADIUS_KM = 1737.4


@contextmanager
def alone() -> Iterator[None]:
    """Let Astropy ask nobody, and take its Sun, Moon and planets from DE421."""
    with (
        iers.conf.set_temp("auto_download", False),
        iers.conf.set_temp("iers_degraded_accuracy", "ignore"),
        as_file(files("skyfield_data") / "data" / "de421.bsp") as path,
        solar_system_ephemeris.set(str(path)),
    ):
        yield


def time_of(unix: Floats) -> Any:
    time = Time(unix, format="unix")
    time.delta_ut1_utc = timescale().tt_jd(time.tt.jd).dut1
    return time


def here(place: Place) -> Any:
    return EarthLocation.from_geodetic(place.longitude, place.latitude, place.elevation_m)


def refraction(height: Floats, elevation_m: float) -> Floats:
    """Give degrees: 1.02′ cot(h + 10.3/(h + 5.11)) · P/1010 · 283/(273 + T), fading below −1°."""
    h = np.maximum(height, -1.0)
    lift = 1.02 / np.tan(np.radians(h + 10.3 / (h + 5.11))) * np.exp(-elevation_m / 8400.0)
    result: Floats = np.maximum(lift, 0.0) / 60.0 * np.clip(height + 2.0, 0.0, 1.0)
    return result


@dataclass(frozen=True)
class Track:
    """A way over the sky of a place."""

    unix: Floats
    towards: Floats  # (instant, 3): north, east, up
    distance_km: Floats
    elevation_m: float

    @cached_property
    def spline(self) -> CubicSpline:
        return CubicSpline(self.unix, np.column_stack((self.towards, self.distance_km)))

    def geometric(self, unix: Floats) -> tuple[Floats, Floats, Floats]:
        """Give altitude without refraction, azimuth and distance."""
        north, east, up, distance = self.spline(unix).T
        height = np.degrees(np.arctan2(up, np.hypot(north, east)))
        return height, np.degrees(np.arctan2(east, north)) % 360.0, distance

    def apparent(self, unix: Floats) -> tuple[Floats, Floats]:
        height, azimuth, _ = self.geometric(unix)
        return height + refraction(height, self.elevation_m), azimuth


@dataclass(frozen=True)
class Sky:
    """What Astropy sees from a place between two instants."""

    place: Place
    start: float
    end: float

    @cached_property
    def unix(self) -> Floats:
        return np.arange(self.start - 3 * STEP_SECONDS, self.end + 4 * STEP_SECONDS, STEP_SECONDS)

    @cached_property
    def time(self) -> Any:
        return time_of(self.unix)

    @cached_property
    def frame(self) -> Any:
        return AltAz(obstime=self.time, location=here(self.place), pressure=0 * u.hPa)

    def star(self, ra_degrees: float, dec_degrees: float) -> Track:
        # Its matrices from hour to hour: right for what has no parallax, and sixty times as fast.
        with erfa_astrom.set(ErfaAstromInterpolator(1 * u.hour)):
            seen = SkyCoord(ra_degrees * u.deg, dec_degrees * u.deg).transform_to(self.frame)
        return self.track(seen, np.zeros(len(self.unix)))

    def body(self, name: str) -> Track:
        return _body_over(self, name)

    def illuminated_angle(self, unix: Floats) -> Floats:
        """Give arccos(1 − 2k) in degrees, k the Moon's illuminated fraction from the geocentre."""
        sun, moon = _geocentric(self, "sun"), _geocentric(self, "moon")
        apart, far, near = sun.separation(moon).rad, sun.distance.km, moon.distance.km
        phase = np.arctan2(far * np.sin(apart), near - far * np.cos(apart))
        return np.degrees(np.pi - np.asarray(CubicSpline(self.unix, phase)(unix)))

    def track(self, seen: Any, distance_km: Floats) -> Track:
        vector = np.stack([getattr(seen.cartesian, axis).value for axis in "xyz"], axis=1)
        vector /= np.linalg.norm(vector, axis=1, keepdims=True)
        return Track(self.unix, vector, distance_km, self.place.elevation_m)


@lru_cache(maxsize=16)
def _body_over(sky: Sky, name: str) -> Track:
    seen = _geocentric(sky, name).transform_to(sky.frame)
    return sky.track(seen, seen.distance.km)


@lru_cache(maxsize=16)
def _geocentric(sky: Sky, name: str) -> Any:
    return get_body(name, sky.time)
