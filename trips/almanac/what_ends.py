"""What ends a target's windows too early, or begins them too late: the Moon, or the land."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sky.moving import directions_at
from sky.targets.target import Arch
from sky.windows import Wanted
from trips.almanac.one_night import OneNight

Floats = NDArray[np.float64]

SAME_SECONDS = 1.0
# At an edge that the land has made a target stands on the skyline: edges are good to a second.
ON_LINE_DEGREES = 0.02


@dataclass(frozen=True, slots=True)
class Limit:
    """An end of a window, in Unix seconds: `until` it the Moon or the land was in the way, or is
    `from` it on."""

    by: Literal["moon", "land"]
    at: float
    is_until: bool


def limits_of(one: Wanted, spans: Floats, night: OneNight) -> tuple[Limit, ...]:
    """Tell the ends (span, 2) of a target's windows that the Moon or the land has set, in order."""
    if not len(spans):
        return ()
    ends = spans.ravel()
    by_moon, by_land = _are_of_moon(one, ends, night), _are_of_land(one, ends, night)
    return tuple(
        Limit("land" if land else "moon", at, is_until=number % 2 == 0)
        for number, (at, moon, land) in enumerate(zip(ends.tolist(), by_moon, by_land, strict=True))
        if moon or land
    )


def _are_of_moon(one: Wanted, ends: Floats, night: OneNight) -> NDArray[np.bool_]:
    """Tell the ends at which the light without the Moon begins or ends, and the dark does not."""
    if one.light != "moonless":
        return np.zeros(len(ends), np.bool_)
    moonless, dark = (night.light(light, one.dark_level) for light in ("moonless", "dark"))
    return _among(ends, moonless) & ~_among(ends, dark)


def _among(ends: Floats, spans: Floats) -> NDArray[np.bool_]:
    near: NDArray[np.bool_] = np.abs(ends[:, None] - spans.ravel()) < SAME_SECONDS
    result: NDArray[np.bool_] = np.logical_or.reduce(near, axis=1)
    return result


def _are_of_land(one: Wanted, ends: Floats, night: OneNight) -> NDArray[np.bool_]:
    """Tell the ends at which one of the target's points stands on the skyline."""
    points = [point for point in one.target.points if not isinstance(point, Arch)]
    found = np.zeros((len(points), len(ends)), np.bool_)
    if not night.skyline.is_level:
        for number, point in enumerate(points):
            seen = directions_at(point, night.place, ends)
            over = seen.altitude_degrees - night.skyline.at(seen.azimuth_degrees)
            found[number] = np.abs(over) < ON_LINE_DEGREES
    result: NDArray[np.bool_] = np.logical_or.reduce(found, axis=0)
    return result
