"""What a place sees of close pairs: the night of each, and how near they stand while up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sky.apparent import directions_toward
from sky.clock import night_holding, steps_of_night
from sky.close_pairs import CloseApproach, point_of, separation_of
from sky.constants import CIVIL_DEGREES
from sky.directions import Directions, directions_at
from sky.ephemeris import Floats
from sky.place import Place

STEP_SECONDS = 900.0
# Lower, haze takes what is not bright: common practice, no published source.
LEAST_ALTITUDE_DEGREES = 5.0


@dataclass(frozen=True, slots=True)
class PairNight:
    """A close pair in the night, from noon to noon, of its least separation, as a place sees it.

    `best` the moment, to a quarter of an hour, at which they stand nearest while the Sun is below
    −6° and both are at least 5° high; `separation_degrees` topocentric then; altitude and azimuth
    of the first of the pair, apparent.
    """

    approach: CloseApproach
    night: date
    best: datetime
    separation_degrees: float
    altitude_degrees: float
    azimuth_degrees: float


@lru_cache(maxsize=1024)
def nights_of_pairs(approaches: tuple[CloseApproach, ...], place: Place) -> tuple[PairNight, ...]:
    """Give those of the approaches that are seen in their night, in order.

    A pair that is up by day only, that stands beside the Sun or never rises is left out. Errors:
    `instant_outside`.
    """
    if not approaches:
        return ()
    nights = [night_holding(one.instant, place.zone) for one in approaches]
    steps = [steps_of_night(place.zone, night, STEP_SECONDS) for night in nights]
    unix = np.concatenate(steps)
    dusky = directions_at("sun", place, unix).altitude_geometric_degrees < CIVIL_DEGREES
    members = sorted({member for one in approaches for member in one.pair})
    seen = {member: directions_toward(point_of(member), place, unix) for member in members}
    ends = np.cumsum([len(each) for each in steps]).tolist()
    found = (
        _seen(one, night, np.arange(start, end)[dusky[start:end]], unix, seen)
        for one, night, start, end in zip(approaches, nights, [0, *ends], ends, strict=False)
    )
    return tuple(one for one in found if one)


def _seen(
    approach: CloseApproach,
    night: date,
    at: NDArray[np.intp],
    unix: Floats,
    seen: dict[str, Directions],
) -> PairNight | None:
    one, other = (_at(seen[member], at) for member in approach.pair)
    lower = np.minimum(one.altitude_degrees, other.altitude_degrees)
    separations = np.where(lower >= LEAST_ALTITUDE_DEGREES, separation_of(one, other), np.inf)
    if not np.isfinite(separations).any():
        return None
    best = int(np.argmin(separations))
    return PairNight(
        approach,
        night,
        best=datetime.fromtimestamp(float(unix[at[best]]), UTC),
        separation_degrees=float(separations[best]),
        altitude_degrees=float(one.altitude_degrees[best]),
        azimuth_degrees=float(one.azimuth_degrees[best]),
    )


def _at(seen: Directions, at: NDArray[np.intp]) -> Directions:
    return Directions(
        seen.altitude_degrees[at], seen.altitude_geometric_degrees[at], seen.azimuth_degrees[at]
    )
