"""The stars that have a name: trails over a landmark, or a light behind a summit.

Names and places are those of `sky.stars`: ICRS at J2000.0, without proper motion since then, which
by 2050 takes Arcturus and Rigil Kentaurus, the fastest of the bright ones, 2′ and 3′ further.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from sky.errors import SkyError
from sky.stars import bright_stars
from sky.targets.matching import nearest, plain
from sky.targets.target import FixedPoint, Kind, Light, Listing, Target

# Stars outshine any Moon, and their trails are made with one too: common practice, no published
# source. Their least altitude has no rule (definitions give none for stars), so there is none: a
# star is wanted just over the land as well as high up.
LIGHT: Light = "dark"
# Offered unasked: stars of the first magnitude, and the one that trails turn around.
FAINTEST_OFFERED, POLE_STAR = 1.5, "Polaris"
MOST_FOUND = 12
# What else people call them: the names that the IAU's working group chose since, and a few of
# everyday; from memory.
ALSO = {
    "Polaris": ("Pole Star", "North Star"),
    "Sirius": ("Dog Star",),
    "Rigil Kentaurus": ("Alpha Centauri",),
    "Etamin": ("Eltanin",),
    "Gruid": ("Tiaki",),
    "Koo She": ("Alsephina",),
    "Wei": ("Larawag",),
    "Sadira": ("Ran",),
    "South Star": ("Polaris Australis", "Sigma Octantis"),
}


@dataclass(frozen=True, slots=True)
class NamedStar:
    name: str
    point: FixedPoint
    magnitude: float

    @property
    def names(self) -> tuple[str, ...]:
        return (self.name, *ALSO.get(self.name, ()))


def target(rest: str) -> Target:
    """Give a star by one of its names, however it is spelt; errors: `target_unknown`."""
    one = _by_name().get(plain(rest))
    if one is None:
        every = (name for star in named_stars().values() for name in star.names)
        raise SkyError("target_unknown", name=rest, nearest=nearest(rest, every))
    return Target(key_of(one), one.name, (one.point,), LIGHT, None)


def key_of(star: NamedStar) -> str:
    return f"star:{plain(star.name)}"


@cache
def named_stars() -> dict[str, NamedStar]:
    """Give the stars with a name, by it, the brightest first."""
    stars = bright_stars()
    # The table has four decimals.
    ra = np.round(np.degrees(np.arctan2(stars.vectors[:, 1], stars.vectors[:, 0])) % 360, 4)
    dec = np.round(np.degrees(np.arcsin(stars.vectors[:, 2])), 4)
    rows = zip(stars.names, ra.tolist(), dec.tolist(), stars.magnitudes.tolist(), strict=True)
    return {
        name: NamedStar(name, FixedPoint(ra, dec), magnitude)
        for name, ra, dec, magnitude in rows
        if name
    }


@cache
def _by_name() -> dict[str, NamedStar]:
    return {plain(name): star for star in named_stars().values() for name in star.names}


def search(text: str) -> list[Listing]:
    """Give the star of that very name, then those whose name begins so, then holds it."""
    wanted = plain(text)
    if not wanted:
        return []
    found = {
        star.name: min(places)
        for star in named_stars().values()
        if (places := [_order(wanted, plain(name)) for name in star.names if wanted in plain(name)])
    }
    best = sorted(found, key=lambda name: found[name])[:MOST_FOUND]
    return [listing(named_stars()[name]) for name in best]


def _order(wanted: str, name: str) -> tuple[bool, bool]:
    return wanted != name, not name.startswith(wanted)


def offered() -> list[Listing]:
    return [
        listing(star)
        for star in named_stars().values()
        if star.magnitude <= FAINTEST_OFFERED or star.name == POLE_STAR
    ]


def listing(star: NamedStar) -> Listing:
    about = f"star, V {star.magnitude:.1f}".replace("-", "−")
    return Listing(key_of(star), star.name, about, other_names=star.names[1:])


KIND = Kind("star", target, search, offered)
