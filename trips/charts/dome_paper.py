"""The paper of a whole sky: zenith in the middle, north up, east left, equidistant."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.dome import Standing, StarField
from sky.skyline import Skyline
from trips.charts.band_patches import patches
from trips.charts.name_places import uncovered
from trips.charts.name_room import Box, Places
from trips.charts.panorama import smoothed_line, thinned
from trips.charts.star_dots import Dots, star_dots

Floats = NDArray[np.float64]

# Below, a path or the band may be cut: far enough that the cut is never seen.
LOWEST_DEGREES = -4.0
LAND_STEP_DEGREES = 3.0


@dataclass(frozen=True, slots=True)
class DomePaper:
    """So many units from the zenith to the horizon; lines are moved by less than `unseen`."""

    horizon: int
    unseen: float = 0.0

    @property
    def scale(self) -> float:
        """Give the units of a degree."""
        return self.horizon / 90.0

    def projected(self, line: Floats) -> Places:
        """Give whole units to the west and the south of altitudes and azimuths: both (point, 2)."""
        result: Places = np.rint(self._projected(line)).astype(np.int64)
        return result

    def _projected(self, line: Floats) -> Floats:
        away, turn = self.scale * (90.0 - line[:, 0]), np.radians(line[:, 1])
        return np.stack((-away * np.sin(turn), -away * np.cos(turn)), axis=-1)

    def place(self, standing: Standing) -> tuple[int, int]:
        """Give the place of one: as `projected`, which is for many."""
        x, y = self.exact(standing)
        return round(x), round(y)

    def exact(self, standing: Standing) -> tuple[float, float]:
        away = self.scale * (90.0 - standing.altitude_degrees)
        turn = math.radians(standing.azimuth_degrees)
        return -away * math.sin(turn), -away * math.cos(turn)

    def points(self, standings: Iterable[Standing]) -> str:
        return "".join(f"M{x} {y}h0" for x, y in map(self.place, standings))

    def dots(self, stars: StarField, faintest: float, off: Sequence[Box] = ()) -> Iterator[Dots]:
        """Draw stars down to a magnitude, but for those under the boxes `off`."""
        count = int(np.searchsorted(stars.magnitudes, faintest, side="right"))
        places = self.projected(np.stack((stars.altitudes, stars.azimuths), axis=-1)[:count])
        shown = uncovered(places, off)
        return star_dots(places[shown], stars.magnitudes[:count][shown])

    def between(self, south: Floats, north: Floats) -> str:
        """Give what lies between two closed lines, where either is above the horizon, for an
        even-odd filling."""
        high = np.maximum(south[:, 0], north[:, 0])
        return patches(south, north, high > LOWEST_DEGREES, self.written)

    def lines(self, path: Floats) -> str:
        """Draw the pieces of a path (point, 2) that are above the horizon."""
        if not len(path):
            return ""
        up = path[:, 0] > LOWEST_DEGREES
        cuts = np.flatnonzero(np.diff(up.astype(np.int8))) + 1
        pieces = zip(np.split(path, cuts), np.split(up, cuts), strict=True)
        return "".join(f"M{self.written(piece)}" for piece, is_shown in pieces if is_shown[0])

    def written(self, points: Floats) -> str:
        if self.unseen:
            kept = np.rint(smoothed_line(self._projected(points), self.unseen)).astype(np.int64)
        else:
            kept = self.projected(points)
        return "L".join(f"{x} {y}" for x, y in kept.tolist())

    def land(self, outline: str) -> str:
        """Give the ring between the horizon and an outline, for an even-odd filling."""
        around = self.horizon
        half = f"A{around} {around} 0 1 0"
        return f"M{around} 0{half}{-around} 0{half} {around} 0z{outline}"

    def outline(self, skyline: Skyline, *, column: float = 0.0) -> str:
        """Draw the land's edge, of every so many degrees no more than what stands out."""
        around = np.arange(0.0, 360.0, LAND_STEP_DEGREES)
        azimuths = np.unique(np.concatenate((around, skyline.azimuths[1:-1])))
        # Where the land falls away below the level there is none to draw.
        altitudes = np.maximum(skyline.at(azimuths), 0.0)
        if column:
            edge = np.stack((azimuths, altitudes), axis=-1)
            azimuths, altitudes = thinned(edge, column=column).T
        return f"M{self.written(np.stack((altitudes, azimuths), axis=-1))}z"
