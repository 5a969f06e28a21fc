"""The land in a frame: its edge, what stands on it, and lines of altitude above it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.camera.frame import Frame
from sky.camera.sketch import Landmark, Sketch
from sky.skyline import Skyline
from trips.charts.frame_paper import Paper, around_ring, is_in_loop

Floats = NDArray[np.float64]

# The edge of the land is followed in steps of this share of the frame, between these degrees.
STEP_SHARE, SMALLEST_STEP, LARGEST_STEP = 1 / 40, 0.1, 2.0
# A landmark is drawn no narrower than this, in units, and begins so far below the land's edge.
THINNEST, FOOT_DEGREES = 14.0, 0.3
# Lines of altitude: the first step that gives no more than so many.
LINE_STEPS, MOST_LINES = (1, 2, 5, 10), 9
GRID = 9


@dataclass(frozen=True, slots=True)
class HeightLine:
    """A line of one altitude: places (step, 2) in mm all around, those far outside moved nearer."""

    altitude: int
    places: Floats
    azimuths: Floats


def land(sketch: Sketch, paper: Paper) -> str:
    """Give the area of the land, for an even-odd filling; its edge runs along the skyline."""
    skyline, frame = sketch.sky.skyline, sketch.frame
    around = np.arange(0.0, 360.0, _step(frame))
    azimuths = np.unique(np.concatenate((around, skyline.azimuths[1:-1])))
    loop = around_ring(frame.outline(skyline.at(azimuths), azimuths))
    path = f"M{paper.written(paper.exact(loop))}z"
    place, is_land = _surest(frame, skyline)
    if is_in_loop(loop, place) == is_land:
        return path
    width, height = paper.size
    return f"M-9-9H{width + 9}V{height + 9}H-9z{path}"


def _surest(frame: Frame, skyline: Skyline) -> tuple[Floats, bool]:
    """Give the place of the picture that is furthest from the land's edge, and whether it is
    land."""
    places = grid(frame)
    altitudes, azimuths = frame.toward(places)
    over = altitudes - skyline.at(azimuths)
    surest = int(np.argmax(np.abs(over)))
    return places[surest], bool(over[surest] < 0)


def grid(frame: Frame) -> Floats:
    """Give places (place, 2) in mm that are spread over the picture to its edges."""
    half = np.array((frame.sensor.width_mm, frame.sensor.height_mm)) / 2
    shares = np.linspace(-1, 1, GRID)
    places = np.stack(np.meshgrid(shares, shares), axis=-1).reshape(-1, 2) * half
    if frame.circle_mm is not None:
        far = np.maximum(np.hypot(*places.T), 1e-9)
        places = places * np.minimum(1, frame.circle_mm * (1 - 1e-9) / far)[:, None]
    return places


def blocks(sketch: Sketch, paper: Paper) -> str:
    """Draw landmarks from the land up; one that does not pass it as a notch in its edge."""
    return "".join(_block(one, sketch, paper) for one in sketch.landmarks)


def _block(one: Landmark, sketch: Sketch, paper: Paper) -> str:
    land_degrees = float(sketch.sky.skyline.at(np.array([one.azimuth_degrees]))[0])
    foot = min(land_degrees, one.top_degrees) - FOOT_DEGREES
    heights = np.array((foot, one.top_degrees))
    if not sketch.frame.holds(heights, one.azimuth_degrees).any():
        return ""
    (x, y), (x_top, y_top) = paper.exact(sketch.frame.outline(heights, one.azimuth_degrees))
    half = max(THINNEST, _width(one, sketch, paper)) / 2
    corners = ((x - half, y), (x_top - half, y_top), (x_top + half, y_top), (x + half, y))
    return f"M{paper.written(np.array(corners))}z"


def _width(one: Landmark, sketch: Sketch, paper: Paper) -> float:
    turn = np.array((-0.5, 0.5)) * one.width_degrees
    ends = sketch.frame.outline(one.top_degrees, one.azimuth_degrees + turn)
    return float(np.hypot(*(ends[1] - ends[0]))) * paper.scale


def height_lines(frame: Frame) -> list[HeightLine]:
    """Give the lines of altitude that cross the frame."""
    altitudes = _whole_altitudes(frame)
    if not altitudes:
        return []
    step = 2 * _step(frame)  # they bend less than the land
    around = np.append(np.arange(0.0, 360.0, step), 360.0)
    places = frame.outline(np.array(altitudes)[:, None], around)
    return [HeightLine(*one, around) for one in zip(altitudes, places, strict=True)]


def _whole_altitudes(frame: Frame) -> list[int]:
    altitudes, _azimuths = frame.toward(grid(frame))
    low, high = float(altitudes.min()), float(altitudes.max())
    if frame.holds(90.0, 0.0):
        high = 90.0
    step = next((step for step in LINE_STEPS if (high - low) / step <= MOST_LINES), LINE_STEPS[-1])
    return [at for at in range(step, 90, step) if low < at < high]


def _step(frame: Frame) -> float:
    step = np.clip(frame.reach_degrees * STEP_SHARE, SMALLEST_STEP, LARGEST_STEP)
    return 360.0 / int(np.ceil(360.0 / step))
