"""Names in the picture of the whole sky: all that are wanted, and others until there are ten."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice

import numpy as np
from django.utils.translation import gettext as _

from sky.dome import Standing, WholeSky
from trips.charts.name_places import Mark, NameAt, NameRoom, around, short
from trips.charts.name_room import Box, Places

MOST_NAMES = 10
# Stars are named down to here, and the pole star always.
FAINTEST_NAMED = 1.7
POLE_STAR, POLE_STAR_SHOWN = "Polaris", 2.0
# Names stay this far inside, where the horizon is 900 units from the zenith.
EDGE = 885
# On the rings at these altitudes their degrees are written, in the first of these directions that
# is free.
RINGS_DEGREES = (60, 30)
RING_AZIMUTHS = (118, 242, 62, 298, 146, 214, 34, 326)
# The name of the band goes to the highest part of it that is free, no lower than this.
BAND_NAME_DEGREES = 12.0

Place = Callable[[Standing], tuple[int, int]]


def placed_names(sky: WholeSky, place: Place, *, lines: Places, band: Places) -> Iterator[NameAt]:
    """Place the names in the order of their worth; one without room is left out.

    `lines` (point, 2) are places on drawn lines: a name crosses them, or a star, only where it has
    to. `band` (step, 2) are the places of the line along the Milky Way.
    """
    stars = list(_star_marks(sky, place))
    marks = list(_marks(sky, place, _along_band(sky, band)))
    crossed = np.concatenate([lines, *(np.array(star.places) for star in stars)])
    room = NameRoom(_is_inside, crossed, [around(mark) for mark in marks if mark.radius])
    names = room.wanted([mark for mark in marks if mark.kind == "wanted"])
    others = [mark for mark in (*marks, *stars) if mark.kind != "wanted"]
    yield from names
    yield from islice(room.fitting(others), max(MOST_NAMES - len(names), 0))
    room.crossed = np.concatenate([crossed, band])
    yield from room.fitting(_rings(place))


def _is_inside(box: Box) -> bool:
    """Tell whether a box lies inside the horizon, corners and all."""
    left, top, right, bottom = box
    return max(abs(left), abs(right)) ** 2 + max(abs(top), abs(bottom)) ** 2 < EDGE**2


def _marks(sky: WholeSky, place: Place, along_band: tuple[tuple[int, int], ...]) -> Iterator[Mark]:
    for one in sky.wanted:
        if one.standings[0].is_up and not one.is_arch:
            yield Mark(short(one.name), "wanted", (place(one.standings[0]),), 36)
    for words, standing, radius in _bodies(sky):
        if sky.is_open(standing) and not sky.is_wanted(standing):
            yield Mark(words, "body", (place(standing),), radius)
    if sky.has_band and along_band:
        arch = next((one for one in sky.wanted if one.is_arch), None)
        words, kind = (short(arch.name), "wanted") if arch else (_("Milky Way"), "body")
        yield Mark(words, kind, along_band)


def _bodies(sky: WholeSky) -> Iterator[tuple[str, Standing, int]]:
    yield _("Sun"), sky.sun, 40
    yield _("Moon"), sky.moon, 36
    for planet in sky.planets:
        yield _(planet.name), planet.standing, 20
    if sky.has_band:
        yield _("galactic core"), sky.milky_way.core, 0


def _along_band(sky: WholeSky, band: Places) -> tuple[tuple[int, int], ...]:
    """Give places along the band that the land leaves, the highest first."""
    altitudes, azimuths = sky.milky_way.equator.T
    least = np.maximum(sky.skyline.at(azimuths), BAND_NAME_DEGREES)
    highest = np.argsort(-altitudes, kind="stable")
    chosen = highest[(altitudes > least)[highest]][::2]
    return tuple((x, y) for x, y in band[chosen].tolist())


def _star_marks(sky: WholeSky, place: Place) -> Iterator[Mark]:
    chosen = list(sky.stars.named(min(FAINTEST_NAMED, sky.faintest)))
    if sky.faintest > POLE_STAR_SHOWN:
        chosen[2:2] = [star for star in sky.stars.named(sky.faintest) if star.name == POLE_STAR]
    for star in chosen:
        if sky.is_open(star.standing) and not sky.is_wanted(star.standing):
            yield Mark(star.name, "star", (place(star.standing),), 16)


def _rings(place: Place) -> list[Mark]:
    return [
        Mark(
            f"{altitude}°",
            "degrees",
            tuple(place(Standing(altitude, azimuth)) for azimuth in RING_AZIMUTHS),
        )
        for altitude in RINGS_DEGREES
    ]
