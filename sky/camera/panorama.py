"""A picture of several frames: how many, in which rows, and how far to turn between them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sky.camera.drift import SIDEREAL_RADIANS_PER_SECOND
from sky.camera.field import edge_mm
from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.projection import angle_degrees
from sky.camera.sensor import Sensor
from sky.constants import DEGREE
from sky.errors import SkyError

# Share of a frame that its neighbour shows too, and seconds to turn: common practice.
OVERLAP, PAUSE_SECONDS = 0.3, 5.0
SIDE_SAMPLES = 33


@dataclass(frozen=True, slots=True)
class Row:
    """Frames side by side at one tilt, degrees; `turn_degrees` from one to the next."""

    altitude_degrees: float
    frames: int
    turn_degrees: float

    @property
    def azimuths(self) -> tuple[float, ...]:
        """Where each frame looks, in degrees from the middle of the panorama."""
        first = -self.turn_degrees * (self.frames - 1) / 2
        return tuple(first + self.turn_degrees * n for n in range(self.frames))


@dataclass(frozen=True, slots=True)
class Panorama:
    """Rows from the lowest up; `seconds` from the first shutter to the last one's end.

    `sky_turn_degrees` is how far the sky turns from the first frame to the last, `sky_turn_px`
    how many pixels that is on the celestial equator.
    """

    rows: tuple[Row, ...]
    seconds: float
    sky_turn_degrees: float
    sky_turn_px: float

    @property
    def frames(self) -> int:
        return sum(row.frames for row in self.rows)


def plan_panorama(
    lens: Lens,
    sensor: Sensor,
    *,
    width_degrees: float,
    lowest: float,
    highest: float,
    seconds: float,
    overlap: float = OVERLAP,
    pause_seconds: float = PAUSE_SECONDS,
) -> Panorama:
    """Plan the frames that cover a width in azimuth between two altitudes, both in degrees.

    `sensor` as the camera is held; `seconds` of a frame; `overlap` a share of a frame, at least.
    Frames are narrowest in azimuth where they are nearest to the horizon, and there they overlap
    as asked: the higher a row, the wider its turns. A turn of more than a degree is a whole one,
    as heads are marked. Of a fisheye's circle the square inside counts.
    Errors: `wanted_field_outside`, `altitude_outside`, `panorama_upside_down`,
    `exposure_time_outside`, `overlap_outside`, `pause_outside`, `not_a_number`.
    """
    check("wanted_field", width_degrees)
    check("altitude", lowest)
    check("altitude", highest)
    check("exposure_time", seconds)
    check("overlap", overlap)
    check("pause", pause_seconds)
    if lowest >= highest:
        raise SkyError("panorama_upside_down", lowest=lowest, highest=highest)
    half = _half_sides(lens, sensor)
    rows = tuple(
        _row(lens, half, altitude, width_degrees, overlap)
        for altitude in _altitudes(2 * lens.angle_degrees(half[1]), lowest, highest, overlap)
    )
    frames = sum(row.frames for row in rows)
    until_last = (frames - 1) * (seconds + pause_seconds)
    turned = SIDEREAL_RADIANS_PER_SECOND * until_last
    return Panorama(
        rows,
        seconds=until_last + seconds,
        sky_turn_degrees=turned / DEGREE,
        sky_turn_px=turned * lens.focal_mm * 1000 / sensor.pixel_um,
    )


def width_in_azimuth(lens: Lens, sensor: Sensor, altitude: float) -> float:
    """Give the degrees of azimuth that a frame tilted to an altitude shows over all its height.

    360 once it looks past the zenith with the whole of its sides.
    """
    return _width(lens, _half_sides(lens, sensor), altitude)


def _half_sides(lens: Lens, sensor: Sensor) -> tuple[float, float]:
    """Give half the width and half the height that are drawn, in mm."""
    inside = edge_mm(lens, sensor) / math.sqrt(2)
    if edge_mm(lens, sensor) < sensor.diagonal_mm / 2:
        return min(sensor.width_mm / 2, inside), min(sensor.height_mm / 2, inside)
    return sensor.width_mm / 2, sensor.height_mm / 2


def _width(lens: Lens, half: tuple[float, float], altitude: float) -> float:
    """Follow the right side of the frame, and see where it is nearest to the middle's azimuth."""
    x, y = half[0], np.linspace(-half[1], half[1], SIDE_SAMPLES)
    radius = np.hypot(x, y)
    theta = angle_degrees(radius, lens.focal_mm, lens.projection) * DEGREE
    aside, up = np.sin(theta) * x / radius, np.sin(theta) * y / radius
    tilt = altitude * DEGREE
    ahead = np.cos(theta) * math.cos(tilt) - up * math.sin(tilt)
    return 2 * float(np.arctan2(aside, ahead).min()) / DEGREE


def _altitudes(field: float, lowest: float, highest: float, overlap: float) -> list[float]:
    """Spread rows evenly, the lowest from the bottom, the highest to the top."""
    span = highest - lowest
    if field >= span:
        return [(lowest + highest) / 2]
    steps = math.ceil((span - field) / (field * (1 - overlap)))
    first = lowest + field / 2
    return [first + (span - field) * step / steps for step in range(steps + 1)]


def _row(
    lens: Lens, half: tuple[float, float], altitude: float, wanted: float, overlap: float
) -> Row:
    shown = _width(lens, half, altitude)
    turn = shown * (1 - overlap)
    turn = float(math.floor(turn)) if turn >= 1 else turn
    beside = math.ceil(max(wanted - shown, 0) / turn)
    return Row(altitude, min(beside + 1, math.ceil(360 / turn)), turn)
