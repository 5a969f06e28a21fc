"""The whole sky over a site, or over one of its spots, at an instant of a stored night."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from sky.band import edge_vectors
from sky.directions import Directions
from sky.dome import MilkyWay, NamedStanding, Standing, StarField, WantedStanding, WholeSky
from sky.errors import SkyError
from sky.moving import all_standings, standings_at
from sky.place import Place
from sky.skyline import LEVEL
from sky.spans import Span, intersect
from sky.stars import bright_stars, directions_at_once
from sky.targets.kinds import target_of
from sky.targets.milky_way import CORE
from sky.targets.planets import NAMES as PLANETS
from sky.targets.target import Arch, Body, Point, Target
from trips.almanac.places import place_of
from trips.almanac.spots import place_of_spot, skyline_of_spot
from trips.models import Night, Site, Spot, TargetEntry

Floats = NDArray[np.float64]

PATH_SECONDS = 600.0
NO_PATH = np.empty((0, 2))
SUN, MOON = Body("sun"), Body("moon")
BODIES = tuple(Body(name) for name in PLANETS)
# The top of the band, wherever it stands.
BAND = Arch(0.0, 90.0)
ALWAYS: tuple[Point, ...] = (SUN, MOON, *BODIES, CORE, BAND)
ONE_DAY = timedelta(days=1)


def whole_sky(
    row: Night, site: Site, spot: Spot | None, instant: datetime,
    wanted: Sequence[Target] = (), *, stars: StarField | None = None,
) -> WholeSky:  # fmt: skip
    """Give what is in the sky at an instant, without a spot over a level horizon.

    `wanted` targets that do not happen in this night are left out; `stars` where others are meant
    than all that are up. Errors: those of Place and of the skyline, and `instant_outside`.
    """
    place = place_of_spot(spot) if spot else place_of(site)
    shown = [target for target in wanted if _happens(target, row)]
    points = list(dict.fromkeys([*ALWAYS, *(point for one in shown for point in one.points)]))
    stands = dict(zip(points, _standings(points, place, instant), strict=True))
    paths = _paths(shown, row, place)
    return WholeSky(
        instant=instant,
        sun=stands[SUN],
        moon=stands[MOON],
        moon_lit=row.moon_illuminated,
        moon_waxing=row.moon_waxing,
        planets=tuple(NamedStanding(PLANETS[body.name], stands[body]) for body in BODIES),
        stars=_stars(place, instant) if stars is None else stars,
        milky_way=_milky_way(place, instant, top=stands[BAND], core=stands[CORE]),
        wanted=tuple(
            WantedStanding(
                name=target.name,
                standings=tuple(stands[point] for point in target.points),
                path=paths.get(target.points[0], NO_PATH),
                is_arch=isinstance(target.points[0], Arch),
            )
            for target in shown
        ),
        skyline=skyline_of_spot(spot) if spot else LEVEL,
    )


def targets_of(entries: Iterable[TargetEntry]) -> list[Target]:
    """Give the targets of a list under the names that the list has for them.

    An entry that no kind knows any more is left out: the list itself says so.
    """
    found = []
    for entry in entries:
        with suppress(SkyError):
            found.append(replace(target_of(entry.target), name=entry.name))
    return found


def _standings(points: Sequence[Point], place: Place, instant: datetime) -> list[Standing]:
    unix = np.full(len(points), instant.timestamp())
    found = standings_at(points, place, np.arange(len(points)), unix)
    return [Standing(*pair) for pair in _pairs(found).tolist()]


def _stars(place: Place, instant: datetime) -> StarField:
    stars = bright_stars()
    found = directions_at_once(stars.vectors, place, instant)
    up = np.flatnonzero(found.altitude_degrees > 0)
    return StarField(
        altitudes=found.altitude_degrees[up],
        azimuths=found.azimuth_degrees[up],
        magnitudes=stars.magnitudes[up],
        names=tuple(stars.names[star] for star in up),
    )


def _milky_way(place: Place, instant: datetime, *, top: Standing, core: Standing) -> MilkyWay:
    vectors = edge_vectors()
    found = directions_at_once(vectors.reshape(-1, 3), place, instant)
    edges = _pairs(found).reshape(*vectors.shape[:2], 2)
    return MilkyWay(
        faint=(edges[0], edges[1]),
        bright=(edges[2], edges[3]),
        lane=(edges[4], edges[5]),
        equator=edges[6],
        top=top,
        feet_azimuths=((top.azimuth_degrees - 90) % 360, (top.azimuth_degrees + 90) % 360),
        core=core,
    )


def _happens(target: Target, row: Night) -> bool:
    if target.active is None:
        return True
    around = target.active(row.date - ONE_DAY, row.date + ONE_DAY)
    return bool(intersect(around, (Span(row.start, row.end),)))


def _paths(shown: Sequence[Target], row: Night, place: Place) -> dict[Point, Floats]:
    """Give where each target's first point goes between sunset and sunrise, or between the noons;
    an arch goes nowhere."""
    firsts = {target.points[0] for target in shown}
    points = [point for point in firsts if not isinstance(point, Arch)]
    start, end = row.sunset or row.start, row.sunrise or row.end
    times = np.arange(start.timestamp(), end.timestamp() + 1, PATH_SECONDS)
    return dict(zip(points, _pairs(all_standings(points, place, times)), strict=True))


def _pairs(found: Directions) -> Floats:
    return np.stack((found.altitude_degrees, found.azimuth_degrees), axis=-1)
