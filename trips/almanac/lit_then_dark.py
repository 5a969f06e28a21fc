"""Nights of a season on which the Moon lights a landmark's face from the side, and it is dark."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sky.lights import HIGHEST_MOON_DEGREES, light_spans
from sky.lit_then_dark import (
    LEAST_DARK_SECONDS,
    LEAST_LIT_SECONDS,
    USUAL_LIGHT,
    LitAndDark,
    SideLight,
    lit_and_dark,
    side_lit_spans,
)
from sky.nights import compute_season
from sky.span_arrays import intersect
from sky.windows import Wanted, find_windows
from trips.almanac.dusks import civil_dusks
from trips.almanac.local_time import local
from trips.almanac.places import place_of
from trips.almanac.spots import place_of_spot, skyline_of_spot
from trips.almanac.windows import Entry, wanted_of, wanted_row
from trips.models import Landmark, Spot

__all__ = [
    "HIGHEST_MOON_DEGREES",
    "USUAL_LIGHT",
    "FaceNight",
    "FaceSeason",
    "LitAndDark",
    "SideLight",
    "face_record",
    "is_seen_from",
]

Floats = NDArray[np.float64]
Pair = tuple[float, float]

ONE_DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class FaceNight:
    """A night, named by its evening, and what it has."""

    night: date
    found: LitAndDark


@dataclass(frozen=True, slots=True)
class FaceNights:
    """The nights of a season in order, and in how many there would be one of the two."""

    nights: tuple[FaceNight, ...]
    lit_count: int
    dark_count: int


class FaceSeason:
    """A season at a spot, whose nights are its site's. Errors: those of Place and of the skyline.

    `dark` is the moonless dark in which an entry of a list stands right, whatever light it is
    wanted in; without an entry, all of it.
    """

    def __init__(self, spot: Spot, first: date, last: date) -> None:
        self._table = compute_season([place_of(spot.site)], first, last)
        self._place, self._skyline = place_of_spot(spot), skyline_of_spot(spot)

    def evenings(self) -> Mapping[date, datetime | None]:
        """Give the civil dusk of every night."""
        dusks, first = civil_dusks(self._table), self._table.first
        nights = (first + n * ONE_DAY for n in range(self._table.nights))
        return {night: dusks.get(night) for night in nights}

    def lit(self, face_degrees: float, light: SideLight = USUAL_LIGHT) -> Floats:
        """Give when the Moon lights a face from the side. Errors: those of `side_lit_spans`."""
        return side_lit_spans(self._table, 0, self._place, self._skyline, face_degrees, light=light)

    def dark(self, entry: Entry | None, dark_level: int) -> Floats:
        """Errors: those of `target_of`."""
        if entry is None:
            return light_spans(self._table, 0, "moonless", dark_level)
        row = wanted_of(wanted_row(entry, dark_level))
        wanted = Wanted(row.target, "moonless", row.least_altitude_degrees, dark_level)
        (windows,) = find_windows([wanted], self._place, self._skyline, self._table)
        return windows.spans

    def nights(
        self, face_degrees: float, lit: Floats, dark: Floats, hours: Sequence[Pair]
    ) -> FaceNights:
        """Give the nights that have both inside the hours, a pair of Unix seconds a night."""
        out = np.array(hours, np.float64).reshape(-1, 2)
        out = out[out[:, 1] > out[:, 0]]
        lit, dark = intersect(lit, out), intersect(dark, out)
        found = lit_and_dark(self._table, 0, self._place, face_degrees, lit=lit, dark=dark)
        return FaceNights(
            tuple(FaceNight(self._table.first + one.night * ONE_DAY, one) for one in found),
            lit_count=self._count(lit, LEAST_LIT_SECONDS),
            dark_count=self._count(dark, LEAST_DARK_SECONDS),
        )

    def _count(self, spans: Floats, least_seconds: float) -> int:
        """Count the nights with a span so long."""
        lasting = spans[spans[:, 1] - spans[:, 0] >= least_seconds, 0]
        return len(np.unique(np.searchsorted(self._table.noons[0], lasting, side="right")))


def is_seen_from(landmark: Landmark) -> bool:
    """Tell whether a face looks toward the spot that its landmark is seen from."""
    if landmark.face_degrees is None:
        return False
    toward_spot = landmark.azimuth_degrees + 180.0
    return abs((landmark.face_degrees - toward_spot + 180.0) % 360.0 - 180.0) < 90.0


def face_record(one: FaceNight, zone: str) -> dict[str, Any]:
    """Give the record for CSV: local times with offset, to the second; degrees."""
    found = one.found
    return {
        "night": one.night.isoformat(),
        "first": "lit" if found.is_lit_first else "dark",
        "lit_from": _second(found.lit[0], zone),
        "lit_to": _second(found.lit[1], zone),
        "dark_from": _second(found.dark[0], zone),
        "dark_to": _second(found.dark[1], zone),
        "moon_altitude": round(found.altitude_degrees, 2),
        "moon_azimuth": round(found.azimuth_degrees, 2) % 360,
        "moon_illuminated": round(found.illuminated, 4),
        "angle": round(found.angle_degrees, 2),
        "from": "left" if found.is_from_left else "right",
    }


def _second(unix: float, zone: str) -> str:
    return local(float(round(unix)), zone).isoformat()
