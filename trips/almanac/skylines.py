"""Skylines of spots: checked, and the directions around them in which nobody measured."""

from __future__ import annotations

from sky.skyline import LEVEL, MOST_POINTS, Skyline, skyline_of, widest_gap

__all__ = ["LEVEL", "MOST_POINTS", "Skyline", "skyline_of", "stored_points", "wide_gap"]

# Between points farther apart the land can do anything: common practice, no published source.
WIDE_GAP_DEGREES = 60.0


def stored_points(skyline: Skyline) -> list[list[float]]:
    """Give the points as a row keeps them."""
    return [list(point) for point in skyline.points]


def wide_gap(skyline: Skyline) -> tuple[float, float] | None:
    """Give the two azimuths of the widest gap, if it is wide enough to be doubted.

    One point is a ring and says nothing of gaps; a level skyline was not measured at all.
    """
    first, last = widest_gap(skyline)
    if len(skyline.points) < 2 or last - first <= WIDE_GAP_DEGREES:
        return None
    return first, last % 360
