"""The whole sky for a phone held overhead: bright stars, what is wanted, and pointers to it.

North up and east left. Drawn smaller than the night's own page, so that letters of 18 px find room
on a phone: of names marked `m` the looks of the dark leave out all.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
from django.utils.translation import gettext as _

from sky.camera.sketch import Landmark
from sky.dome import Standing, WholeSky
from sky.finding import PointedSky, Pointer
from trips.charts.dome_paper import DomePaper
from trips.charts.name_places import RING, Mark, NameAt, NameRoom, around, box_of, short
from trips.charts.name_room import Box, Places
from trips.charts.star_dots import Dots

PAPER = DomePaper(540, unseen=1.2)
FAINTEST = 3.0
# Of the land no more than stands out of so many degrees.
COLUMN_DEGREES = 2.5
FAINTEST_NAMED, POLE_STAR = 1.3, "Polaris"
MOST_NAMES, EDGE = 10, 532
# From the line of an arch to its name.
ARCH_ROOM = 14
# A landmark stands on the horizon, no lower and no thinner than this.
LOWEST_DEGREES, THINNEST_DEGREES = 4.0, 2.6
LINE_STEPS = 12


@dataclass(frozen=True, slots=True)
class BriefSky:
    """A sky ready for its template: numbers are written out, never localised. `holding` and
    `pointer_words` stand beside it."""

    horizon: int
    faint: str
    bright: str
    dots: tuple[Dots, ...]
    bodies: str
    moon: tuple[int, int] | None
    arch: str
    land: str
    landmarks: str
    rings: tuple[tuple[int, int, int], ...]  # x, y, radius
    pointers: str
    leaders: str
    names: tuple[NameAt, ...]
    title: str
    description: str
    holding: str
    pointer_words: tuple[str, ...]


def brief_sky(
    found: PointedSky, *, labels: Sequence[str], title: str, description: str, holding: str,
    pointer_words: tuple[str, ...],
) -> BriefSky:  # fmt: skip
    """Draw a sky; `labels` are the numbers of what is wanted in the brief."""
    sky = found.sky
    outline = "" if sky.skyline.is_level else PAPER.outline(sky.skyline, column=COLUMN_DEGREES)
    names = tuple(_names(found, labels))
    band = sky.milky_way
    stands = [each for one in sky.wanted if not one.is_arch for each in one.standings]
    return BriefSky(
        horizon=PAPER.horizon,
        faint=PAPER.between(*band.faint) if sky.has_band else "",
        bright=PAPER.between(*band.bright) if sky.has_band and not sky.is_moonlit else "",
        dots=tuple(PAPER.dots(sky.stars, min(FAINTEST, sky.faintest), list(map(box_of, names)))),
        bodies=PAPER.points(one.standing for one in sky.planets if sky.is_open(one.standing)),
        moon=PAPER.place(sky.moon) if sky.is_open(sky.moon) else None,
        arch=PAPER.lines(band.equator) if any(one.is_arch for one in sky.wanted) else "",
        land=PAPER.land(outline) if outline else "",
        landmarks="".join(map(_pillar, found.landmarks)),
        rings=tuple((*PAPER.place(each), RING) for each in stands if each.is_up),
        pointers="".join(map(_pointer, found.pointers)),
        leaders="".join(name.leader for name in names),
        names=names,
        title=title,
        description=description,
        holding=holding,
        pointer_words=pointer_words,
    )


def _pillar(one: Landmark) -> str:
    """Stand a landmark on the horizon, toward the zenith."""
    half = max(one.width_degrees, THINNEST_DEGREES) / 2
    top = max(one.top_degrees, LOWEST_DEGREES)
    left, right = one.azimuth_degrees - half, one.azimuth_degrees + half
    corners = ((0.0, left), (top, left), (top, right), (0.0, right))
    return f"M{PAPER.written(np.array(corners))}z"


def _pointer(pointer: Pointer) -> str:
    """Lead from star to star and to the ring."""
    places = [PAPER.place(star.standing) for star in pointer.stars]
    x, y = places[-1]
    end_x, end_y = PAPER.place(pointer.toward)
    far = max(math.hypot(end_x - x, end_y - y), 1.0)
    share = max(far - RING, 0.0) / far
    places.append((round(x + share * (end_x - x)), round(y + share * (end_y - y))))
    return "M" + "L".join(f"{x} {y}" for x, y in places)


def _names(found: PointedSky, labels: Sequence[str]) -> Iterator[NameAt]:
    """Name the stars that point and number what is wanted, which finds room anywhere; then name
    others while there is room."""
    wanted, bodies = list(_wanted(found.sky, labels)), list(_bodies(found.sky))
    pointing, others = list(_pointing(found)), [*bodies, *_landmarks(found), *_bright(found)]
    taken = [around(mark) for mark in (*wanted, *bodies, *pointing)]
    marks = [mark.places[0] for mark in (*pointing, *others)]
    dots = np.array(marks, dtype=np.int64).reshape(-1, 2)
    curves = [_curve(found.sky)] if any(one.is_arch for one in found.sky.wanted) else []
    crossed = np.concatenate([dots, *curves, *map(_along, found.pointers)])
    room = NameRoom(_is_inside, crossed, taken)
    names = list(room.fitting([*pointing, *wanted]))
    yield from names
    yield from islice(room.fitting(others), max(MOST_NAMES - len(names), 0))


def _curve(sky: WholeSky) -> Places:
    return PAPER.projected(sky.milky_way.equator)


def _along(pointer: Pointer) -> Places:
    corners = [*(star.standing for star in pointer.stars), pointer.toward]
    places = np.array([PAPER.place(each) for each in corners], dtype=np.float64)
    shares = np.linspace(0, 1, LINE_STEPS)[:, None]
    legs = [places[:-1] * (1 - share) + places[1:] * share for share in shares]
    result: Places = np.rint(np.concatenate(legs)).astype(np.int64)
    return result


def _wanted(sky: WholeSky, labels: Sequence[str]) -> Iterator[Mark]:
    """Mark what is up; an arch at its top."""
    for one, label in zip(sky.wanted, labels, strict=True):
        if one.standings[0].is_up:
            radius = ARCH_ROOM if one.is_arch else RING + 8
            yield Mark(label, "wanted", (PAPER.place(one.standings[0]),), radius)


def _pointing(found: PointedSky) -> Iterator[Mark]:
    for star in {star.name: star for way in found.pointers for star in way.stars}.values():
        yield _mark(star.name, "star", star.standing, 16)


def _bodies(sky: WholeSky) -> Iterator[Mark]:
    bodies = [(_("Moon"), sky.moon), *((_(one.name), one.standing) for one in sky.planets)]
    for words, standing in bodies:
        if sky.is_open(standing) and not sky.is_wanted(standing):
            yield _mark(words, "body", standing, 22)


def _landmarks(found: PointedSky) -> Iterator[Mark]:
    for one in found.landmarks:
        top = Standing(max(one.top_degrees, LOWEST_DEGREES), one.azimuth_degrees)
        yield _mark(short(one.name), "landmark m", top, 16)


def _bright(found: PointedSky) -> Iterator[Mark]:
    """Mark the pole star, which shows north, and the brightest, but for those that point."""
    sky, pointing = found.sky, {star.name for way in found.pointers for star in way.stars}
    named = list(sky.stars.named(min(FAINTEST, sky.faintest)))
    stars = [star for star in named if star.name == POLE_STAR]
    stars += sky.stars.named(min(FAINTEST_NAMED, sky.faintest))
    for star in stars:
        is_free = star.name not in pointing and not sky.is_wanted(star.standing)
        if is_free and sky.is_open(star.standing):
            yield _mark(star.name, "star m", star.standing, 14)


def _mark(words: str, kind: str, standing: Standing, radius: int) -> Mark:
    return Mark(words, kind, (PAPER.place(standing),), radius)


def _is_inside(box: Box) -> bool:
    left, top, right, bottom = box
    return max(abs(left), abs(right)) ** 2 + max(abs(top), abs(bottom)) ** 2 < EDGE**2
