"""The numbers that cameras offer: ISO in thirds of a stop, and shutter times.

What is written on cameras is rounded, by habit and not by a rule: from memory, common practice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

# 12 800 and the two after it double, to beyond what sensors are good for.
_ISO_TO_10000 = (
    100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1250, 1600, 2000, 2500, 3200, 4000,
    5000, 6400, 8000, 10_000,
)  # fmt: skip
ISO_STEPS = _ISO_TO_10000 + tuple(
    first * 2**doubled for doubled in range(6) for first in (12_800, 16_000, 20_000)
)

# Seconds; longer than 30 s needs a release that holds the shutter open.
SHUTTER_STEPS = (
    *(1 / n for n in (8000, 6400, 5000, 4000, 3200, 2500, 2000, 1600, 1250, 1000, 800, 640, 500)),
    *(1 / n for n in (400, 320, 250, 200, 160, 125, 100, 80, 60, 50, 40, 30, 25, 20, 15, 13, 10)),
    *(1 / 8, 1 / 6, 1 / 5, 1 / 4, 0.3, 0.4, 0.5, 0.6, 0.8, 1.0, 1.3, 1.6, 2.0, 2.5, 3.2, 4.0),
    *(5.0, 6.0, 8.0, 10.0, 13.0, 15.0, 20.0, 25.0, 30.0),
)


def nearest_step(value: float, steps: Sequence[float]) -> float:
    """Give the step that is the fewest stops away; its ends where the value is beyond them."""
    return min(steps, key=lambda step: abs(math.log(step / value)))


def longest_step(seconds: float) -> float:
    """Give the longest shutter step that is no longer, or the shortest there is."""
    return max((step for step in SHUTTER_STEPS if step <= seconds), default=SHUTTER_STEPS[0])
