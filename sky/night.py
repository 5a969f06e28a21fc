"""Value types of a computed season: a table of arrays, and one night as a row. No computing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

import numpy as np
from numpy.typing import NDArray

from sky.crossings import Crossings
from sky.place import Place
from sky.spans import Span, Spans

# Dark is the Sun's centre below this many degrees; a season chooses one, all are computed.
DARK_LEVELS = (-18, -15, -12)


@dataclass(frozen=True, slots=True)
class Night:
    """From local civil noon to the next, named by the evening's date.

    Instants are UTC. An event that does not happen is None (or an empty tuple), and `absent`
    maps its name to a word why:

    - sunset, sunrise: `sun_never_sets`, `sun_never_rises`, `sun_already_down`, `sun_still_down`
    - dusks and dawns: `never_that_low`, `never_that_high`, `already_that_low`, `still_that_low`
    - moonrise, moonset: `moon_never_sets`, `moon_never_rises`
    - moonrise alone: `moon_already_up`; moonset alone: `moon_still_up`
    - dark (at −18°, or `dark_15`, `dark_12`): `never_dark`
    - moonless (or `moonless_15`, `moonless_12`): `never_dark`, `moon_up_while_dark`
    """

    date: date
    span: Span
    sunset: datetime | None
    civil_dusk: datetime | None
    nautical_dusk: datetime | None
    astronomical_dusk: datetime | None
    astronomical_dawn: datetime | None
    nautical_dawn: datetime | None
    civil_dawn: datetime | None
    sunrise: datetime | None
    moonrises: tuple[datetime, ...]
    moonsets: tuple[datetime, ...]
    moon_illuminated: float  # geocentric fraction 0–1 in the middle of the night
    moon_waxing: bool
    dark: Mapping[int, Spans]  # by dark level: −18, −15, −12
    moonless: Mapping[int, Spans]
    dark_hours: Mapping[int, float]
    moonless_hours: Mapping[int, float]
    absent: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class SeasonTable:
    """Every night of a season at several places, as arrays.

    `noons` (place, night + 1) Unix seconds; night k is noons[k] to noons[k + 1], and a date that a
    zone skipped has length zero. `sun` maps a level in degrees to its crossings, `moon` holds the
    moonrises and moonsets, each row of crossings in Unix seconds and alternating.
    `dark_hours`, `moonless_hours` (level of DARK_LEVELS, place, night) decimal hours.
    `moon_illuminated` and `moon_waxing` (place, night).
    """

    places: tuple[Place, ...]
    first: date
    noons: NDArray[np.float64]
    sun: Mapping[float, Crossings]
    moon: Crossings
    moon_illuminated: NDArray[np.float64]
    moon_waxing: NDArray[np.bool_]
    dark_hours: NDArray[np.float64]
    moonless_hours: NDArray[np.float64]

    @property
    def nights(self) -> int:
        return int(self.noons.shape[1]) - 1
