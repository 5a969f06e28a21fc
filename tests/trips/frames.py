"""Frames for the tests of their sketches: over skies made by hand, and paths read back."""

from __future__ import annotations

import re
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sky.camera.frame import Frame, Pointing
from sky.camera.lens import Lens
from sky.camera.sensor import COMMON_SENSORS, Sensor
from sky.camera.sketch import Landmark, Sketch
from sky.dome import WholeSky
from tests.trips.skies import made_sky
from trips.charts.frame import FramePicture, frame_picture

Floats = NDArray[np.float64]

USUAL, FULL_FRAME = Lens(24.0), COMMON_SENSORS["full-frame"]
TOKEN = re.compile(r"[MlHVz]|-?\d+")


def made_sketch(
    azimuth: float = 180.0,
    altitude: float = 0.0,
    *,
    lens: Lens = USUAL,
    sensor: Sensor = FULL_FRAME,
    sky: WholeSky | None = None,
    landmarks: tuple[Landmark, ...] = (),
    moved_degrees: float = 0.0,
    **pointing: Any,
) -> Sketch:
    """Give a frame over a made sky, whose stars move to the right by some degrees."""
    frame = Frame(Pointing(azimuth, altitude, **pointing), lens, sensor)
    over = sky or made_sky()
    stars = over.stars
    return Sketch(
        frame=frame,
        sky=over,
        landmarks=landmarks,
        seconds=20.0,
        starts=frame.outline(stars.altitudes, stars.azimuths),
        ends=frame.outline(stars.altitudes, stars.azimuths + moved_degrees),
    )


def drawn(sketch: Sketch) -> FramePicture:
    return frame_picture(sketch, title="The frame", description="It is drawn.")


def polygons(path: str) -> list[Floats]:
    """Give the corners of each piece of a path as it is written here: M, l, H, V and z."""
    found: list[list[tuple[float, float]]] = []
    tokens = TOKEN.findall(path)
    way, at, x, y = "M", 0, 0.0, 0.0
    while at < len(tokens):
        if tokens[at] in "MlHVz":
            way, at = tokens[at], at + 1
            continue
        number = float(tokens[at])
        if way in "HV":
            x, y, at = (number, y, at + 1) if way == "H" else (x, number, at + 1)
        else:
            other, at = float(tokens[at + 1]), at + 2
            x, y = (number, other) if way == "M" else (x + number, y + other)
        if way == "M":
            found.append([])
        found[-1].append((x, y))
    return [np.array(corners) for corners in found]


def is_filled(path: str, places: Floats) -> NDArray[np.bool_]:
    """Tell which places (point, 2) a path fills by the even-odd rule."""
    crossed = np.zeros(len(places), dtype=int)
    for corners in polygons(path):
        x, y = (corners[None] - places[:, None]).transpose(2, 0, 1)
        after_x, after_y = np.roll(x, -1, axis=1), np.roll(y, -1, axis=1)
        over = (y > 0) != (after_y > 0)
        rise = np.where(over, after_y - y, 1.0)
        crossed += (over & (x - y * (after_x - x) / rise > 0)).sum(axis=1)
    filled: NDArray[np.bool_] = crossed % 2 == 1
    return filled
