"""Two discs on the sky that meet: what eclipses of the Moon and of the Sun share."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from sky.altitude import season_nodes
from sky.constants import AU_KM, DEGREE, WGS84_RADIUS_KM
from sky.directions import directions_at
from sky.ephemeris import tt_from_utc, utc_from_tt
from sky.phases import moon_phases
from sky.place import Place

Floats = NDArray[np.float64]

# The Sun's semidiameter at one astronomical unit, in radians: Auwers 1891, 959.63″; from memory.
SUN_RADIUS_RADIANS = 959.63 / 3600 * DEGREE
# The Moon's radius in equatorial radii of the Earth: k2 and k1 of F. Espenak's Besselian elements
# (NASA). The smaller one, for totality, lets sunlight through the valleys of the limb; the greater
# is the mean limb, where the partial phases begin and end, and the Moon in the Earth's shadow: with
# it the magnitudes of the lunar catalogue come out to 0.0003, with the smaller one only to 0.002.
MOON_RADIUS, MOON_MEAN_RADIUS = 0.272281, 0.272488

# No eclipse reaches further from its new or full Moon; sampled so finely that a cubic is exact.
HALF_WINDOW_SECONDS, STEP_SECONDS = 4 * 3600.0, 120.0
# In radians at new or full Moon; 1.6° is the most of any eclipse: the parallax and both radii.
FARTHEST = 1.8 * DEGREE


@dataclass(frozen=True, slots=True)
class Contact:
    """A moment of an eclipse at a place: where the centre of the eclipsed body stands, apparent."""

    name: str
    instant: datetime
    altitude_degrees: float
    azimuth_degrees: float

    @property
    def is_visible(self) -> bool:
        """Tell whether the centre stands above the level horizon; mountains are not in it."""
        return self.altitude_degrees > 0


@dataclass(frozen=True, slots=True)
class Discs:
    """Sun and Moon around one new or full Moon, from the Earth's centre.

    `tt` (instant,) seconds of TT since J2000; `sun`, `moon` (instant, 3) km, apparent, true equator
    of date.
    """

    tt: Floats
    sun: Floats
    moon: Floats


def discs_around(year: int, phase: str) -> list[Discs]:
    """Give Sun and Moon around each "new" or "full" Moon of a year that may bring an eclipse.

    Of UTC dates.
    """
    first, last = date(year, 1, 1), date(year, 12, 31)
    unix = [one.instant.timestamp() for one in moon_phases(first, last) if one.kind == phase]
    middle = discs_at(year, tt_from_utc(np.array(unix)))
    apart = separations(middle.moon, middle.sun if phase == "new" else -middle.sun)
    around = np.arange(-HALF_WINDOW_SECONDS, HALF_WINDOW_SECONDS + 1, STEP_SECONDS)
    return [discs_at(year, tt + around) for tt in middle.tt[apart < FARTHEST].tolist()]


def discs_at(year: int, tt: Floats) -> Discs:
    """Give Sun and Moon at chosen instants of a year, or days from it."""
    sun, moon = _splines(year)
    return Discs(tt, sun(tt), moon(tt))


@lru_cache(maxsize=8)
def _splines(year: int) -> tuple[CubicSpline, CubicSpline]:
    nodes = season_nodes(date(year, 1, 1), date(year, 12, 31))
    sun, moon = (CubicSpline(nodes.tt, nodes.positions[body]) for body in ("sun", "moon"))
    return sun, moon


def separations(one: Floats, other: Floats) -> Floats:
    """Give the angles in radians between vectors (instant, 3), good near 0° and 180° too."""
    across = np.linalg.norm(np.cross(one, other), axis=1)
    result: Floats = np.arctan2(across, np.sum(one * other, axis=1))
    return result


def sun_radii(distance_km: Floats) -> Floats:
    """Give the Sun's semidiameters in radians."""
    result: Floats = np.arcsin(np.sin(SUN_RADIUS_RADIANS) * AU_KM / distance_km)
    return result


def moon_radii(distance_km: Floats, radius: float = MOON_MEAN_RADIUS) -> Floats:
    """Give the Moon's semidiameters in radians; `radius` in equatorial radii of the Earth."""
    result: Floats = np.arcsin(radius * WGS84_RADIUS_KM / distance_km)
    return result


def nearest_approach(tt: Floats, separation: Floats) -> float:
    """Give when an angle that falls and then grows is least (TT since J2000).

    Its square is smooth even where the angle itself comes down to nothing.
    """
    curve = CubicSpline(tt, separation**2)
    turns = curve.derivative().roots(extrapolate=False)
    ends = tt[[0, -1]]
    candidates = np.concatenate((turns, ends))
    return float(candidates[np.argmin(curve(candidates))])


def touches(tt: Floats, separation: Floats, reach: Floats) -> tuple[float, float] | None:
    """Give when two discs begin and cease to be nearer than `reach`; None where they do not.

    TT since J2000. A pair that is nearer at the start or the end of the samples counts from there.
    """
    curve = CubicSpline(tt, separation**2 - reach**2)
    inside = curve(tt) < 0
    roots = curve.roots(extrapolate=False)
    if len(roots) < 2 and not inside.any():
        return None
    start = tt[0] if inside[0] else roots[0]
    end = tt[-1] if inside[-1] else roots[-1]
    return float(start), float(end)


def instant_of(tt: float) -> datetime:
    return datetime.fromtimestamp(float(utc_from_tt(np.array([tt]))[0]), UTC)


def contacts_at(body: str, place: Place, moments: dict[str, datetime]) -> tuple[Contact, ...]:
    """Give the moments in order of time, and where the body stands at them from a place."""
    named = sorted(moments.items(), key=lambda moment: moment[1])
    unix = np.array([instant.timestamp() for _, instant in named])
    seen = directions_at(body, place, unix)
    where = np.stack((seen.altitude_degrees, seen.azimuth_degrees), axis=1).tolist()
    return tuple(
        Contact(name, instant, altitude, azimuth)
        for (name, instant), (altitude, azimuth) in zip(named, where, strict=True)
    )
