"""The whole sky over a site, or over one of its spots, at an instant of a stored night."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from sky.apparent import directions_toward
from sky.band import edge_vectors
from sky.directions import Directions
from sky.dome import MilkyWay, NamedStanding, Standing, StarField, WantedStanding, WholeSky
from sky.errors import SkyError
from sky.galactic import standing_of_band
from sky.place import Place
from sky.skyline import LEVEL
from sky.spans import Span, intersect
from sky.stars import bright_stars, directions_at_once
from sky.targets.kinds import target_of
from sky.targets.milky_way import CORE
from sky.targets.planets import NAMES as PLANETS
from sky.targets.target import Arch, Body, FixedPoint, Target
from trips.almanac.places import place_of
from trips.almanac.spots import place_of_spot, skyline_of_spot
from trips.models import Night, Site, Spot, TargetEntry

Floats = NDArray[np.float64]

PATH_SECONDS = 600.0
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
    unix = np.array([instant.timestamp()])
    return WholeSky(
        instant=instant,
        sun=_standing(Body("sun"), place, unix),
        moon=_standing(Body("moon"), place, unix),
        moon_lit=row.moon_illuminated,
        moon_waxing=row.moon_waxing,
        planets=tuple(
            NamedStanding(name, _standing(Body(body), place, unix))
            for body, name in PLANETS.items()
        ),
        stars=_stars(place, instant) if stars is None else stars,
        milky_way=_milky_way(place, instant),
        wanted=tuple(_wanted(row, place, unix, wanted)),
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


def _standing(point: Body | FixedPoint, place: Place, unix: Floats) -> Standing:
    found = directions_toward(point, place, unix)
    return Standing(float(found.altitude_degrees[0]), float(found.azimuth_degrees[0]))


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


def _milky_way(place: Place, instant: datetime) -> MilkyWay:
    vectors = edge_vectors()
    found = directions_at_once(vectors.reshape(-1, 3), place, instant)
    edges = _pairs(found).reshape(*vectors.shape[:2], 2)
    unix = np.array([instant.timestamp()])
    band = standing_of_band(place, unix)
    first, second = band.feet_azimuth_degrees[0].tolist()
    return MilkyWay(
        faint=(edges[0], edges[1]),
        bright=(edges[2], edges[3]),
        lane=(edges[4], edges[5]),
        equator=edges[6],
        top=Standing(float(band.highest_degrees[0]), float(band.top_azimuth_degrees[0])),
        feet_azimuths=(first, second),
        core=_standing(CORE, place, unix),
    )


def _wanted(
    row: Night, place: Place, unix: Floats, wanted: Sequence[Target]
) -> Iterator[WantedStanding]:
    for target in wanted:
        if not _happens(target, row):
            continue
        points = [point for point in target.points if not isinstance(point, Arch)]
        if points:
            spots = tuple(_standing(point, place, unix) for point in points)
            yield WantedStanding(target.name, spots, _path(points[0], row, place))
        else:
            band = standing_of_band(place, unix)
            top = Standing(float(band.highest_degrees[0]), float(band.top_azimuth_degrees[0]))
            yield WantedStanding(target.name, (top,), np.empty((0, 2)), is_arch=True)


def _happens(target: Target, row: Night) -> bool:
    if target.active is None:
        return True
    around = target.active(row.date - ONE_DAY, row.date + ONE_DAY)
    return bool(intersect(around, (Span(row.start, row.end),)))


def _path(point: Body | FixedPoint, row: Night, place: Place) -> Floats:
    """Give where a point goes between sunset and sunrise, or between the noons."""
    start, end = row.sunset or row.start, row.sunrise or row.end
    times = np.arange(start.timestamp(), end.timestamp() + 1, PATH_SECONDS)
    return _pairs(directions_toward(point, place, times))


def _pairs(found: Directions) -> Floats:
    return np.stack((found.altitude_degrees, found.azimuth_degrees), axis=-1)
