"""A frame for the land in front, to be joined with one of the sky: when its light is there.

Times only. No rule with a source says how a twilight or a moonlit land is exposed: dusk halves
within minutes, and land is anything from snow to basalt.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.lights import light_spans
from sky.moving import moving_spans
from sky.night import SeasonTable
from sky.place import Place
from sky.skyline import Skyline
from sky.span_arrays import intersect
from sky.targets.target import Body

Floats = NDArray[np.float64]

MOON = Body("moon")


@dataclass(frozen=True, slots=True)
class ForegroundTimes:
    """Spans (span, 2) in Unix seconds, sorted, cut at noons; none where there is no such light."""

    twilight: Floats
    moonlit: Floats


def foreground_times(
    table: SeasonTable, index: int, place: Place, skyline: Skyline
) -> ForegroundTimes:
    """Give when the land is lit, by the lights of those names at a place of a table.

    A Moon behind the skyline of `place` leaves the land there in its shadow.
    """
    moonlit = light_spans(table, index, "moonlit")
    if len(moonlit):
        moonlit = intersect(moonlit, moving_spans(MOON, place, skyline, moonlit))
    return ForegroundTimes(light_spans(table, index, "twilight"), moonlit)
