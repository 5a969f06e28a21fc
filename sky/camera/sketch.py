"""What a camera takes in at an instant, as values to be drawn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.camera.frame import Frame
from sky.dome import WholeSky

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Landmark:
    """Something on the land: its direction, the apparent altitude of its top, its width."""

    name: str
    azimuth_degrees: float
    top_degrees: float
    width_degrees: float


@dataclass(frozen=True, slots=True)
class Sketch:
    """A frame and what is in it.

    `sky.stars` are those of the frame alone. `starts` and `ends` (star, 2) are their places on the
    sensor, in mm as in `Frame.on_sensor`, when the exposure of `seconds` begins and when it is
    over.
    """

    frame: Frame
    sky: WholeSky
    landmarks: tuple[Landmark, ...]
    seconds: float
    starts: Floats
    ends: Floats

    @property
    def trails_px(self) -> Floats:
        """Give how many pixels each star moves on."""
        moved = np.hypot(*(self.ends - self.starts).T)
        result: Floats = moved * 1000 / self.frame.sensor.pixel_um
        return result
