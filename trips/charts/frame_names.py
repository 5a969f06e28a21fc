"""Names in the sketch of a frame: what is wanted, landmarks, bodies, then stars while there is
room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
from django.utils.translation import gettext as _

from sky.camera.sketch import Sketch
from sky.dome import Standing
from trips.charts.frame_land import HeightLine
from trips.charts.frame_paper import Paper
from trips.charts.name_places import LETTER, LINE, Mark, NameAt, NameRoom, around, short
from trips.charts.name_room import Box, Places, letters

MOST_NAMES = 10
# In the widest frame stars are named down to the first, in one of no more than a tenth of its reach
# as faint as they have names.
FAINTEST_NAMED_WIDE, FAINTEST_NAMED_NARROW = 1.7, 5.5
WIDE_DEGREES, NARROW_DEGREES = 60.0, 6.0
# The name of the Milky Way keeps this share of the frame's reach above the land.
CLEAR_SHARE, BAND_PLACES = 0.15, 12
EDGE = 12  # that names keep from the frame's
RADII = {"wanted": 36, "body": 20, "star": 16}


@dataclass(frozen=True, slots=True)
class _Named:
    """What is named where it stands; the radius is that of what is drawn there."""

    words: str
    kind: str
    standing: Standing
    radius: int


def placed_names(
    sketch: Sketch, paper: Paper, *, lines: Sequence[HeightLine], moon: float
) -> Iterator[NameAt]:
    """Place the names in the order of their worth; one without room is left out.

    `lines` of altitude get their degrees; `moon` is the radius that the Moon is drawn with, in
    units. A name crosses a star or the edge of the land only where it has to.
    """
    placed = list(_placed(sketch, paper, moon))
    stars = [mark for mark in placed if mark.kind == "star"]
    marks = [mark for mark in placed if mark.kind != "star"]
    crossed = [np.array(mark.places) for mark in stars]
    room = NameRoom(
        lambda box: _is_inside(box, paper),
        np.concatenate([_edge_of_land(sketch, paper), *crossed]),
        [around(mark) for mark in marks],
    )
    marks += _band(sketch, paper)
    names = room.wanted([mark for mark in marks if mark.kind == "wanted"])
    others = [mark for mark in (*marks, *stars) if mark.kind != "wanted"]
    yield from names
    yield from islice(room.fitting(others), max(MOST_NAMES - len(names), 0))
    yield from room.fitting(list(_degrees(sketch, paper, lines)))


def _is_inside(box: Box, paper: Paper) -> bool:
    width, height = paper.size
    left, top, right, bottom = box
    return left > EDGE and top > EDGE and right < width - EDGE and bottom < height - EDGE


def _placed(sketch: Sketch, paper: Paper, moon: float) -> Iterator[Mark]:
    """Give what stands at one place and that the frame holds."""
    named = [*_wanted(sketch), *_landmarks(sketch), *_bodies(sketch, moon), *_stars(sketch)]
    places = paper.stands([one.standing for one in named])
    for one, place in zip(named, places, strict=True):
        if place:
            yield Mark(one.words, one.kind, (place,), one.radius)


def _wanted(sketch: Sketch) -> Iterator[_Named]:
    for one in sketch.sky.wanted:
        if not one.is_arch:
            yield _Named(short(one.name), "wanted", one.standings[0], RADII["wanted"])


def _landmarks(sketch: Sketch) -> Iterator[_Named]:
    """Name them at their tops."""
    for one in sketch.landmarks:
        top = Standing(one.top_degrees, one.azimuth_degrees)
        yield _Named(short(one.name), "landmark", top, RADII["star"])


def _bodies(sketch: Sketch, moon: float) -> Iterator[_Named]:
    sky = sketch.sky
    found = [(_("Moon"), sky.moon), *((_(one.name), one.standing) for one in sky.planets)]
    if sky.has_band:
        found.append((_("galactic core"), sky.milky_way.core))
    for name, standing in found:
        if sky.is_open(standing) and not sky.is_wanted(standing):
            radius = round(moon) + 8 if standing is sky.moon else RADII["body"]
            yield _Named(name, "body", standing, radius)


def _stars(sketch: Sketch) -> Iterator[_Named]:
    faintest = float(np.interp(
        sketch.frame.reach_degrees, (NARROW_DEGREES, WIDE_DEGREES),
        (FAINTEST_NAMED_NARROW, FAINTEST_NAMED_WIDE),
    ))  # fmt: skip
    for one in sketch.sky.stars.named(faintest):
        if not sketch.sky.is_wanted(one.standing):
            yield _Named(one.name, "star", one.standing, RADII["star"])


def _band(sketch: Sketch, paper: Paper) -> Iterator[Mark]:
    sky = sketch.sky
    if sky.has_band and (along := tuple(_along_band(sketch, paper))):
        arch = next((one for one in sky.wanted if one.is_arch), None)
        words, kind = (short(arch.name), "wanted") if arch else (_("Milky Way"), "milky")
        yield Mark(words, kind, along)


def _along_band(sketch: Sketch, paper: Paper) -> Iterator[tuple[int, int]]:
    """Give places along the band that are in the frame and clear of the land, the middle first."""
    altitudes, azimuths = sketch.sky.milky_way.equator.T
    places = sketch.frame.on_sensor(altitudes, azimuths)
    land = np.maximum(sketch.sky.skyline.at(azimuths), 0.0)
    land += CLEAR_SHARE * sketch.frame.reach_degrees
    shown = places[sketch.frame.shows(places) & (altitudes > land)]
    nearest = np.argsort(np.hypot(*shown.T), kind="stable")[:BAND_PLACES]
    yield from ((x, y) for x, y in paper.units(shown[nearest]).tolist())


def _edge_of_land(sketch: Sketch, paper: Paper) -> Places:
    azimuths = np.arange(0.0, 360.0, 1.0)
    places = sketch.frame.outline(sketch.sky.skyline.at(azimuths), azimuths)
    return paper.units(places[sketch.frame.shows(places)])


def _degrees(sketch: Sketch, paper: Paper, lines: Sequence[HeightLine]) -> Iterator[Mark]:
    """Write the degrees of each line of altitude on it, as far to the left as it is to be seen, or
    to the right."""
    for line in lines:
        words = f"{line.altitude}°"
        room = np.array((letters(words) * LETTER / 2 + EDGE + 2, LINE))
        units = paper.units(line.places)
        fits = (units > room) & (units < np.array(paper.size) - room)
        is_over_land = sketch.sky.skyline.at(line.azimuths) < line.altitude
        inside = units[fits.all(axis=1) & sketch.frame.shows(line.places) & is_over_land]
        if len(inside):
            ends = inside[[inside[:, 0].argmin(), inside[:, 0].argmax()]]
            yield Mark(words, "degrees", tuple((x, y) for x, y in ends.tolist()))
