"""The Milky Way as a band to be drawn: its edges in two tones, with the dark lane in the brighter.

Drawn by eye from what every clear night shows, with no published source: wide and bright toward
Sagittarius, narrow toward Auriga, split from Cygnus to Scorpius. A picture, not a brightness.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sky.apparent import unit_vectors
from sky.galactic import to_icrs
from sky.targets.target import FixedPoint

Floats = NDArray[np.float64]

STEP_DEGREES = 2.5
# Where the lane begins and ends along the band, in galactic longitude; it is widest between.
LANE_FROM_DEGREES, LANE_TO_DEGREES = -25.0, 85.0


@dataclass(frozen=True, slots=True)
class Edges:
    """Galactic latitudes of what is drawn, in degrees, by galactic longitude: shapes (step,).

    The longitudes go once around and end where they began. `lane` is inside `bright`, and that
    inside `faint`: each the southern and the northern edge. Outside the lane both of its edges
    are the same.
    """

    longitudes: Floats
    faint: tuple[Floats, Floats]
    bright: tuple[Floats, Floats]
    lane: tuple[Floats, Floats]


def edges() -> Edges:
    """Give the edges of the band all around."""
    around = np.arange(-180.0, 180.0 + STEP_DEGREES / 2, STEP_DEGREES)
    bulge = np.exp(-((around / 22.0) ** 2))
    half = 7.0 + 2.0 * np.cos(np.radians(around)) + 5.0 * bulge
    middle = -1.0 * bulge
    along = (around - LANE_FROM_DEGREES) / (LANE_TO_DEGREES - LANE_FROM_DEGREES)
    inside = np.sin(np.pi * np.clip(along, 0.0, 1.0))
    lane, lane_half = middle + 2.6 * inside, 1.9 * inside
    return Edges(
        longitudes=around,
        faint=(middle - half, middle + half),
        bright=(middle - 0.55 * half, middle + 0.55 * half),
        lane=(lane - lane_half, lane + lane_half),
    )


@lru_cache(maxsize=1)
def edge_vectors() -> Floats:
    """Give the edges as ICRS unit vectors (edge, step, 3).

    In the order of `EDGES`: faint south and north, bright south and north, lane south and north,
    and last the galactic equator itself.
    """
    found = edges()
    latitudes = (*found.faint, *found.bright, *found.lane, np.zeros_like(found.longitudes))
    return np.stack([_icrs(found.longitudes, each) for each in latitudes])


EDGES = ("faint_south", "faint_north", "bright_south", "bright_north",
         "lane_south", "lane_north", "equator")  # fmt: skip


def _icrs(longitudes: Floats, latitudes: Floats) -> Floats:
    # As unit vectors, longitude and latitude are to a frame what RA and Dec are to ICRS.
    points = zip(longitudes.tolist(), latitudes.tolist(), strict=True)
    return to_icrs(unit_vectors([FixedPoint(*point) for point in points]))
