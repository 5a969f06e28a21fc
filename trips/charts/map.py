"""Where sites lie and which towns light them: a map without a base, north up.

A degree of longitude is as long as it is in the middle of the map: true to scale for a few hundred
kilometres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from trips.charts.dot_names import Box, Label, box_of_dot, name_beside
from trips.charts.panorama import number

WIDTH, LEFT, TOP, BELOW = 544, 56, 4, 26
LEAST_HEIGHT, MOST_HEIGHT = 300, 480
MARGIN = 40  # around what lies farthest out
LEAST_SPAN_KM = 20.0
KM_A_DEGREE = 111.2
DOT_RADIUS = 4.5
# A square's side grows with the root of the people: so many pixels for a million.
SIDE_OF_A_MILLION, LEAST_SIDE, MOST_SIDE = 12.0, 4.0, 30.0
STEPS_DEGREES = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 30.0)
MOST_LINES = 8
SCALES_KM = (2, 5, 10, 20, 50, 100, 200, 500, 1000)
SCALE_MOST_PX = 130


@dataclass(frozen=True, slots=True)
class OnMap:
    """A site, or a town with its people; longitude may pass ±180° where the map does."""

    name: str
    latitude: float
    longitude: float
    people: int = 0


@dataclass(frozen=True, slots=True)
class Mark:
    """A dot or a square by its middle; `label` is None where no room was left for it."""

    name: str
    x: str
    y: str
    left: str
    top: str
    side: str
    label: Label | None


@dataclass(frozen=True, slots=True)
class Line:
    at: str
    words: str


@dataclass(frozen=True, slots=True)
class SiteMap:
    """Coordinates are ready-made strings."""

    width: int
    height: int
    left: int
    top: int
    right: int
    bottom: int
    across: tuple[Line, ...]
    up: tuple[Line, ...]
    sites: tuple[Mark, ...]
    towns: tuple[Mark, ...]
    scale: str
    scale_x: str
    scale_words: str

    @property
    def unlabelled(self) -> int:
        return sum(mark.label is None for mark in self.sites)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """From degrees to pixels: `px` of a kilometre, `west` and `north` at the corner."""

    west: float
    north: float
    shrink: float  # of a degree of longitude against one of latitude
    px: float
    height: float

    def x(self, longitude: float) -> float:
        return LEFT + (longitude - self.west) * self.shrink * KM_A_DEGREE * self.px

    def y(self, latitude: float) -> float:
        return TOP + (self.north - latitude) * KM_A_DEGREE * self.px

    @property
    def right(self) -> float:
        return WIDTH

    @property
    def bottom(self) -> float:
        return TOP + self.height

    @property
    def inside(self) -> Box:
        return LEFT + 4, TOP + 4, self.right - 4, self.bottom - 4

    @property
    def east(self) -> float:
        return self.west + (self.right - LEFT) / (self.shrink * KM_A_DEGREE * self.px)

    @property
    def step(self) -> float:
        """Give the degrees between two lines, the same both ways."""
        span = max(self.east - self.west, self.north - self.south)
        return next((s for s in STEPS_DEGREES if span / s <= MOST_LINES), STEPS_DEGREES[-1])

    @property
    def south(self) -> float:
        return self.north - self.height / (KM_A_DEGREE * self.px)


def site_map(sites: Sequence[OnMap], towns: Sequence[OnMap]) -> SiteMap | None:
    """Draw sites and towns, all of them; None without a site. Sites are named first."""
    if not sites:
        return None
    sheet = _sheet([*sites, *towns])
    km = next((km for km in reversed(SCALES_KM) if km * sheet.px <= SCALE_MOST_PX), SCALES_KM[0])
    # The corner of the scale, then all dots and squares: names keep off them.
    taken = [
        (sheet.right - km * sheet.px - 24, sheet.bottom - 36, sheet.right, sheet.bottom),
        *(box_of_dot(sheet.x(one.longitude), sheet.y(one.latitude), DOT_RADIUS) for one in sites),
        *(_square(one, sheet) for one in towns),
    ]
    return SiteMap(
        width=WIDTH, height=round(sheet.bottom) + BELOW, left=LEFT, top=TOP, right=WIDTH,
        bottom=round(sheet.bottom),
        across=tuple(_meridians(sheet)), up=tuple(_parallels(sheet)),
        sites=tuple(_mark(one, 2 * DOT_RADIUS, sheet, taken) for one in sites),
        towns=tuple(_mark(one, _side(one.people), sheet, taken) for one in towns),
        scale=f"M{number(sheet.right - 16 - km * sheet.px)} {number(sheet.bottom - 18)}v6h"
              f"{number(km * sheet.px)}v-6",
        scale_x=number(sheet.right - 16 - km * sheet.px / 2),
        scale_words=_("%(km)d km") % {"km": km},
    )  # fmt: skip


def _sheet(found: Sequence[OnMap]) -> _Sheet:
    """Fit everything in, as large as it goes; little is never drawn larger than it is worth."""
    lows = min(one.latitude for one in found), min(one.longitude for one in found)
    highs = max(one.latitude for one in found), max(one.longitude for one in found)
    middle = (lows[0] + highs[0]) / 2, (lows[1] + highs[1]) / 2
    shrink = max(0.05, math.cos(math.radians(middle[0])))
    wide = max(LEAST_SPAN_KM, (highs[1] - lows[1]) * shrink * KM_A_DEGREE)
    tall = max(LEAST_SPAN_KM, (highs[0] - lows[0]) * KM_A_DEGREE)
    room = WIDTH - LEFT - 2 * MARGIN
    px = min(room / wide, (MOST_HEIGHT - 2 * MARGIN) / tall)
    height = max(LEAST_HEIGHT, tall * px + 2 * MARGIN)
    half_wide, half_tall = (WIDTH - LEFT) / 2 / px, height / 2 / px
    west = middle[1] - half_wide / (shrink * KM_A_DEGREE)
    return _Sheet(west, middle[0] + half_tall / KM_A_DEGREE, shrink, px, round(height))


def _mark(one: OnMap, side: float, sheet: _Sheet, taken: list[Box]) -> Mark:
    x, y = sheet.x(one.longitude), sheet.y(one.latitude)
    return Mark(
        one.name, number(x), number(y), number(x - side / 2), number(y - side / 2), number(side),
        name_beside(one.name, x, y, radius=side / 2, inside=sheet.inside, taken=taken),
    )  # fmt: skip


def _square(one: OnMap, sheet: _Sheet) -> Box:
    return box_of_dot(sheet.x(one.longitude), sheet.y(one.latitude), _side(one.people) / 2)


def _side(people: int) -> float:
    return min(MOST_SIDE, max(LEAST_SIDE, SIDE_OF_A_MILLION * math.sqrt(people / 1e6)))


def _meridians(sheet: _Sheet) -> Iterator[Line]:
    for longitude in _round_degrees(sheet.west, sheet.east, sheet.step):
        yield Line(number(sheet.x(longitude)), east_or_west(longitude))


def _parallels(sheet: _Sheet) -> Iterator[Line]:
    for latitude in _round_degrees(sheet.south, sheet.north, sheet.step):
        yield Line(number(sheet.y(latitude)), north_or_south(latitude))


def _round_degrees(low: float, high: float, step: float) -> list[float]:
    first, last = math.ceil(low / step), math.floor(high / step)
    return [round(n * step, 2) for n in range(first, last + 1)]


def east_or_west(longitude: float) -> str:
    """Give "1.5° W"; a longitude beyond 180° is turned back."""
    folded = (longitude + 180) % 360 - 180
    return _with_side(folded, _("%(degrees)s° E"), _("%(degrees)s° W"))


def north_or_south(latitude: float) -> str:
    return _with_side(latitude, _("%(degrees)s° N"), _("%(degrees)s° S"))


def _with_side(degrees: float, positive: str, negative: str) -> str:
    if not degrees:
        return "0°"
    return (positive if degrees > 0 else negative) % {"degrees": f"{abs(degrees):.10g}"}
