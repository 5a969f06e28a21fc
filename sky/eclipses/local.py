"""An eclipse of the Sun as a place sees it: contacts, how much is covered, the Sun's altitude."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sky.altitude import observers, season_nodes
from sky.constants import SUN_RISE_SET_DEGREES
from sky.directions import directions_at
from sky.eclipses.discs import (
    HALF_WINDOW_SECONDS,
    MOON_RADIUS,
    Contact,
    Floats,
    contacts_at,
    instant_of,
    moon_radii,
    nearest_approach,
    separations,
    sun_radii,
    touches,
)
from sky.eclipses.solar import SolarEclipse
from sky.ephemeris import earth_fixed, tt_from_utc, utc_from_tt
from sky.place import Place

LocalType = Literal["total", "annular", "partial"]

# Fine enough for the moment at which a Sun that rises or sets eclipsed is covered most.
STEP_SECONDS = 30.0


@dataclass(frozen=True, slots=True)
class LocalEclipse:
    """What a place sees of an eclipse of the Sun.

    `contacts` in order, each with where the Sun stands: "C1" and "C4" the first and the last touch,
    "C2" and "C3" the ends of totality or annularity where there is one, "greatest" the
    nearest approach of the centres, whether or not the Sun is up then. `best` the moment of the
    most that is seen: the greatest, or where the Sun is down then its rise or set, to half a
    minute.
    `magnitude` the share of the Sun's diameter that is covered at the best (above 1 possible in
    totality), `obscuration` the share of its area, 0 to 1. `type` what is seen, not what would be.
    """

    type: LocalType
    contacts: tuple[Contact, ...]
    best: Contact
    magnitude: float
    obscuration: float


@lru_cache(maxsize=4096)
def local_circumstances(eclipse: SolarEclipse, place: Place) -> LocalEclipse | None:
    """Give what a place sees; None where the Moon misses the Sun or the Sun is down throughout.

    Down means that its centre is below −0.8333° geometric, as at sunset. The Moon's limb is taken
    as a circle: valleys and mountains move contacts by a few seconds.
    """
    seen = _seen(eclipse, place, _window(eclipse))
    partial = touches(seen.tt, seen.separation, seen.sun + seen.moon)
    if partial is None:
        return None
    up = seen.altitude > SUN_RISE_SET_DEGREES
    during = (seen.tt >= partial[0]) & (seen.tt <= partial[1])
    if not (up & during).any():
        return None
    greatest = nearest_approach(seen.tt, seen.separation)
    inner = touches(seen.tt, seen.separation, np.abs(seen.sun - seen.inner_moon))
    moments = {"C1": partial[0], "greatest": greatest, "C4": partial[1]}
    moments |= dict(zip(("C2", "C3"), inner, strict=True)) if inner else {}
    return _told(eclipse, place, moments, _best(seen, up & during, greatest))


@dataclass(frozen=True, slots=True)
class _Seen:
    """Sun and Moon from a place: angles in radians, arrays (instant,); `altitude` geometric, °."""

    tt: Floats
    separation: Floats
    sun: Floats
    moon: Floats
    inner_moon: Floats
    altitude: Floats


def _window(eclipse: SolarEclipse) -> Floats:
    around = np.arange(-HALF_WINDOW_SECONDS, HALF_WINDOW_SECONDS + 1, STEP_SECONDS)
    return eclipse.greatest.timestamp() + around


def _seen(eclipse: SolarEclipse, place: Place, unix: Floats) -> _Seen:
    day = eclipse.greatest.date()
    nodes, tt = season_nodes(day, day), tt_from_utc(unix)
    here = observers((place,)).position[0]
    sun, moon = (
        (toward * distance).T - here
        for toward, distance in (earth_fixed(nodes, body, tt) for body in ("sun", "moon"))
    )
    away = np.linalg.norm(moon, axis=1)
    return _Seen(
        tt=tt,
        separation=separations(sun, moon),
        sun=sun_radii(np.linalg.norm(sun, axis=1)),
        moon=moon_radii(away),
        inner_moon=moon_radii(away, MOON_RADIUS),
        altitude=directions_at("sun", place, unix).altitude_geometric_degrees,
    )


def _best(seen: _Seen, visible: NDArray[np.bool_], greatest: float) -> float:
    """Give the moment of the most that is seen, in TT since J2000."""
    nearest = int(np.argmin(np.where(visible, seen.separation, np.inf)))
    best = float(seen.tt[nearest])
    return greatest if abs(best - greatest) <= STEP_SECONDS else best


def _told(
    eclipse: SolarEclipse, place: Place, moments: dict[str, float], best: float
) -> LocalEclipse:
    seen = _seen(eclipse, place, utc_from_tt(np.array([best])))
    separation, sun, moon = (float(each[0]) for each in (seen.separation, seen.sun, seen.moon))
    instants = {name: instant_of(tt) for name, tt in moments.items()}
    is_inside = "C2" in moments and moments["C2"] <= best <= moments["C3"]
    (at_best,) = contacts_at("sun", place, {"best": instant_of(best)})
    return LocalEclipse(
        type=("total" if moon > sun else "annular") if is_inside else "partial",
        contacts=contacts_at("sun", place, instants),
        best=at_best,
        magnitude=(sun + moon - separation) / (2 * sun),
        obscuration=covered(separation, sun, moon),
    )


def covered(separation: float, sun: float, moon: float) -> float:
    """Give the share of the Sun's disc, 0 to 1, that a disc of radius `moon` covers.

    Angles in one unit. The lens of two circles: two sectors less two triangles.
    """
    if separation >= sun + moon:
        return 0.0
    if separation <= abs(sun - moon):
        return min(1.0, (moon / sun) ** 2)
    at_sun = np.arccos((separation**2 + sun**2 - moon**2) / (2 * separation * sun))
    at_moon = np.arccos((separation**2 + moon**2 - sun**2) / (2 * separation * moon))
    lens = sun**2 * (at_sun - np.sin(2 * at_sun) / 2) + moon**2 * (
        at_moon - np.sin(2 * at_moon) / 2
    )
    return float(lens / (np.pi * sun**2))
