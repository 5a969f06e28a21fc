"""Setting up a tracker: where the celestial pole is, and where its star stands beside it.

Polaris is HIP 11767, σ Octantis HIP 104382.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sky.apparent import directions_toward, unit_vectors
from sky.constants import DEGREE
from sky.directions import Directions, refraction_degrees
from sky.ephemeris import tt_from_utc
from sky.place import Place
from sky.spans import as_utc
from sky.targets.target import FixedPoint

Floats = NDArray[np.float64]
Reach = Literal["usual", "low", "none"]

# Lower, the pole is lost in haze and behind trees: common practice, no published source.
LOW_DEGREES = 10.0
# Lower, hills and refraction leave nothing to aim at: common practice, no published source.
LEAST_DEGREES = 1.0

MAS = DEGREE / 3_600_000
SECONDS_OF_A_YEAR = 365.25 * 86_400.0
# 1991.25 TT in seconds of TT since J2000: the epoch of the catalogue.
EPOCH_TT = (1991.25 - 2000.0) * SECONDS_OF_A_YEAR


@dataclass(frozen=True, slots=True)
class CatalogueStar:
    """A star as its catalogue has it: ICRS degrees at 1991.25, motion in mas a year.

    `east_mas` along right ascension, on the sky; `north_mas` along declination.
    """

    name: str
    ra_degrees: float
    dec_degrees: float
    east_mas: float
    north_mas: float


# van Leeuwen 2007, Hipparcos, the New Reduction (VizieR I/311), which gives radians.
POLARIS = CatalogueStar(
    "Polaris", 0.6622851337 / DEGREE, 1.5579531082 / DEGREE, east_mas=44.48, north_mas=-11.85
)
SIGMA_OCTANTIS = CatalogueStar(
    "σ Octantis", 5.5360399969 / DEGREE, -1.5525840108 / DEGREE, east_mas=25.75, north_mas=4.98
)


@dataclass(frozen=True, slots=True)
class PoleSetUp:
    """Where to aim a tracker's axis at an instant, and where the pole star stands from there.

    `pole_altitude_degrees` apparent, what an inclinometer on the axis must read for the pole that
    is seen; `pole_altitude_geometric_degrees` the latitude's. `pole_azimuth_degrees` 0 in the
    north, 180 in the south. `reach`: `low` under 10°, `none` within a degree of the horizon.

    Of the star: `separation_arcminutes` from the pole; `hour_angle_degrees` 0 to 360, westward
    from the meridian above the pole; `face_hours` 0 to 12, where it stands from the pole on a
    clock's face as the eye sees it, upright, 12 straight above. A finder that turns the picture
    over is not thought of.
    """

    instant: datetime
    is_north: bool
    reach: Reach
    pole_altitude_degrees: float
    pole_altitude_geometric_degrees: float
    pole_azimuth_degrees: float
    star: str
    separation_arcminutes: float
    hour_angle_degrees: float
    face_hours: float


def pole_set_up(place: Place, instants: Sequence[datetime]) -> list[PoleSetUp]:
    """Give the set-up at each instant, for the pole above the horizon; the equator looks north.

    Apparent places of date: within 0.02′. Errors: `naive_datetime`, `instant_outside`.
    """
    if not instants:
        return []
    is_north = place.latitude >= 0
    star = POLARIS if is_north else SIGMA_OCTANTIS
    unix = np.array([as_utc(one).timestamp() for one in instants])
    moved = position_of_date(star, float(tt_from_utc(unix).mean()))
    separation, hour_angle = _from_the_pole(directions_toward(moved, place, unix), place.latitude)
    height = abs(place.latitude)
    lifted = height + float(refraction_degrees(np.array([height]), place.elevation_m)[0])
    return [
        PoleSetUp(
            instant=as_utc(instant),
            is_north=is_north,
            reach=_reach(height),
            pole_altitude_degrees=lifted,
            pole_altitude_geometric_degrees=height,
            pole_azimuth_degrees=0.0 if is_north else 180.0,
            star=star.name,
            separation_arcminutes=float(apart) * 60,
            hour_angle_degrees=float(angle),
            face_hours=_face_hours(float(angle), is_north=is_north),
        )
        for instant, apart, angle in zip(instants, separation, hour_angle, strict=True)
    ]


def position_of_date(star: CatalogueStar, tt: float) -> FixedPoint:
    """Give a star's ICRS position, moved straight on to an instant (TT since J2000)."""
    start = unit_vectors([FixedPoint(star.ra_degrees, star.dec_degrees)])[0]
    ra, dec = star.ra_degrees * DEGREE, star.dec_degrees * DEGREE
    east = np.array((-np.sin(ra), np.cos(ra), 0.0))
    north = np.array((-np.sin(dec) * np.cos(ra), -np.sin(dec) * np.sin(ra), np.cos(dec)))
    years = (tt - EPOCH_TT) / SECONDS_OF_A_YEAR
    x, y, z = start + (east * star.east_mas + north * star.north_mas) * MAS * years
    ascension, declination = np.arctan2(y, x), np.arctan2(z, np.hypot(x, y))
    return FixedPoint(float(ascension / DEGREE % 360), float(declination / DEGREE))


def _from_the_pole(found: Directions, latitude: float) -> tuple[Floats, Floats]:
    """Give the distance from the pole that is up, and the hour angle around it, in degrees."""
    height, azimuth = found.altitude_geometric_degrees * DEGREE, found.azimuth_degrees * DEGREE
    toward_north = np.cos(height) * np.cos(azimuth)
    east = np.cos(height) * np.sin(azimuth)
    toward_pole = toward_north if latitude >= 0 else -toward_north
    cos, sin = np.cos(abs(latitude) * DEGREE), np.sin(abs(latitude) * DEGREE)
    along = toward_pole * cos + np.sin(height) * sin
    above = np.sin(height) * cos - toward_pole * sin
    separation = np.arctan2(np.hypot(above, east), along) / DEGREE
    return separation, np.arctan2(-east, above) / DEGREE % 360


def _face_hours(hour_angle_degrees: float, *, is_north: bool) -> float:
    """Facing north the sky turns against the clock around its pole, facing south with it."""
    clockwise = -hour_angle_degrees if is_north else hour_angle_degrees
    return clockwise / 30 % 12


def _reach(height: float) -> Reach:
    if height < LEAST_DEGREES:
        return "none"
    return "low" if height < LOW_DEGREES else "usual"
