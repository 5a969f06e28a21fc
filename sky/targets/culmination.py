"""Where and when a place among the stars is highest: what is asked before any night is computed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from sky.directions import refraction_degrees
from sky.place import Place
from sky.targets.target import FixedPoint

DEGREES_A_DAY = 0.98564736629  # by which midnights advance among the stars (Meeus, eq. 12.4)


@dataclass(frozen=True, slots=True)
class Culmination:
    """`altitude_degrees` apparent, at the highest; below 0 it never rises. `midnight` a night of
    the year, named by its evening, in whose middle it is highest."""

    altitude_degrees: float
    midnight: date

    @property
    def rises(self) -> bool:
        return self.altitude_degrees >= 0


def culmination(point: FixedPoint, place: Place, *, year: int) -> Culmination:
    """Tell how high a place among the stars comes, and on which night it does so at midnight.

    Of its place of J2000: good to 0.2° until 2050, and to a day. Midnight is that of the mean Sun
    at the place: clocks may be an hour or two off, which is two weeks or four in the date.
    """
    geometric = 90.0 - abs(place.latitude - point.dec_degrees)
    air = float(refraction_degrees(np.array([geometric]), place.elevation_m)[0])
    return Culmination(geometric + air, _midnight(point, year))


def _midnight(point: FixedPoint, year: int) -> date:
    """Give the evening before the midnight at which the sidereal time is the right ascension."""
    start = date(year, 1, 1)
    days = (start - date(2000, 1, 1)).days - 0.5  # since J2000.0, at 0 h
    # Greenwich mean sidereal time: Meeus, Astronomical Algorithms, 2nd ed., eq. 12.4.
    sidereal = 280.46061837 + 360.98564736629 * days
    wait = (point.ra_degrees - sidereal) % 360.0 / DEGREES_A_DAY
    return start + timedelta(days=round(wait) - 1)
