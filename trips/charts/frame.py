"""What a camera takes in, as a sketch in ink: the frame, its stars and how they trail, the land.

The picture has the sides of the sensor; below it stand the directions of its lower edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.camera.frame import vectors
from sky.camera.sketch import Sketch
from sky.dome import Standing
from trips.charts.band_patches import patches
from trips.charts.frame_land import blocks, height_lines, land, view_of
from trips.charts.frame_names import placed_names
from trips.charts.frame_paper import Paper
from trips.charts.moon import lit_path
from trips.charts.name_places import RING, NameAt
from trips.charts.star_dots import Dots, star_dots

Floats = NDArray[np.float64]

# The Moon's mean semidiameter, 15.5′: Explanatory Supplement; from memory. Drawn no smaller than so
# many units.
MOON_DEGREES, LEAST_MOON = 0.2591, 9.0
# Trails of the brightest stars are drawn, so many times as long that the longest can be seen.
MOST_TRAILS, SEEN_UNITS = 120, 45.0
TIMES = (100, 50, 20, 10, 5, 2, 1)
# Further from the middle nothing of the band is drawn: well outside any frame.
BAND_DEGREES = 125.0


@dataclass(frozen=True, slots=True)
class MoonDisc:
    x: int
    y: int
    radius: str
    lit: str
    turned: int  # degrees, clockwise from the right
    is_enlarged: bool


@dataclass(frozen=True, slots=True)
class FramePicture:
    """A frame ready for its template: numbers are written out, never localised.

    `trails` are drawn `times` as long as they are.
    """

    width: int
    height: int
    is_upright: bool
    circle: str  # radius of a fisheye's, else empty
    faint: str
    bright: str
    heights: str
    dots: tuple[Dots, ...]
    trails: str
    times: int
    planets: str
    moon: MoonDisc | None
    arch: str
    paths: str
    land: str
    blocks: str
    rings: tuple[tuple[int, int, int], ...]  # x, y, radius
    leaders: str
    names: tuple[NameAt, ...]
    title: str
    description: str

    @property
    def middle(self) -> tuple[float, float]:
        return self.width / 2, self.height / 2


def frame_picture(sketch: Sketch, *, title: str, description: str) -> FramePicture:
    """Draw a frame; `description` is what the picture says."""
    paper, sky, view = Paper(sketch.frame), sketch.sky, view_of(sketch.frame)
    moon = _moon(sketch, paper)
    lines = height_lines(sketch.frame, view)
    radius = float(moon.radius) if moon else 0.0
    names = tuple(placed_names(sketch, paper, lines=lines, moon=radius))
    times = _times(sketch, paper)
    width, height = paper.size
    circle = sketch.frame.circle_mm
    faint, bright = _band(sketch, paper)
    return FramePicture(
        width=width,
        height=height,
        is_upright=height > width,
        circle=f"{circle * paper.scale:.0f}" if circle else "",
        faint=faint,
        bright=bright,
        heights="".join(paper.line(one.places) for one in lines),
        dots=tuple(star_dots(paper.units(sketch.starts), sky.stars.magnitudes)),
        trails=_trails(sketch, paper, times),
        times=times,
        planets="".join(_points(paper, [each.standing for each in sky.planets])),
        moon=moon,
        arch=_line(sketch, paper, sky.milky_way.equator)
        if any(one.is_arch for one in sky.wanted)
        else "",
        paths="".join(_line(sketch, paper, one.path) for one in sky.wanted),
        land=land(sketch, paper, view),
        blocks=blocks(sketch, paper),
        rings=tuple(_rings(sketch, paper, moon)),
        leaders="".join(name.leader for name in names),
        names=names,
        title=title,
        description=description,
    )


def _line(sketch: Sketch, paper: Paper, directions: Floats) -> str:
    """Draw a line of altitudes and azimuths (point, 2)."""
    return paper.line(sketch.frame.outline(*directions.T)) if len(directions) else ""


def _arch(sketch: Sketch, paper: Paper) -> str:
    is_wanted = any(one.is_arch for one in sketch.sky.wanted)
    return _line(sketch, paper, sketch.sky.milky_way.equator) if is_wanted else ""


def _band(sketch: Sketch, paper: Paper) -> tuple[str, str]:
    """Give the Milky Way in two tones, where it is near the frame and as far as light leaves it.
    From the brighter an even-odd filling takes the lane.
    """
    frame, sky, band = sketch.frame, sketch.sky, sketch.sky.milky_way
    if not sky.has_band:
        return "", ""
    tones = (band.faint,) if sky.is_moonlit else (band.faint, band.bright, band.lane)
    edges = np.array(tones)
    altitudes, azimuths = np.moveaxis(edges, -1, 0)
    most = np.cos(np.radians(min(frame.ring_degrees, BAND_DEGREES)))
    near = (vectors(altitudes, azimuths) @ frame.pointing.axes[2] > most).any(axis=1)
    on_paper = paper.exact(frame.outline(altitudes, azimuths))
    drawn = [
        patches(south, north, shown, paper.far_written) if shown.any() else ""
        for (south, north), shown in zip(on_paper, near, strict=True)
    ]
    return drawn[0], "".join(drawn[1:])


def _times(sketch: Sketch, paper: Paper) -> int:
    """Give how many times as long as they are the trails are drawn."""
    if not len(sketch.starts):
        return 1
    longest = float(np.hypot(*(sketch.ends - sketch.starts).T).max()) * paper.scale
    return next((times for times in TIMES if times * longest <= SEEN_UNITS), 1)


def _trails(sketch: Sketch, paper: Paper, times: int) -> str:
    starts = paper.exact(sketch.starts[:MOST_TRAILS])
    moves = (paper.exact(sketch.ends[:MOST_TRAILS]) - starts) * times
    strokes = np.rint(np.concatenate((starts, moves), axis=1)).astype(np.int64).tolist()
    return "".join(f"M{x} {y}l{right} {down}" for x, y, right, down in strokes if right or down)


def _points(paper: Paper, standings: Sequence[Standing]) -> Iterator[str]:
    yield from (f"M{place[0]} {place[1]}h0" for place in paper.stands(standings) if place)


def _rings(sketch: Sketch, paper: Paper, moon: MoonDisc | None) -> Iterator[tuple[int, int, int]]:
    """Ring what is wanted: around the Moon a wider one."""
    wanted = [each for one in sketch.sky.wanted if not one.is_arch for each in one.standings]
    for standing, place in zip(wanted, paper.stands(wanted), strict=True):
        if place:
            is_moon = moon is not None and standing == sketch.sky.moon
            yield *place, RING + (round(float(moon.radius)) if moon and is_moon else 0)


def _moon(sketch: Sketch, paper: Paper) -> MoonDisc | None:
    """Draw the Moon at its size, its lit side toward the Sun; None of one outside the frame."""
    moon, sky = sketch.sky.moon, sketch.sky
    place = sketch.frame.on_sensor(moon.altitude_degrees, moon.azimuth_degrees)
    if not (moon.is_up and sketch.frame.shows(place)):
        return None
    toward_sun = _step_toward(moon, sky.sun)
    beside = sketch.frame.outline(toward_sun.altitude_degrees, toward_sun.azimuth_degrees)
    right, up = (beside - place).tolist()
    true = math.hypot(right, up) * paper.scale
    radius = max(true, LEAST_MOON)
    x, y = paper.units(place).tolist()
    return MoonDisc(
        x=x,
        y=y,
        radius=f"{radius:.1f}",
        lit=lit_path(round(sky.moon_lit * 100), lit_right=True, radius=round(radius, 1)),
        turned=round(math.degrees(math.atan2(-up, right))),
        is_enlarged=true < LEAST_MOON,
    )


def _step_toward(here: Standing, there: Standing) -> Standing:
    """Give the place that lies the Moon's radius away from one toward another, the short way."""
    start, end = (vectors(one.altitude_degrees, one.azimuth_degrees) for one in (here, there))
    along = end - (end @ start) * start
    along = along / max(float(np.linalg.norm(along)), 1e-9)
    turn = math.radians(MOON_DEGREES)
    east, north, up = (math.cos(turn) * start + math.sin(turn) * along).tolist()
    return Standing(
        math.degrees(math.atan2(up, math.hypot(east, north))),
        math.degrees(math.atan2(east, north)) % 360,
    )
