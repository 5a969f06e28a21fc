"""Skyglow along a skyline: by sectors of the horizon, in tones that lie one over another.

A sector's light stands over its land in steps, the denser the lower: one step more for about three
times as much light. How high it is drawn says how much, and is no altitude.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sky.skyline import Skyline
from trips.charts.panorama import Panorama, number

# Shares of the natural background in a sector of 10°: from what is hardly seen to a town's edge.
STEPS = (0.003, 0.01, 0.03, 0.1, 0.3)
STEP_DEGREES = 4.0  # drawn, of altitude


@dataclass(frozen=True, slots=True)
class Sector:
    """A stretch of the horizon by its middle and width in degrees; `steps` 0 to 5."""

    azimuth: float
    width: float
    steps: int


def steps_of(share: float) -> int:
    return bisect_right(STEPS, share)


def glow_top(skyline: Skyline, sector: Sector) -> float:
    """Give the altitude that a sector's light is drawn to."""
    return _land(skyline, sector) + sector.steps * STEP_DEGREES


def glow_layers(view: Panorama, skyline: Skyline, sectors: Sequence[Sector]) -> list[str]:
    """Give a path for each step: all lie on the ground, where they add up."""
    layers = (
        "".join(block for one in sectors for block in _blocks(view, skyline, one, layer))
        for layer in range(len(STEPS))
    )
    return [layer for layer in layers if layer]


def _blocks(view: Panorama, skyline: Skyline, one: Sector, layer: int) -> Iterator[str]:
    """Draw one step of a sector; one across the cut of the round is drawn on both sides of it."""
    if one.steps <= layer:
        return
    top = number(view.y(_land(skyline, one) + (one.steps - layer) * STEP_DEGREES))
    for turn in (-360, 0, 360):
        left, right = (
            round((one.azimuth + side * one.width / 2 + turn - view.first) * view.width / view.span)
            for side in (-1, 1)
        )
        if right > 0 and left < view.width:
            yield f"M{left} {number(view.height)}V{top}H{right}V{number(view.height)}z"


def _land(skyline: Skyline, one: Sector) -> float:
    """Give how high the land stands in a sector, where it is highest, or the level."""
    across = np.linspace(one.azimuth - one.width / 2, one.azimuth + one.width / 2, 11)
    return max(0.0, float(skyline.at(across % 360).max()))
