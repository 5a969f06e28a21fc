"""The paper that a frame is sketched on: mm of the sensor as units of the picture, lines as paths.

The longer side is 2000 units. Lines run on beyond the frame for a while and are cut there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sky.camera.frame import Frame
from sky.dome import Standing
from trips.charts.panorama import smoothed_line

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Units = NDArray[np.int64]
Stand = tuple[int, int]

LONG_SIDE = 2000
# So far beyond the frame's edge a line may be bent. A step of it must be shorter than that.
MARGIN, FAR_MARGIN = 250.0, 9000.0
UNSEEN = 1.5
# Around a ring outside the frame a line goes in steps no longer than this.
RING_STEP_DEGREES = 20.0


@dataclass(frozen=True)
class Paper:
    frame: Frame

    @cached_property
    def scale(self) -> float:
        """Give the units of a millimetre."""
        sensor = self.frame.sensor
        return LONG_SIDE / max(sensor.width_mm, sensor.height_mm)

    @cached_property
    def size(self) -> tuple[int, int]:
        sensor = self.frame.sensor
        return round(sensor.width_mm * self.scale), round(sensor.height_mm * self.scale)

    @cached_property
    def _corner(self) -> Floats:
        sensor = self.frame.sensor
        return np.array((-sensor.width_mm, sensor.height_mm)) / 2

    @cached_property
    def _scales(self) -> Floats:
        return np.array((self.scale, -self.scale))

    def exact(self, places: Floats) -> Floats:
        """Give units to the right and down from the upper left corner of places (…, 2) in mm."""
        result: Floats = (places - self._corner) * self._scales
        return result

    def units(self, places: Floats) -> Units:
        result: Units = np.rint(self.exact(places)).astype(np.int64)
        return result

    def stands(self, standings: Sequence[Standing]) -> list[Stand | None]:
        """Give where each stands on the paper, in whole units; None of what the frame does not
        hold, or what is below the horizon."""
        directions = [(one.altitude_degrees, one.azimuth_degrees) for one in standings]
        places = self.frame.on_sensor(*np.array(directions or np.empty((0, 2))).T)
        units = np.rint(self.exact(np.nan_to_num(places))).astype(np.int64).tolist()
        shown = zip(units, self.frame.shows(places).tolist(), standings, strict=True)
        return [(x, y) if is_shown and one.is_up else None for (x, y), is_shown, one in shown]

    def line(self, places: Floats) -> str:
        """Draw the pieces of a line (point, 2) in mm that are in the frame or just outside it."""
        on_paper = self.exact(places)
        near = self._is_near(on_paper)
        shown = near | np.append(near[1:], False) | np.append(False, near[:-1])
        pieces = np.flatnonzero(np.diff(shown, prepend=False, append=False)).reshape(-1, 2)
        return "".join(f"M{self.written(on_paper[start:end])}" for start, end in pieces.tolist())

    def written(self, on_paper: Floats) -> str:
        """Write a line (point, 2) in units as path data, without its M: first where it begins,
        then each step. What is far outside is drawn nearer."""
        return self._drawn(on_paper, MARGIN)

    def far_written(self, on_paper: Floats) -> str:
        """Write a line whose steps are longer than the margin."""
        return self._drawn(on_paper, FAR_MARGIN)

    def _drawn(self, on_paper: Floats, margin: float) -> str:
        inside = np.clip(on_paper, -margin, np.array(self.size) + margin)
        kept = np.rint(smoothed_line(inside, UNSEEN)).astype(np.int64)
        steps = np.diff(kept, axis=0)
        steps = steps[steps.any(axis=1)]
        (x, y), moves = kept[0], " ".join(map(str, steps.ravel().tolist()))
        return f"{x} {y}" + (f"l{moves}".replace(" -", "-") if moves else "")

    def _is_near(self, on_paper: Floats) -> Bools:
        width, height = self.size
        x, y = on_paper[:, 0], on_paper[:, 1]
        near: Bools = (x > -MARGIN) & (x < width + MARGIN) & (y > -MARGIN) & (y < height + MARGIN)
        return near


def around_ring(loop: Floats) -> Floats:
    """Lead a closed line (point, 2) in mm around the frame's middle wherever it would jump past
    it: from one far place to another it walks in a circle, the short way."""
    return np.concatenate(list(_walked(loop)))


def _walked(loop: Floats) -> Iterator[Floats]:
    turns = np.degrees(np.arctan2(loop[:, 1], loop[:, 0]))
    far = np.hypot(*loop.T)
    onward = (np.roll(turns, -1) - turns + 180) % 360 - 180
    ring = far.max() * (1 - 1e-9)
    jumps = np.flatnonzero(
        (np.abs(onward) > RING_STEP_DEGREES) & (far >= ring) & (np.roll(far, -1) >= ring)
    )
    before = 0
    for jump in jumps.tolist():
        yield loop[before : jump + 1]
        steps = np.arange(RING_STEP_DEGREES, abs(onward[jump]), RING_STEP_DEGREES)
        angles = np.radians(turns[jump] + np.sign(onward[jump]) * steps)
        yield far[jump] * np.stack((np.cos(angles), np.sin(angles)), axis=-1)
        before = jump + 1
    yield loop[before:]


def is_in_loop(loop: Floats, place: Floats) -> bool:
    """Tell whether a place lies inside a closed line (point, 2), by the even-odd rule."""
    x, y = (loop - place).T
    after_x, after_y = np.roll(x, -1), np.roll(y, -1)
    crosses = (y > 0) != (after_y > 0)
    rise = np.where(crosses, after_y - y, 1.0)
    return bool(np.count_nonzero(crosses & (x - y * (after_x - x) / rise > 0)) % 2)
