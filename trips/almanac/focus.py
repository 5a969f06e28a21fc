"""What to focus on in a night, and from when on: at dusk, or when it is first needed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sky.camera.sharpness import hyperfocal_m
from sky.focus import FocusStop, FocusTarget, focus_stops
from trips.almanac.windows import spot_place, spot_skyline
from trips.models import Night, Site, Spot

__all__ = ["Begins", "FocusPlan", "FocusStop", "FocusTarget", "far_enough_for", "focus_plan"]

Pair = tuple[float, float]

# Why the first stop is when it is.
Begins = Literal["dusk", "wanted", "out", "night"]
# Why there is none.
Lacking = Literal["never_dark", "over_before_dusk"]

# What a bag holds, for saying how far is far; two pixels of 4.3 µm at the f-number of a night.
FOCAL_LENGTHS_MM = (14, 24, 35, 50, 85, 135, 200, 300, 400)
F_NUMBER, CIRCLE_MM = 2.8, 0.0086
DARK_ALREADY = ("already_that_low", "never_that_high")


@dataclass(frozen=True, slots=True)
class FocusPlan:
    """The stops in order, and why the first is when it is; without any, `lacking` says why."""

    stops: tuple[FocusStop, ...]
    begins: Begins
    lacking: Lacking | None


def focus_plan(
    row: Night, site: Site, spot: Spot | None, *, out: Pair | None, wanted: Sequence[Pair]
) -> FocusPlan:
    """Plan from nautical dusk to nautical dawn, inside the hours in which people are `out`.

    It begins earlier where the first `wanted` span does, though not before civil dusk, and with
    that where it never gets that dark. Both in Unix seconds. Errors: those of Place and of the
    skyline.
    """
    first, last = out or (row.start.timestamp(), row.end.timestamp())
    first = max(first, row.civil_dusk.timestamp() if row.civil_dusk else first)
    found = _beginning(
        row, first, [max(start, first) for start, end in wanted if start < last and end > first]
    )
    if found is None:
        return FocusPlan((), "dusk", "never_dark")
    start, begins = found
    end = min(last, row.nautical_dawn.timestamp() if row.nautical_dawn else last)
    # A target wanted in twilight may be there after dawn alone.
    end = end if start < end else last
    stops = focus_stops(spot_place(site, spot), spot_skyline(spot), start, end)
    return FocusPlan(stops, begins, None if stops else "over_before_dusk")


def far_enough_for(distance_m: float) -> int | None:
    """Give the longest focal length in mm that is sharp at the stars when focused so far away."""
    sharp = [
        focal
        for focal in FOCAL_LENGTHS_MM
        if hyperfocal_m(focal, F_NUMBER, CIRCLE_MM) <= distance_m
    ]
    return max(sharp, default=None)


def _beginning(row: Night, first: float, wanted: Sequence[float]) -> tuple[float, Begins] | None:
    begun: tuple[float, Begins] | None = None
    if row.nautical_dusk:
        begun = row.nautical_dusk.timestamp(), "dusk"
    elif row.absent.get("nautical_dusk") in DARK_ALREADY:
        begun = row.start.timestamp(), "night"
    if begun and begun[0] < first:
        begun = first, "out"
    if wanted and (begun is None or min(wanted) < begun[0]):
        begun = min(wanted), "wanted"
    return begun
