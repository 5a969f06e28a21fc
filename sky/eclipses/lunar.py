"""Eclipses of the Moon: when it passes through the Earth's shadow, and what a place sees of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from typing import Literal

import numpy as np

from sky.clock import check_season
from sky.constants import WGS84_RADIUS_KM
from sky.eclipses.discs import (
    Contact,
    Discs,
    Floats,
    contacts_at,
    discs_around,
    discs_at,
    instant_of,
    moon_radii,
    nearest_approach,
    separations,
    sun_radii,
    touches,
)
from sky.place import Place
from sky.spans import Span

LunarType = Literal["total", "partial", "penumbral"]

# The air makes the shadow of the Earth greater than the Earth's: Danjon's rule adds a hundredth to
# the Moon's parallax. Espenak & Meeus, NASA/TP-2009-214172.
DANJON = 1.01
# A penumbral magnitude below which the least change of a radius undoes the eclipse.
NEGLIGIBLE_MAGNITUDE = 0.01


@dataclass(frozen=True, slots=True)
class LunarEclipse:
    """An eclipse of the Moon, the same for everybody who has the Moon up.

    `greatest` the instant at which the Moon's centre is nearest to the shadow's axis. `contacts`
    name → instant, those that happen: P1 and P4 begin and end in the penumbra, U1 and U4 in the
    umbra, U2 and U3 totality. `gamma` the least distance from the axis in equatorial radii of the
    Earth, positive where the Moon passes north of it. Magnitudes: the share of the Moon's diameter
    inside the shadow at the greatest, negative where the shadow is missed.
    """

    type: LunarType
    greatest: datetime
    contacts: Mapping[str, datetime]
    gamma: float
    umbral_magnitude: float
    penumbral_magnitude: float

    @property
    def is_negligible(self) -> bool:
        """Tell whether it is an eclipse on paper only: nobody could see it."""
        return self.penumbral_magnitude < NEGLIGIBLE_MAGNITUDE

    @property
    def span(self) -> Span:
        """Give what is worth watching: the umbral phase, else the penumbral."""
        begin, end = ("P1", "P4") if self.type == "penumbral" else ("U1", "U4")
        return Span(self.contacts[begin], self.contacts[end])


def lunar_eclipses(first: date, last: date) -> tuple[LunarEclipse, ...]:
    """Give the eclipses whose greatest falls on a UTC date from `first` to `last`, in order.

    Shadows after Danjon, as in Espenak & Meeus, Five Millennium Catalog of Lunar Eclipses,
    NASA/TP-2009-214173. Errors: `season_reversed`, `season_outside`.
    """
    check_season(first, last)
    years = range(first.year, last.year + 1)
    found = (eclipse for year in years for eclipse in _of_year(year))
    return tuple(eclipse for eclipse in found if first <= eclipse.greatest.date() <= last)


def seen_from(eclipse: LunarEclipse, place: Place) -> tuple[Contact, ...]:
    """Give the contacts and the greatest in order, and where the Moon then stands at a place."""
    return contacts_at("moon", place, {**eclipse.contacts, "greatest": eclipse.greatest})


@dataclass(frozen=True, slots=True)
class _Shadow:
    """Angles in radians from the Earth's centre, at the Moon's distance; arrays (instant,)."""

    separation: Floats
    umbra: Floats
    penumbra: Floats
    moon: Floats

    def magnitudes(self, shadow: Floats) -> Floats:
        result: Floats = (shadow + self.moon - self.separation) / (2 * self.moon)
        return result


@lru_cache(maxsize=128)
def _of_year(year: int) -> tuple[LunarEclipse, ...]:
    found = (_eclipse(year, discs) for discs in discs_around(year, "full"))
    return tuple(eclipse for eclipse in found if eclipse)


def _eclipse(year: int, discs: Discs) -> LunarEclipse | None:
    shadow = _shadow(discs)
    reaches = {
        ("P1", "P4"): shadow.penumbra + shadow.moon,
        ("U1", "U4"): shadow.umbra + shadow.moon,
        ("U2", "U3"): shadow.umbra - shadow.moon,
    }
    contacts: dict[str, datetime] = {}
    for names, reach in reaches.items():
        if times := touches(discs.tt, shadow.separation, reach):
            contacts |= {name: instant_of(tt) for name, tt in zip(names, times, strict=True)}
    if not contacts:
        return None
    return _told(
        discs_at(year, np.array([nearest_approach(discs.tt, shadow.separation)])), contacts
    )


def _told(greatest: Discs, contacts: dict[str, datetime]) -> LunarEclipse:
    shadow = _shadow(greatest)
    sun, moon = greatest.sun[0], greatest.moon[0]
    # Nearly at right angles to the Moon's way, which is nowhere steep: its sign is that of gamma.
    to_north = np.sign(moon[2] / np.linalg.norm(moon) + sun[2] / np.linalg.norm(sun))
    return LunarEclipse(
        type="total" if "U2" in contacts else "partial" if "U1" in contacts else "penumbral",
        greatest=instant_of(float(greatest.tt[0])),
        contacts=dict(sorted(contacts.items(), key=lambda contact: contact[1])),
        gamma=float(to_north * np.sin(shadow.separation[0]) * np.linalg.norm(moon))
        / WGS84_RADIUS_KM,
        umbral_magnitude=float(shadow.magnitudes(shadow.umbra)[0]),
        penumbral_magnitude=float(shadow.magnitudes(shadow.penumbra)[0]),
    )


def _shadow(discs: Discs) -> _Shadow:
    sun, moon = np.linalg.norm(discs.sun, axis=1), np.linalg.norm(discs.moon, axis=1)
    sun_parallax, moon_parallax = (
        np.arcsin(WGS84_RADIUS_KM / distance) for distance in (sun, moon)
    )
    middle, half = DANJON * moon_parallax + sun_parallax, sun_radii(sun)
    return _Shadow(
        separation=separations(discs.moon, -discs.sun),
        umbra=middle - half,
        penumbra=middle + half,
        moon=moon_radii(moon),
    )
