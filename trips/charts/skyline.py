"""The skyline of a spot as a picture: the land all around, landmarks on it, tracks or the light
of towns over it.

Lying, the whole round in one stretch, cut where nobody looks first: at north, and south of the
equator at south. Standing, for narrow screens, the two halves of the round one under the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from django.utils.translation import gettext

from sky.skyline import Skyline
from trips.charts.dot_names import Box, touch
from trips.charts.glow import Sector, glow_layers
from trips.charts.panorama import Panorama, Point, drawn_line, number
from trips.charts.picture import Text, shortened, width_of, width_on_paper

LYING_WIDTH, LYING_HEIGHT = 1080, 280
STANDING_WIDTH, STANDING_HEIGHT = 318, 190
# Around a plot: the altitudes at its left, a little at its right, the compass below.
LEFT, RIGHT, BELOW = 38, 10, 40
NAME_ROW, MOST_ROWS = 18, 4
STEP_DEGREES = 45
LEAST_TOP, ROOM_ABOVE, LEAST_BOTTOM = 30.0, 8.0, -4.0
THINNEST = 4.0  # of a landmark, in pixels
LONGEST_NAME = 32  # of a landmark, in letters
LETTER_HEIGHT = 14.0
DOT_RADIUS = 4.0


@dataclass(frozen=True, slots=True)
class Seen:
    """A landmark: its direction, the apparent altitude of its top, its width; all in degrees.

    Without a width it is only named: a town behind the land.
    """

    name: str
    azimuth: float
    top: float
    width: float | None


@dataclass(frozen=True, slots=True)
class Path:
    """A target's way over the sky: points (azimuth, altitude) in order of time, hours on them."""

    name: str
    points: Sequence[Point]
    hours: Sequence[tuple[float, float, str]] = ()
    is_asked: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure that somebody measured in a direction; azimuth and altitude in degrees."""

    azimuth: float
    altitude: float
    words: str


@dataclass(frozen=True, slots=True)
class Scene:
    """What is drawn, whichever way. `compass` names eight points from north through east."""

    skyline: Skyline
    landmarks: Sequence[Seen]
    paths: Sequence[Path]
    glow: Sequence[Sector]
    figures: Sequence[Figure]
    compass: Sequence[str]
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class DrawnPath:
    kind: str
    d: str


@dataclass(frozen=True, slots=True)
class Panel:
    """One stretch of the horizon. `x`, `y` are the plot's corner in the picture; what stands in it
    is drawn from there and cut at its edges, the texts around it are not."""

    x: int
    y: int
    width: int
    height: int
    heading: str
    land: str
    edge: str
    grid: str
    level: str
    blocks: str
    leaders: str  # from the names down to the plot, and
    stalks: str  # inside it down to the landmarks
    glow: tuple[str, ...]
    paths: tuple[DrawnPath, ...]
    dots: str
    inside: tuple[Text, ...]
    around: tuple[Text, ...]
    note: tuple[int, int]
    geometry: str


@dataclass(frozen=True, slots=True)
class Picture:
    way: str
    width: int
    height: int
    panels: tuple[Panel, ...]
    heights: str  # lowest and highest altitude of the plots, for the script that draws on them

    @property
    def geometry(self) -> str:
        return ";".join(panel.geometry for panel in self.panels)


@dataclass(frozen=True, slots=True)
class SkylinePicture:
    lying: Picture
    standing: Picture
    title: str
    description: str
    note: str


def skyline_picture(
    skyline: Skyline,
    *,
    landmarks: Sequence[Seen] = (),
    paths: Sequence[Path] = (),
    glow: Sequence[Sector] = (),
    figures: Sequence[Figure] = (),
    compass: Sequence[str],
    south: bool,
    least_top: float = LEAST_TOP,
    title: str,
    description: str,
    note: str = "",
) -> SkylinePicture:
    """Draw a skyline; `south` of the equator it is cut at south and north is its middle.

    `least_top` the altitude that the plot reaches at least; `note` is written on a level horizon.
    """
    scene = Scene(
        skyline, landmarks, paths, glow, figures, compass,
        *_heights(skyline, landmarks, paths, least_top),
    )  # fmt: skip
    cut = 180 if south else 0
    return SkylinePicture(
        lying=_lying(scene, cut), standing=_standing(scene, cut), title=title,
        description=description, note=note if skyline.is_level else "",
    )  # fmt: skip


def _heights(
    skyline: Skyline, landmarks: Sequence[Seen], paths: Sequence[Path], least: float
) -> tuple[float, float]:
    """Give whole tens that hold everything with some room above, and land below the lowest."""
    land = [float(skyline.altitudes.max()), *(one.top for one in landmarks)]
    sky = [altitude for path in paths for _azimuth, altitude in path.points]
    top = max(least, max(land) + ROOM_ABOVE, max(sky, default=0.0) + ROOM_ABOVE)
    bottom = min(LEAST_BOTTOM, float(skyline.altitudes.min()) + LEAST_BOTTOM)
    return bottom, min(90.0, 10.0 * float(np.ceil(top / 10)))


def _lying(scene: Scene, cut: int) -> Picture:
    view = _view(scene, cut, 360, LYING_WIDTH, LYING_HEIGHT)
    panel = _panel(scene, view, 0, "")
    height = panel.y + LYING_HEIGHT + BELOW
    return Picture("lying", LEFT + LYING_WIDTH + RIGHT, height, (panel,), _span_of(scene))


def _standing(scene: Scene, cut: int) -> Picture:
    """Give the half that is looked at first above the other."""
    panels: list[Panel] = []
    bottom = 0
    for first in (cut + 90, cut + 270):
        view = _view(scene, first, 180, STANDING_WIDTH, STANDING_HEIGHT)
        facing = gettext("looking %(point)s") % {
            "point": scene.compass[(first + 90) // STEP_DEGREES % 8]
        }
        panels.append(_panel(scene, view, bottom, facing))
        bottom = panels[-1].y + STANDING_HEIGHT + BELOW + 8
    width = LEFT + STANDING_WIDTH + RIGHT
    return Picture("standing", width, bottom, tuple(panels), _span_of(scene))


def _view(scene: Scene, first: float, span: float, width: int, height: int) -> Panorama:
    return Panorama(first, span, scene.low, scene.high, width, height)


def _span_of(scene: Scene) -> str:
    return f"{scene.low:g} {scene.high:g}"


def _panel(scene: Scene, view: Panorama, top: int, heading: str) -> Panel:
    """Lay out a stretch below `top`: names in rows, the plot, the compass."""
    named = _named(scene, view)
    rows = max((row + 1 for row, _left, _one in named), default=0) + bool(heading)
    y = top + rows * NAME_ROW + 8
    edge = view.land(scene.skyline)
    bottom = number(view.height)
    return Panel(
        x=LEFT, y=y, width=int(view.width), height=int(view.height), heading=heading,
        land=f"{drawn_line(edge)}V{bottom}H{number(edge[0][0])}z",
        edge=drawn_line(edge),
        grid="".join(_grid(view)),
        level=f"M0 {number(view.y(0))}H{number(view.width)}",
        blocks="".join(_block(scene.skyline, one, view) for one in scene.landmarks),
        leaders="".join(_leader(one, view, y, _row_y(y, row)) for row, _left, one in named),
        stalks="".join(_stalk(one, view) for _row, _left, one in named),
        glow=tuple(glow_layers(view, scene.skyline, scene.glow)),
        paths=tuple(_paths(scene, view)),
        dots="".join(_dots(scene, view)),
        inside=tuple(_inside(scene, view)),
        around=(*_names(named, y), *_frame_texts(scene, view, y), *_heading(heading, top)),
        note=(round(view.width / 2), round(view.y(0)) - 8),
        geometry=f"{LEFT} {y} {view.width:g} {view.height:g} {view.first:g} {view.span:g}",
    )  # fmt: skip


def _heading(words: str, top: int) -> Iterator[Text]:
    if words:
        yield Text(LEFT, top + 14, words, "t-strong")


def _named(scene: Scene, view: Panorama) -> list[tuple[int, float, Seen]]:
    """Give each landmark that is seen here and has room for its name a row and a left end.

    Its name is shortened to what a picture can hold.
    """
    ends = [-np.inf] * MOST_ROWS
    named = []
    seen = [
        replace(one, name=shortened(one.name, most=LONGEST_NAME))
        for one in scene.landmarks
        if 0 <= view.x(one.azimuth) <= view.width
    ]
    for one in sorted(seen, key=lambda one: view.x(one.azimuth)):
        width = width_of(one.name)
        left = max(-LEFT, min(view.x(one.azimuth) - width / 2, view.width + RIGHT - width))
        row = next((row for row, end in enumerate(ends) if end + 8 <= left), None)
        if row is not None and width <= view.width:
            ends[row] = left + width
            named.append((row, left, one))
    return named


def _row_y(y: int, row: int) -> int:
    return y - 8 - row * NAME_ROW


def _names(named: Iterable[tuple[int, float, Seen]], y: int) -> Iterator[Text]:
    for row, left, one in named:
        middle = LEFT + left + width_of(one.name) / 2
        yield Text(round(middle), _row_y(y, row), one.name, "t-mid")


def _leader(one: Seen, view: Panorama, y: int, name_y: int) -> str:
    return f"M{number(LEFT + view.x(one.azimuth))} {name_y + 4}V{y}"


def _stalk(one: Seen, view: Panorama) -> str:
    return f"M{number(view.x(one.azimuth))} 0V{number(max(view.y(one.top), 0))}"


def _block(skyline: Skyline, one: Seen, view: Panorama) -> str:
    """Draw a landmark from the land up; one that does not pass the land as a notch in its edge."""
    if one.width is None:
        return ""
    width = max(THINNEST, one.width * view.width / view.span)
    x, top = view.x(one.azimuth), view.y(one.top)
    foot = max(view.y(_height(skyline, one.azimuth)), top) + 3
    left, right = number(x - width / 2), number(x + width / 2)
    return f"M{left} {number(foot)}V{number(top)}H{right}V{number(foot)}z"


def _grid(view: Panorama) -> Iterator[str]:
    for altitude in _tens(view):
        yield f"M0 {number(view.y(altitude))}H{number(view.width)}"
    for azimuth in _compass(view)[1:-1]:
        yield f"M{number((azimuth - view.first) * view.width / view.span)} 0V{number(view.height)}"


def _tens(view: Panorama) -> range:
    return range(10, int(view.high) + 1, 10)


def _compass(view: Panorama) -> list[int]:
    return list(range(int(view.first), int(view.first + view.span) + 1, STEP_DEGREES))


def _frame_texts(scene: Scene, view: Panorama, y: int) -> Iterator[Text]:
    step = 20 if view.high - view.low > 60 else 10
    for altitude in range(0, int(view.high) + 1, step):
        yield Text(LEFT - 6, round(y + view.y(altitude)) + 4, f"{altitude}°", "t-end t-soft")
    for at, azimuth in enumerate(_compass(view)):
        x = round(LEFT + (azimuth - view.first) * view.width / view.span)
        is_edge = at in (0, round(view.span / STEP_DEGREES))
        kind = ("t-start" if at == 0 else "t-end") if is_edge else "t-mid"
        x += (-12 if at == 0 else RIGHT) if is_edge else 0
        below = y + int(view.height)
        yield Text(x, below + 16, scene.compass[azimuth // STEP_DEGREES % 8], kind)
        yield Text(x, below + 32, f"{azimuth % 360}°", f"{kind} t-soft")


def _paths(scene: Scene, view: Panorama) -> Iterator[DrawnPath]:
    for path in sorted(scene.paths, key=lambda path: path.is_asked):
        pieces = view.path(path.points)
        if pieces:
            yield DrawnPath("asked" if path.is_asked else "other", "".join(map(drawn_line, pieces)))


def _dots(scene: Scene, view: Panorama) -> Iterator[str]:
    """Mark full hours and figures as points, to be stroked with round ends."""
    for x, y, _words in (*_hours(scene, view), *_figures(scene, view)):
        yield f"M{number(x)} {number(y)}h0"


def _hours(scene: Scene, view: Panorama) -> Iterator[tuple[float, float, str]]:
    """Give the full hours that are seen of all paths, in pixels."""
    for path in scene.paths:
        for azimuth, altitude, clock in path.hours:
            x, y = view.x(azimuth), view.y(altitude)
            if view.shows(x, y) and altitude > _height(scene.skyline, azimuth):
                yield x, y, clock


def _figures(scene: Scene, view: Panorama) -> Iterator[tuple[float, float, str]]:
    for one in scene.figures:
        x, y = view.x(one.azimuth), view.y(one.altitude)
        if view.shows(x, y):
            yield x, y, one.words


def _height(skyline: Skyline, azimuth: float) -> float:
    return float(skyline.at(np.array([azimuth]))[0])


def _inside(scene: Scene, view: Panorama) -> Iterator[Text]:
    """Name each path where it is highest, else beside, then its hours where there is room."""
    taken: list[Box] = []
    for path in sorted(scene.paths, key=lambda path: not path.is_asked):
        kind = "t-asked" if path.is_asked else "t-path"
        yield from _placed(path.name, _places(scene, path, view), kind, view, taken)
    hours, figures = list(_hours(scene, view)), list(_figures(scene, view))
    taken += [
        (x - DOT_RADIUS, y - DOT_RADIUS, x + DOT_RADIUS, y + DOT_RADIUS)
        for x, y, _words in (*hours, *figures)
    ]
    for x, y, clock in hours:
        yield from _placed(clock, [(x, y + 22)], "t-hour", view, taken)
    for x, y, words in figures:
        yield from _placed(words, [(x, y - 10), (x, y + 22)], "t-figure", view, taken)


def _places(scene: Scene, path: Path, view: Panorama) -> list[Point]:
    """Give where a path can be named: at its top, then at thirds of what is seen of it."""
    if not path.points:
        return []
    land = scene.skyline.at(np.array(path.points)[:, 0]).tolist()
    seen = [
        (altitude, view.x(azimuth), view.y(altitude))
        for (azimuth, altitude), height in zip(path.points, land, strict=True)
        if altitude > height and view.shows(view.x(azimuth), view.y(altitude))
    ]
    if not seen:
        return []
    chosen = [max(seen), *(seen[len(seen) * part // 6] for part in (2, 4, 1, 5))]
    # Where there is no room above the way, its name stands below.
    return [(x, y - 4 if y >= LETTER_HEIGHT + 4 else y + 18) for _altitude, x, y in chosen]


def _placed(
    words: str, places: Iterable[Point], kind: str, view: Panorama,
    taken: list[Box],
) -> Iterator[Text]:  # fmt: skip
    """Write words at the first place where they touch nothing; nowhere if there is none."""
    half = width_on_paper(words) / 2
    for x, y in places:
        middle = max(half, min(x, view.width - half))
        baseline = max(LETTER_HEIGHT, y)
        box = (middle - half, baseline - LETTER_HEIGHT, middle + half, baseline + 2)
        if baseline <= view.height and not any(touch(box, other) for other in taken):
            taken.append(box)
            yield Text(round(middle), round(baseline), words, kind)
            return
