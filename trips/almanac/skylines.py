"""Skylines of spots: checked, and the directions around them in which nobody measured."""

from __future__ import annotations

from sky.skyline import LEVEL, MOST_POINTS, Skyline, skyline_of, widest_gaps

__all__ = ["LEVEL", "MOST_POINTS", "Skyline", "skyline_of", "stored_points", "wide_gaps"]

# Between points farther apart the land can do anything: common practice, no published source.
WIDE_GAP_DEGREES = 60.0


def stored_points(skyline: Skyline) -> list[list[float]]:
    """Give the points as a row keeps them."""
    return [list(point) for point in skyline.points]


def wide_gaps(skyline: Skyline) -> list[tuple[float, float]]:
    """Give the azimuths of the widest gaps, if they are wide enough to be doubted.

    One point is a ring and says nothing of gaps; a level skyline was not measured at all.
    """
    gaps = widest_gaps(skyline)
    first, last = gaps[0]
    if len(skyline.points) < 2 or last - first <= WIDE_GAP_DEGREES:
        return []
    return [(first, last % 360) for first, last in gaps]
