"""The whole sky as a picture: zenith in the middle, north up and east left, as one lies and looks.

Equidistant: a unit is a tenth of a degree of altitude everywhere. What reaches below the horizon is
cut off by the picture, what stands behind the land is covered by it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.dome import MilkyWay, Standing, StarField, WholeSky
from sky.skyline import Skyline
from trips.charts.band_patches import patches
from trips.charts.dome_names import placed_names
from trips.charts.moon import lit_path
from trips.charts.name_places import RING, NameAt
from trips.charts.star_dots import Dots, star_dots

Floats = NDArray[np.float64]

HORIZON = 900  # units from the zenith to the horizon
MOON_RADIUS = 34.0
# Below, a path or the band may be cut: far enough that the cut is never seen.
LOWEST_DEGREES = -4.0
LAND_STEP_DEGREES = 3.0

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
    stands = [each for one in sky.wanted if not one.is_arch for each in one.standings]
    return Dome(
        clock=clock,
        rim=rim,
        glow=_glow(sky.sun),
        is_twilight=not sky.has_band,
        faint=_between(*sky.milky_way.faint) if sky.has_band else "",
        bright=_bright(sky.milky_way) if sky.has_band and not sky.is_moonlit else "",
        dots=tuple(_dots(sky.stars, sky.faintest)),
        planets=_points(each.standing for each in sky.planets if each.standing.is_up),
        moon=_moon(sky) if sky.moon.is_up else None,
        sun=_points([sky.sun]) if sky.sun.is_up else "",
        arch=_lines(sky.milky_way.equator) if any(one.is_arch for one in sky.wanted) else "",
        paths="".join(_lines(one.path) for one in sky.wanted),
        rings=tuple((*_place(each), _ring(each, sky)) for each in stands if each.is_up),
        land="" if sky.skyline.is_level else _land(sky.skyline),
        skyline="" if sky.skyline.is_level else f"M{_outline(sky.skyline)}z",
        leaders="".join(name.leader for name in names),
        names=names,
        title=title,
        description=description,
    )


def projected(line: Floats) -> NDArray[np.int64]:
    """Give whole units to the west and the south of altitudes and azimuths: both (point, 2)."""
    away, turn = 10.0 * (90.0 - line[:, 0]), np.radians(line[:, 1])
    places = np.stack((-away * np.sin(turn), -away * np.cos(turn)), axis=-1)
    result: NDArray[np.int64] = np.rint(places).astype(np.int64)
    return result


def _place(standing: Standing) -> tuple[int, int]:
    """Give the place of one: as `projected`, which is for many."""
    x, y = _exact_place(standing)
    return round(x), round(y)


def _exact_place(standing: Standing) -> tuple[float, float]:
    away = 10.0 * (90.0 - standing.altitude_degrees)
    turn = math.radians(standing.azimuth_degrees)
    return -away * math.sin(turn), -away * math.cos(turn)


def _names(sky: WholeSky) -> Iterator[NameAt]:
    band = projected(sky.milky_way.equator)
    lines = [projected(one.path) for one in sky.wanted if not one.is_arch]
    lines += [band for one in sky.wanted if one.is_arch]
    nothing = np.empty((0, 2), dtype=np.int64)
    return placed_names(sky, _place, lines=np.concatenate([nothing, *lines]), band=band)


def _ring(standing: Standing, sky: WholeSky) -> int:
    """Give the radius of a ring: around the Moon a wider one."""
    return RING + (20 if standing == sky.moon else 0)


def _points(standings: Iterable[Standing]) -> str:
    return "".join(f"M{x} {y}h0" for x, y in map(_place, standings))


def _dots(stars: StarField, faintest: float) -> Iterator[Dots]:
    count = int(np.searchsorted(stars.magnitudes, faintest, side="right"))
    places = projected(np.stack((stars.altitudes, stars.azimuths), axis=-1)[:count])
    return star_dots(places, stars.magnitudes[:count])


def _bright(band: MilkyWay) -> str:
    """Give the brighter tone, from which an even-odd filling takes the lane."""
    return _between(*band.bright) + _between(*band.lane)


def _between(south: Floats, north: Floats) -> str:
    """Give what lies between two closed lines, where either is above the horizon, for an even-odd
    filling."""
    high = np.maximum(south[:, 0], north[:, 0])
    return patches(south, north, high > LOWEST_DEGREES, _written)


def _lines(path: Floats) -> str:
    """Draw the pieces of a path (point, 2) that are above the horizon."""
    if not len(path):
        return ""
    up = path[:, 0] > LOWEST_DEGREES
    cuts = np.flatnonzero(np.diff(up.astype(np.int8))) + 1
    pieces = zip(np.split(path, cuts), np.split(up, cuts), strict=True)
    return "".join(f"M{_written(piece)}" for piece, is_shown in pieces if is_shown[0])


def _written(points: Floats) -> str:
    return "L".join(f"{x} {y}" for x, y in projected(points).tolist())


def _land(skyline: Skyline) -> str:
    """Give the ring between the horizon and the skyline, for an even-odd filling."""
    half = f"A{HORIZON} {HORIZON} 0 1 0"
    return f"M{HORIZON} 0{half}{-HORIZON} 0{half} {HORIZON} 0zM{_outline(skyline)}z"


def _outline(skyline: Skyline) -> str:
    around = np.arange(0.0, 360.0, LAND_STEP_DEGREES)
    azimuths = np.unique(np.concatenate((around, skyline.azimuths[1:-1])))
    # Where the land falls away below the level there is none to draw.
    altitudes = np.maximum(skyline.at(azimuths), 0.0)
    return _written(np.stack((altitudes, azimuths), axis=-1))


def _moon(sky: WholeSky) -> MoonDisc:
    x, y = _place(sky.moon)
    lit = lit_path(round(sky.moon_lit * 100), lit_right=True, radius=MOON_RADIUS)
    return MoonDisc(x, y, f"{MOON_RADIUS:g}", lit, _toward(sky.moon, sky.sun))


def _toward(here: Standing, there: Standing) -> int:
    """Give the direction in the picture from one place in the sky to another, the short way."""
    start, end = _vector(here), _vector(there)
    along = end - (end @ start) * start
    near = start + 0.01 * along / max(float(np.linalg.norm(along)), 1e-9)
    altitude = np.degrees(np.arctan2(near[2], np.hypot(near[0], near[1])))
    azimuth = np.degrees(np.arctan2(near[0], near[1]))
    x, y = _exact_place(here)
    beside_x, beside_y = _exact_place(Standing(float(altitude), float(azimuth)))
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
    return f"M{_written(np.stack((altitudes, azimuths), axis=-1))}z"
