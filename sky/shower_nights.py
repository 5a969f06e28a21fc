"""What a place sees of the peaks of showers: the night nearest to each, its rate, and the Moon."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import lru_cache

import numpy as np

from sky.apparent import directions_toward
from sky.clock import night_holding, steps_of_night
from sky.directions import directions_at
from sky.ephemeris import Floats
from sky.night import DARK_LEVELS
from sky.place import Place
from sky.showers import ShowerPeak, hourly_rate

STEP_SECONDS = 300.0


@dataclass(frozen=True, slots=True)
class ShowerNight:
    """The night, from noon to noon, in which a peak falls, at a place.

    `best` the moment in the dark at which the radiant stands highest, to five minutes; None where
    it does not get dark or the radiant stays down. `dark_level` the deepest of the dark levels that
    the night reaches, None where it reaches none. Altitudes apparent, in degrees, at the best.
    `rate` meteors an hour then, with the zenithal rate of the peak and a limiting magnitude of 6.5.
    `is_spoilt` where the Moon is then up and at least half lit.
    """

    peak: ShowerPeak
    night: date
    dark_level: int | None
    best: datetime | None = None
    radiant_altitude_degrees: float | None = None
    radiant_azimuth_degrees: float | None = None
    moon_altitude_degrees: float | None = None
    rate: float | None = None

    @property
    def is_spoilt(self) -> bool:
        moon = self.moon_altitude_degrees
        return moon is not None and moon > 0 and self.peak.has_bright_moon


@lru_cache(maxsize=1024)
def nights_of_peaks(peaks: tuple[ShowerPeak, ...], place: Place) -> tuple[ShowerNight, ...]:
    """Give the night of each peak at a place, in the order of the peaks.

    A peak before noon belongs to the night that is ending, one after noon to the coming night: to
    the dark that is nearest. Errors: `instant_outside`.
    """
    if not peaks:
        return ()
    nights = [night_holding(peak.instant, place.zone) for peak in peaks]
    samples = [steps_of_night(place.zone, night, STEP_SECONDS) for night in nights]
    unix = np.concatenate(samples)
    cuts = np.cumsum([len(each) for each in samples])[:-1]
    sun = np.split(directions_at("sun", place, unix).altitude_geometric_degrees, cuts)
    moon = np.split(directions_at("moon", place, unix).altitude_degrees, cuts)
    return tuple(
        _seen(peak, place, night, _Hours(*arrays))
        for peak, night, *arrays in zip(peaks, nights, samples, sun, moon, strict=True)
    )


@dataclass(frozen=True, slots=True)
class _Hours:
    """A night's instants, and the altitudes of Sun (geometric) and Moon (apparent) at them."""

    unix: Floats
    sun: Floats
    moon: Floats


def _seen(peak: ShowerPeak, place: Place, night: date, hours: _Hours) -> ShowerNight:
    reached = [level for level in DARK_LEVELS if (hours.sun < level).any()]
    radiant = directions_toward(peak.radiant, place, hours.unix)
    altitude = radiant.altitude_degrees
    if not reached or altitude[hours.sun < reached[0]].max() <= 0:
        return ShowerNight(peak, night, reached[0] if reached else None)
    at = int(np.argmax(np.where(hours.sun < reached[0], altitude, -np.inf)))
    return ShowerNight(
        peak,
        night,
        dark_level=reached[0],
        best=datetime.fromtimestamp(float(hours.unix[at]), UTC),
        radiant_altitude_degrees=float(altitude[at]),
        radiant_azimuth_degrees=float(radiant.azimuth_degrees[at]),
        moon_altitude_degrees=float(hours.moon[at]),
        rate=float(hourly_rate(peak.zhr, peak.population_index, altitude[at])),
    )
