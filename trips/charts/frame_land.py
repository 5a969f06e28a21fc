"""The land in a frame: its edge, what stands on it, and lines of altitude above it."""

from __future__ import annotations

from collections.abc import Sequence
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


@dataclass(frozen=True, slots=True)
class View:
    """What a frame looks at, here and there: places (place, 2) in mm, and their directions."""

    places: Floats
    altitudes: Floats
    azimuths: Floats


def view_of(frame: Frame) -> View:
    places = grid(frame)
    return View(places, *frame.toward(places))


def land(sketch: Sketch, paper: Paper, view: View) -> str:
    """Give the area of the land, for an even-odd filling; its edge runs along the skyline."""
    skyline, frame = sketch.sky.skyline, sketch.frame
    around = np.arange(0.0, 360.0, _step(frame))
    azimuths = np.unique(np.concatenate((around, skyline.azimuths[1:-1])))
    loop = around_ring(frame.outline(skyline.at(azimuths), azimuths))
    path = f"M{paper.written(paper.exact(loop))}z"
    place, is_land = _surest(view, skyline)
    if is_in_loop(loop, place) == is_land:
        return path
    width, height = paper.size
    return f"M-9-9H{width + 9}V{height + 9}H-9z{path}"


def _surest(view: View, skyline: Skyline) -> tuple[Floats, bool]:
    """Give the place of the picture that is furthest from the land's edge, and whether it is
    land."""
    over = view.altitudes - skyline.at(view.azimuths)
    surest = int(np.argmax(np.abs(over)))
    return view.places[surest], bool(over[surest] < 0)


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
    azimuths, tops, widths = _figures(sketch.landmarks)
    feet = np.minimum(sketch.sky.skyline.at(azimuths), tops) - FOOT_DEGREES
    heights = np.stack((feet, tops), axis=1)
    held = np.flatnonzero(sketch.frame.holds(heights, azimuths[:, None]).any(axis=1))
    # Of each its foot and its top, then its top from side to side.
    turns = np.array((0.0, 0.0, -0.5, 0.5)) * widths[held, None]
    up = np.concatenate((heights, tops[:, None], tops[:, None]), axis=1)[held]
    corners = paper.exact(sketch.frame.outline(up, azimuths[held, None] + turns))
    return "".join(_block(four, paper) for four in corners)


def _figures(landmarks: Sequence[Landmark]) -> Floats:
    """Give azimuths, tops and widths of landmarks, each (landmark,) in degrees."""
    figures = [(one.azimuth_degrees, one.top_degrees, one.width_degrees) for one in landmarks]
    return np.array(figures, dtype=np.float64).reshape(-1, 3).T


def _block(corners: Floats, paper: Paper) -> str:
    foot, top, left, right = corners
    half = np.array((max(THINNEST, float(np.hypot(*(right - left)))) / 2, 0.0))
    return f"M{paper.written(np.array((foot - half, top - half, top + half, foot + half)))}z"


def height_lines(frame: Frame, view: View) -> list[HeightLine]:
    """Give the lines of altitude that cross the frame."""
    altitudes = _whole_altitudes(frame, view)
    if not altitudes:
        return []
    step = 2 * _step(frame)  # they bend less than the land
    around = np.append(np.arange(0.0, 360.0, step), 360.0)
    places = frame.outline(np.array(altitudes)[:, None], around)
    return [HeightLine(*one, around) for one in zip(altitudes, places, strict=True)]


def _whole_altitudes(frame: Frame, view: View) -> list[int]:
    low, high = float(view.altitudes.min()), float(view.altitudes.max())
    if frame.holds(90.0, 0.0):
        high = 90.0
    step = next((step for step in LINE_STEPS if (high - low) / step <= MOST_LINES), LINE_STEPS[-1])
    return [at for at in range(step, 90, step) if low < at < high]


def _step(frame: Frame) -> float:
    step = np.clip(frame.reach_degrees * STEP_SHARE, SMALLEST_STEP, LARGEST_STEP)
    return 360.0 / int(np.ceil(360.0 / step))
