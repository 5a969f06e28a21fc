"""The whole sky as a picture: zenith in the middle, north up and east left, as one lies and looks.

Equidistant: a unit is a tenth of a degree of altitude everywhere. What reaches below the horizon is
cut off by the picture, what stands behind the land is covered by it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.dome import MilkyWay, Standing, WholeSky
from trips.charts.dome_names import placed_names
from trips.charts.dome_paper import DomePaper
from trips.charts.moon import lit_path
from trips.charts.name_places import RING, NameAt
from trips.charts.star_dots import Dots

Floats = NDArray[np.float64]

PAPER = DomePaper(900)
MOON_RADIUS = 34.0

# The glow of twilight, as far from the Sun as this above the horizon when the Sun is just down.
GLOW_DEGREES, GLOW_SUN_DEGREES = 26.0, -18.0


@dataclass(frozen=True, slots=True)
class MoonDisc:
    x: int
    y: int
    radius: str
    lit: str
    turned: int  # degrees, clockwise from the right


@dataclass(frozen=True, slots=True)
class Dome:
    """A sky ready for its template: numbers are written out, never localised."""

    clock: str
    rim: str
    is_twilight: bool
    glow: str
    faint: str
    bright: str
    dots: tuple[Dots, ...]
    planets: str
    moon: MoonDisc | None
    sun: str
    arch: str
    paths: str
    rings: tuple[tuple[int, int, int], ...]  # x, y, radius
    land: str
    skyline: str
    leaders: str
    names: tuple[NameAt, ...]
    title: str
    description: str


def dome(sky: WholeSky, *, clock: str, rim: str, title: str, description: str) -> Dome:
    """Draw a sky; `clock` stands beside it, `rim`, which says what its edge is, below it."""
    names = tuple(_names(sky))
    outline = "" if sky.skyline.is_level else PAPER.outline(sky.skyline)
    stands = [each for one in sky.wanted if not one.is_arch for each in one.standings]
    return Dome(
        clock=clock,
        rim=rim,
        glow=_glow(sky.sun),
        is_twilight=not sky.has_band,
        faint=PAPER.between(*sky.milky_way.faint) if sky.has_band else "",
        bright=_bright(sky.milky_way) if sky.has_band and not sky.is_moonlit else "",
        dots=tuple(PAPER.dots(sky.stars, sky.faintest)),
        planets=PAPER.points(each.standing for each in sky.planets if each.standing.is_up),
        moon=_moon(sky) if sky.moon.is_up else None,
        sun=PAPER.points([sky.sun]) if sky.sun.is_up else "",
        arch=PAPER.lines(sky.milky_way.equator) if any(one.is_arch for one in sky.wanted) else "",
        paths="".join(PAPER.lines(one.path) for one in sky.wanted),
        rings=tuple((*PAPER.place(each), _ring(each, sky)) for each in stands if each.is_up),
        land=PAPER.land(outline) if outline else "",
        skyline=outline,
        leaders="".join(name.leader for name in names),
        names=names,
        title=title,
        description=description,
    )


def _names(sky: WholeSky) -> Iterator[NameAt]:
    band = PAPER.projected(sky.milky_way.equator)
    lines = [PAPER.projected(one.path) for one in sky.wanted if not one.is_arch]
    lines += [band for one in sky.wanted if one.is_arch]
    nothing = np.empty((0, 2), dtype=np.int64)
    return placed_names(sky, PAPER.place, lines=np.concatenate([nothing, *lines]), band=band)


def _ring(standing: Standing, sky: WholeSky) -> int:
    """Give the radius of a ring: around the Moon a wider one."""
    return RING + (20 if standing == sky.moon else 0)


def _bright(band: MilkyWay) -> str:
    """Give the brighter tone, from which an even-odd filling takes the lane."""
    return PAPER.between(*band.bright) + PAPER.between(*band.lane)


def _moon(sky: WholeSky) -> MoonDisc:
    x, y = PAPER.place(sky.moon)
    lit = lit_path(round(sky.moon_lit * 100), lit_right=True, radius=MOON_RADIUS)
    return MoonDisc(x, y, f"{MOON_RADIUS:g}", lit, _toward(sky.moon, sky.sun))


def _toward(here: Standing, there: Standing) -> int:
    """Give the direction in the picture from one place in the sky to another, the short way."""
    start, end = _vector(here), _vector(there)
    along = end - (end @ start) * start
    near = start + 0.01 * along / max(float(np.linalg.norm(along)), 1e-9)
    altitude = np.degrees(np.arctan2(near[2], np.hypot(near[0], near[1])))
    azimuth = np.degrees(np.arctan2(near[0], near[1]))
    x, y = PAPER.exact(here)
    beside_x, beside_y = PAPER.exact(Standing(float(altitude), float(azimuth)))
    return round(math.degrees(math.atan2(beside_y - y, beside_x - x)))


def _vector(standing: Standing) -> Floats:
    """Give the unit vector to the east, the north and up."""
    altitude, azimuth = np.radians((standing.altitude_degrees, standing.azimuth_degrees))
    level = np.cos(altitude)
    return np.array((level * np.sin(azimuth), level * np.cos(azimuth), np.sin(altitude)))


def _glow(sun: Standing) -> str:
    """Give what is nearer to the Sun than twilight reaches: a small circle on the sky."""
    share = 1 - sun.altitude_degrees / GLOW_SUN_DEGREES
    if not 0 < share <= 1:
        return ""
    radius = np.radians(GLOW_DEGREES * share - sun.altitude_degrees)
    to_sun = _vector(sun)
    across = np.array((to_sun[1], -to_sun[0], 0.0)) / np.hypot(to_sun[0], to_sun[1])
    up = np.cross(across, to_sun)
    angles = np.radians(np.arange(0, 360, 7.5))[:, None]
    ring = np.cos(radius) * to_sun + np.sin(radius) * (
        np.cos(angles) * across + np.sin(angles) * up
    )
    altitudes = np.degrees(np.arcsin(np.clip(ring[:, 2], -1, 1)))
    azimuths = np.degrees(np.arctan2(ring[:, 0], ring[:, 1]))
    return f"M{PAPER.written(np.stack((altitudes, azimuths), axis=-1))}z"
