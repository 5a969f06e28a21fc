"""A skyline: how high the land stands in each direction, as straight lines between its points."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from sky.errors import SkyError

Floats = NDArray[np.float64]

# A point every tenth of a degree: finer than anybody measures or any lens shows.
MOST_POINTS = 3600


@dataclass(frozen=True)
class Skyline:
    """Apparent altitudes of the land by azimuth.

    `points` (azimuth, altitude) in degrees, azimuths from true north through east in [0, 360),
    ascending and without repeats; between two points the skyline is a straight line in those two
    coordinates, and it closes across north. No points: a level horizon, altitude 0 everywhere.
    Build one of what somebody measured with `skyline_of`, which checks and sorts.
    """

    points: tuple[tuple[float, float], ...] = ()

    @property
    def is_level(self) -> bool:
        """Tell whether nothing was measured."""
        return not self.points

    @cached_property
    def azimuths(self) -> Floats:
        """Give the azimuths of the points with those next to north repeated a turn away."""
        around = np.array([point[0] for point in self.points] or [0.0])
        return np.concatenate(([around[-1] - 360], around, [around[0] + 360]))

    @cached_property
    def altitudes(self) -> Floats:
        """Give the altitudes that belong to `azimuths`."""
        heights = np.array([point[1] for point in self.points] or [0.0])
        return np.concatenate(([heights[-1]], heights, [heights[0]]))

    def at(self, azimuth_degrees: Floats) -> Floats:
        """Give the altitude of the skyline toward azimuths of any turn, in degrees."""
        result: Floats = np.interp(azimuth_degrees % 360.0, self.azimuths, self.altitudes)
        return result

    def raised_to(self, least_degrees: float) -> Skyline:
        """Give the higher of the skyline and a level in every direction, as a skyline again.

        It has a point wherever the two cross, so that between its points it stays straight.
        """
        top = float(self.altitudes.max())
        if self.is_level or top <= least_degrees:
            return Skyline(((0.0, max(least_degrees, top)),))
        points = {}
        around = self.azimuths[1:].tolist(), self.altitudes[1:].tolist()
        for (azimuth, altitude), after in pairwise(zip(*around, strict=True)):
            points[azimuth] = max(altitude, least_degrees)
            if (altitude - least_degrees) * (after[1] - least_degrees) < 0:
                share = (least_degrees - altitude) / (after[1] - altitude)
                points[(azimuth + share * (after[0] - azimuth)) % 360] = least_degrees
        return Skyline(tuple(sorted(points.items())))


LEVEL = Skyline()


def skyline_of(points: Sequence[tuple[float, float]]) -> Skyline:
    """Check points (azimuth, altitude) in degrees and sort them into a skyline.

    Azimuth 360 is taken for 0. A repeated point with the same altitude counts once. One point is
    a level ring at its altitude. No points: `LEVEL`.
    Errors, with `number` counting the points from 1: `skyline_not_a_number`,
    `skyline_azimuth_outside` (0 to 360), `skyline_altitude_outside` (−90 to 90),
    `skyline_azimuth_twice` (two altitudes at one azimuth), `skyline_too_many` (MOST_POINTS).
    """
    if len(points) > MOST_POINTS:
        raise SkyError("skyline_too_many", points=len(points), most=MOST_POINTS)
    found: dict[float, float] = {}
    for number, (azimuth, altitude) in enumerate(points, 1):
        _check(number, azimuth, altitude)
        before = found.setdefault(azimuth % 360, altitude)
        if before != altitude:
            raise SkyError(
                "skyline_azimuth_twice",
                number=number, azimuth=azimuth, altitude=altitude, before=before,
            )  # fmt: skip
    return Skyline(tuple(sorted(found.items())))


def widest_gaps(skyline: Skyline) -> tuple[tuple[float, float], ...]:
    """Give the pairs of azimuths between which the most of the round has no point, in degrees.

    All that are equally wide, by their first azimuth; clockwise from the first of two to the
    second, which may be beyond 360. Of one point, the whole round from it to itself; of none, 0 to
    360.
    """
    if skyline.is_level:
        return ((0.0, 360.0),)
    around = skyline.azimuths[1:].tolist()
    gaps = list(pairwise(around))
    widest = max(last - first for first, last in gaps)
    return tuple(gap for gap in gaps if math.isclose(gap[1] - gap[0], widest, rel_tol=1e-9))


def _check(number: int, azimuth: float, altitude: float) -> None:
    if not (math.isfinite(azimuth) and math.isfinite(altitude)):
        raise SkyError("skyline_not_a_number", number=number)
    if not 0 <= azimuth <= 360:
        raise SkyError("skyline_azimuth_outside", number=number, azimuth=azimuth)
    if not -90 <= altitude <= 90:
        raise SkyError("skyline_altitude_outside", number=number, altitude=altitude)
