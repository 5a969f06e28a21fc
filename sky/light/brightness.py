"""How bright the sky is toward a direction: natural sky, skyglow, moonlight, twilight.

Airglow and the Milky Way, which no formula has, make any figure uncertain by 0.5 mag.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sky.constants import DEGREE, SUN_RISE_SET_DEGREES
from sky.directions import directions_at, directions_of_vectors, vectors_at
from sky.errors import SkyError
from sky.light.apart import apart_degrees
from sky.light.measured import RING_ALTITUDE_DEGREES, glow_between
from sky.light.moonlight import DISC_DEGREES, moonlight
from sky.light.natural import natural_sky
from sky.light.twilight import sunlight
from sky.light.units import magnitude, nanolamberts
from sky.place import Place
from sky.spans import as_utc

Floats = NDArray[np.float64]

# The zenith of a site without lamps: Falchi F. et al., Science Advances 2 (2016) e1600377.
NATURAL_MAG = 22.0
# Visual, in clean air: Krisciunas K., Schaefer B. E., PASP 103 (1991) 1033; from memory.
EXTINCTION = 0.172
# From the sky over a stadium to darker than any: common practice, no published source.
MAGNITUDES = 10.0, 23.0
EXTINCTIONS = 0.0, 1.0


@dataclass(frozen=True, slots=True)
class LocalSky:
    """What is known of the sky over a site, without Moon and twilight.

    `zenith_mag` measured overhead and `ring` (azimuth, mag) measured at 30° of altitude, both in
    mag/arcsec². `towns_share`: the glow that towns are thought to cause, as a share of the natural
    background; used only where nothing was measured, the same in every direction. `natural_mag`
    the zenith without any lamp; `extinction` mag per airmass.
    Errors: `sky_magnitude_outside` (10 to 23), `extinction_outside` (0 to 1), `azimuth_outside`,
    `towns_share_negative`.
    """

    zenith_mag: float | None = None
    ring: tuple[tuple[float, float], ...] = ()
    towns_share: float = 0.0
    natural_mag: float = NATURAL_MAG
    extinction: float = EXTINCTION

    def __post_init__(self) -> None:
        measured = [mag for _, mag in self.ring]
        for mag in (self.natural_mag, self.zenith_mag, *measured):
            if mag is not None:
                _check("sky_magnitude_outside", mag, *MAGNITUDES)
        for azimuth, _ in self.ring:
            _check("azimuth_outside", azimuth, 0.0, 360.0)
        _check("extinction_outside", self.extinction, *EXTINCTIONS)
        if not 0 <= self.towns_share < np.inf:
            raise SkyError("towns_share_negative", value=self.towns_share)

    @property
    def is_measured(self) -> bool:
        return self.zenith_mag is not None or bool(self.ring)

    @property
    def overhead_mag(self) -> float:
        """Give the zenith without Moon and twilight in mag/arcsec²."""
        return float(magnitude(self.natural(90.0) + self.glow(90.0, 0.0)))

    def natural(self, altitude_degrees: Floats | float) -> Floats:
        """Give the natural sky in nanolamberts toward apparent altitudes (any shape)."""
        return natural_sky(
            altitude_degrees, zenith_mag=self.natural_mag, extinction=self.extinction
        )

    def glow(self, altitude_degrees: Floats | float, azimuth_degrees: Floats | float) -> Floats:
        """Give skyglow in nanolamberts toward directions, zero or more; see `glow_between`.

        A measurement is natural sky and glow together: one that is darker than the natural sky
        has no glow. Without measurements: the towns' share of the natural zenith, everywhere.
        """
        overhead: float | None = self.towns_share * float(nanolamberts(self.natural_mag))
        if self.is_measured:
            overhead = None if self.zenith_mag is None else self._over(self.zenith_mag, 90.0)
        ring = [(azimuth, self._over(mag, RING_ALTITUDE_DEGREES)) for azimuth, mag in self.ring]
        return glow_between(altitude_degrees, azimuth_degrees, zenith=overhead, ring=ring)

    def _over(self, measured_mag: float, altitude_degrees: float) -> float:
        return max(0.0, float(nanolamberts(measured_mag) - self.natural(altitude_degrees)))


@dataclass(frozen=True, slots=True)
class Bodies:
    """Where Sun and Moon stand, arrays of one shape in degrees; altitudes apparent.

    `moon_phase_angle` 0 at full Moon to 180 at new, seen from the Earth's centre.
    """

    sun_altitude: Floats
    sun_azimuth: Floats
    moon_altitude: Floats
    moon_azimuth: Floats
    moon_phase_angle: Floats


@dataclass(frozen=True)
class SkyLight:
    """The sky's light toward directions at instants, in nanolamberts, arrays that go together."""

    natural: Floats
    glow: Floats
    moonlight: Floats
    twilight: Floats

    @cached_property
    def dark(self) -> Floats:
        """What is left without Moon and twilight."""
        return self.natural + self.glow

    @cached_property
    def total(self) -> Floats:
        return self.dark + self.moonlight + self.twilight

    @cached_property
    def magnitude(self) -> Floats:
        """The total in mag/arcsec²: greater is darker."""
        return magnitude(self.total)

    @cached_property
    def loss_mag(self) -> Floats:
        """How many magnitudes Moon and twilight take, zero or more."""
        result: Floats = 2.5 * np.log10(self.total / self.dark)
        return result


def bodies_at(place: Place, unix: Floats) -> Bodies:
    """Give Sun and Moon over a place at Unix seconds (instant,). Errors: `instant_outside`."""
    if not len(unix):
        return Bodies(*(np.empty(0) for _ in range(5)))
    sun, moon = vectors_at("sun", unix), vectors_at("moon", unix)
    to_sun, to_moon = directions_of_vectors(sun, place), directions_of_vectors(moon, place)
    return Bodies(
        sun_altitude=to_sun.altitude_degrees,
        sun_azimuth=to_sun.azimuth_degrees,
        moon_altitude=to_moon.altitude_degrees,
        moon_azimuth=to_moon.azimuth_degrees,
        moon_phase_angle=_phase_angle(sun, moon),
    )


def sky_toward(
    sky: LocalSky, altitude: Floats | float, azimuth: Floats | float, bodies: Bodies
) -> SkyLight:
    """Give the sky's light toward directions in degrees (apparent, from north through east).

    Directions and bodies broadcast: (target, instant) goes with (instant,). Every instant has a
    finite answer: a direction below the horizon is taken at the horizon, one on the Moon's disc at
    its edge, and the Sun may be up. Who asks about one moment wants `sky_at`, which refuses these.
    """
    to_moon = apart_degrees(altitude, azimuth, bodies.moon_altitude, bodies.moon_azimuth)
    to_sun = apart_degrees(altitude, azimuth, bodies.sun_altitude, bodies.sun_azimuth)
    return SkyLight(
        natural=sky.natural(altitude),
        glow=sky.glow(altitude, azimuth),
        moonlight=moonlight(
            altitude,
            bodies.moon_altitude,
            bodies.moon_phase_angle,
            to_moon,
            extinction=sky.extinction,
        ),
        twilight=sunlight(altitude, bodies.sun_altitude, to_sun, extinction=sky.extinction),
    )


def sky_at(
    sky: LocalSky, place: Place, instant: datetime, altitude: float, azimuth: float
) -> SkyLight:
    """Give the sky's light toward one direction at one instant: arrays of length one.

    Errors: `altitude_outside` (0 to 90), `azimuth_outside` (0 to 360), `sun_up`,
    `moon_in_direction` (its disc covers the direction), `naive_datetime`, `instant_outside`.
    """
    _check("altitude_outside", altitude, 0.0, 90.0)
    _check("azimuth_outside", azimuth, 0.0, 360.0)
    unix = np.array([as_utc(instant).timestamp()])
    sun = float(directions_at("sun", place, unix).altitude_geometric_degrees[0])
    if sun > SUN_RISE_SET_DEGREES:
        raise SkyError("sun_up", altitude=sun)
    bodies = bodies_at(place, unix)
    _refuse_disc(bodies, altitude, azimuth)
    return sky_toward(sky, np.array([altitude]), np.array([azimuth]), bodies)


def _refuse_disc(bodies: Bodies, altitude: float, azimuth: float) -> None:
    moon = float(bodies.moon_altitude[0])
    apart = float(apart_degrees(altitude, azimuth, moon, bodies.moon_azimuth[0]))
    if moon >= 0 and apart <= DISC_DEGREES:
        raise SkyError("moon_in_direction", apart=apart, disc=DISC_DEGREES)


def _phase_angle(sun: Floats, moon: Floats) -> Floats:
    """Give the angle at the Moon between Sun and Earth: vectors (instant, 3) from the Earth."""
    back, onward = -moon, sun - moon
    aside = np.linalg.norm(np.cross(back, onward), axis=1)
    result: Floats = np.arctan2(aside, np.sum(back * onward, axis=1)) / DEGREE
    return result


def _check(code: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:
        raise SkyError(code, value=value, low=low, high=high)
