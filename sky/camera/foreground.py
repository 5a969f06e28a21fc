"""A frame for the land in front, to be joined with one of the sky: when its light is there.

Times only. No rule with a source says how a twilight or a moonlit land is exposed: the light falls
by half within minutes, and land is anything from snow to basalt. Try, look, and try again.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.lights import light_spans
from sky.night import SeasonTable

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ForegroundTimes:
    """Spans (span, 2) in Unix seconds, sorted, cut at noons; none where there is no such light."""

    twilight: Floats
    moonlit: Floats


def foreground_times(table: SeasonTable, index: int) -> ForegroundTimes:
    """Give when the land can be photographed at a place of a table, by the lights of that name.

    A Moon behind the skyline leaves the land in its shadow: cut `moonlit` with the skyline.
    """
    return ForegroundTimes(
        light_spans(table, index, "twilight"), light_spans(table, index, "moonlit")
    )
