"""A picture of several frames: how many, in which rows, and how far to turn between them.

A tilted frame is no rectangle of azimuth and altitude. Its sides are nearest to its middle's
azimuth where they are nearest to the horizon: there neighbours overlap as asked, and the higher a
row, the wider its turns. Its upper and lower edges bend: what counts of them is what is shown at
every azimuth that no neighbour shows better.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache, cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sky.camera.drift import SIDEREAL_RADIANS_PER_SECOND
from sky.camera.field import edge_mm
from sky.camera.frame import Frame, Pointing
from sky.camera.lens import Lens
from sky.camera.limits import check
from sky.camera.sensor import Sensor
from sky.constants import DEGREE
from sky.errors import SkyError

Floats = NDArray[np.float64]

# Share of a frame that its neighbour shows too, and seconds to turn: common practice.
OVERLAP, PAUSE_SECONDS = 0.3, 5.0
SAMPLES = 65
# So near to the zenith azimuths mean nothing.
NEAR_DEGREES = 1e-6
# Each step toward the outermost rows leaves a tenth of what is missing, of some degrees at first.
STEPS = 5
LEAST_STEP_DEGREES = 0.01

# The lowest and the highest altitude that the row of a tilt shows at every azimuth, degrees.
Shown = Callable[[float], tuple[float, float]]


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
    A turn of more than a degree is a whole one, as heads are marked. Of a fisheye's circle the
    square inside counts.
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

    @cache
    def tilted(tilt: float) -> _Tilted:
        return _Tilted(lens, sensor, tilt)

    def shown(tilt: float) -> tuple[float, float]:
        return tilted(tilt).shown(width_degrees, overlap)

    tilts = _tilts(shown, overlap, lowest, highest)
    rows = tuple(tilted(tilt).row(width_degrees, overlap) for tilt in tilts)
    frames = sum(row.frames for row in rows)
    until_last = (frames - 1) * (seconds + pause_seconds)
    turned = SIDEREAL_RADIANS_PER_SECOND * until_last
    return Panorama(
        rows,
        seconds=until_last + seconds,
        sky_turn_degrees=turned / DEGREE,
        sky_turn_px=turned * lens.focal_mm * 1000 / sensor.pixel_um,
    )


def _tilts(shown: Shown, overlap: float, lowest: float, highest: float) -> list[float]:
    """Spread rows evenly from one that just shows the lowest to one that just shows the highest."""
    middle = (lowest + highest) / 2
    low = -_least_tilt(lambda tilt: -shown(-tilt)[0], -middle, -lowest)
    high = _least_tilt(lambda tilt: shown(tilt)[1], middle, highest)
    if high <= low:
        return _one_row(shown, high, low, lowest, highest)
    bottom, top = shown(low)
    gaps = math.ceil((high - low) / ((top - bottom) * (1 - overlap)))
    while True:
        tilts = [low + (high - low) * row / gaps for row in range(gaps + 1)]
        if _overlap(map(shown, tilts), overlap):
            return tilts
        gaps += 1


def _one_row(shown: Shown, low: float, high: float, lowest: float, highest: float) -> list[float]:
    """Give the tilt in the middle, or else one that shows both; two where the jumps allow none."""
    for tilt in ((low + high) / 2, low, high):
        bottom, top = shown(tilt)
        if bottom <= lowest and highest <= top:
            return [tilt]
    return [low, high]


def _least_tilt(top: Callable[[float], float], tilt: float, wanted: float) -> float:
    """Give about the least tilt whose row shows up to what is wanted, from one of some degrees off.

    What a row shows jumps down where it can do with a frame less: a step may fall short by that, so
    that the last ones only climb.
    """
    for _step in range(STEPS):
        tilt = _tilt(tilt + wanted - top(tilt))
    while (missing := wanted - top(tilt)) > 0:
        tilt = _tilt(tilt + max(missing, LEAST_STEP_DEGREES))
    return tilt


def _overlap(rows: Iterable[tuple[float, float]], overlap: float) -> bool:
    """Tell whether each row shows as much of the next, at least: of rows that take in less than
    the lowest, since what they show depends on their tilt."""
    return all(
        below[1] - above[0] >= overlap * min(below[1] - below[0], above[1] - above[0])
        for below, above in pairwise(rows)
    )


def _tilt(altitude: float) -> float:
    return min(max(altitude, -90.0), 90.0)


@dataclass(frozen=True)
class _Tilted:
    """A frame that looks at azimuth 0, tilted to an altitude."""

    lens: Lens
    sensor: Sensor
    altitude: float

    def row(self, width: float, overlap: float) -> Row:
        """Give the frames side by side that cover a width in azimuth."""
        turn = self.width * (1 - overlap)
        turn = float(math.floor(turn)) if turn >= 1 else turn
        beside = math.ceil(max(width - self.width, 0) / turn)
        return Row(self.altitude, min(beside + 1, math.ceil(360 / turn)), turn)

    def shown(self, width: float, overlap: float) -> tuple[float, float]:
        """Give the lowest and the highest altitude that such a row shows at every azimuth."""
        row = self.row(width, overlap)
        outside = width / 2 - row.turn_degrees * (row.frames - 1) / 2
        aside = max(outside, row.turn_degrees / 2 if row.frames > 1 else 0.0)
        return -self._edge(-1, aside), self._edge(1, aside)

    @cached_property
    def width(self) -> float:
        """Give the degrees of azimuth that the frame shows over all its height."""
        x, y = self._half
        _, azimuths = self._toward(np.full(SAMPLES, x), np.linspace(-y, y, SAMPLES))
        return 2 * float(azimuths.min())

    @cached_property
    def _half(self) -> tuple[float, float]:
        """Give half the width and half the height that are drawn, in mm."""
        edge = edge_mm(self.lens, self.sensor)
        half = self.sensor.width_mm / 2, self.sensor.height_mm / 2
        if edge >= math.hypot(*half):
            return half
        return min(half[0], edge / math.sqrt(2)), min(half[1], edge / math.sqrt(2))

    def _edge(self, side: int, aside: float) -> float:
        """Give how high the upper edge (1) is at least, so far aside; of the lower one (−1) how
        low, downward positive. The zenith in the picture ends it at 90°."""
        x, y = self._half
        if side * self.altitude + self.lens.angle_degrees(y) >= 90 - NEAR_DEGREES:
            return 90.0
        altitudes, azimuths = self._toward(np.linspace(0, x, SAMPLES), np.full(SAMPLES, side * y))
        heights = side * altitudes
        at_aside = np.interp(aside, azimuths, heights)
        return float(min(at_aside, heights[0], *heights[azimuths <= aside]))

    def _toward(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Give altitudes and azimuths (−180 to 180) of places of the picture, in degrees."""
        frame = Frame(Pointing(0.0, self.altitude), self.lens, self.sensor)
        altitudes, azimuths = frame.toward(np.stack((x, y), axis=-1))
        return altitudes, (azimuths + 180) % 360 - 180
