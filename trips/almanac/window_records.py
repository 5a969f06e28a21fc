"""Windows of one target over a place, as plain records for JSON and CSV; without any, why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any, cast

import numpy as np
from django.utils.translation import gettext as _

from sky.errors import SkyError
from sky.light.usable import DarkEnough
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import Skyline
from sky.targets.culmination import culmination
from sky.targets.target import FixedPoint, Light, Target
from sky.windows import Wanted, Windows, find_windows
from trips.almanac.dates import check_dates
from trips.almanac.local_time import local

Record = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Asked:
    """A target at a place with its skyline; what is None or "" is as the target's kind has it."""

    target: Target
    place: Place
    skyline: Skyline
    light: str = ""
    least_altitude_degrees: float | None = None
    dark_level: int = -18
    enough: DarkEnough | None = None  # the site's sky; None: one without lamps

    @property
    def wanted(self) -> Wanted:
        """Errors: `altitude_outside`."""
        usual, least = Wanted.as_usual(self.target), self.least_altitude_degrees
        if least is None:
            least = usual.least_altitude_degrees
        if not -90 <= least <= 90:
            raise SkyError("altitude_outside", value=least, low=-90.0, high=90.0)
        light = cast(Light, self.light or usual.light)
        return Wanted(self.target, light, least, self.dark_level)


def window_records(asked: Asked, first: date, last: date) -> tuple[list[Record], str]:
    """Give a record for each night from first to last that has a window; without any, why.

    Errors: those of `check_dates`, `altitude_outside`, `light_unknown`.
    """
    check_dates(first, last)
    table = compute_season([asked.place], first, last)
    found = _find(asked.wanted, asked, table)
    if not len(found.spans):
        return [], _why_none(asked, table)
    edges = np.searchsorted(found.night, np.append(found.best_night, table.nights))
    return [
        _record(found, number, found.spans[start:end].tolist(), first, asked.place.zone)
        for number, (start, end) in enumerate(pairwise(edges.tolist()))
    ], ""


def _find(wanted: Wanted, asked: Asked, table: SeasonTable) -> Windows:
    return find_windows([wanted], asked.place, asked.skyline, table, enough=asked.enough)[0]


def _record(
    found: Windows, number: int, spans: Sequence[Sequence[float]], first: date, zone: str
) -> Record:
    hours = sum(end - start for start, end in spans) / 3600
    return {
        "night": (first + timedelta(days=int(found.best_night[number]))).isoformat(),
        "spans": [[_second(start, zone), _second(end, zone)] for start, end in spans],
        "hours": round(hours, 4),
        "best": _second(float(found.best_at[number]), zone),
        "altitude": round(float(found.best_altitude[number]), 2),
        "altitude_geometric": round(float(found.best_altitude_geometric[number]), 2),
        "azimuth": round(float(found.best_azimuth[number]), 2) % 360,
    }


def _second(unix: float, zone: str) -> str:
    return local(float(round(unix)), zone).isoformat()


def _why_none(asked: Asked, table: SeasonTable) -> str:
    """Say why a target has no window in any night: what holds longest comes first."""
    wanted, name = asked.wanted, asked.target.name
    if words := _never(asked, wanted.least_altitude_degrees, table.first.year):
        return words
    last = table.first + timedelta(days=table.nights - 1)
    if asked.target.active and not list(asked.target.active(table.first, last)):
        return _("%(name)s does not happen in these nights.") % {"name": name}
    if len(_find(replace(wanted, light="any"), asked, table).spans):
        words = _(
            "%(name)s stands clear in these nights, but never in the light that is wanted: ask "
            "for any light to see when."
        )
        return words % {"name": name}
    words = _("%(name)s is never above the skyline and the least altitude in these nights.")
    return words % {"name": name}


def _never(asked: Asked, least: float, year: int) -> str:
    """Say that a place among the stars never comes up here, or never so high; else ""."""
    point = asked.target.points[0]
    if not isinstance(point, FixedPoint):
        return ""
    found, name = culmination(point, asked.place, year=year), asked.target.name
    if not found.rises:
        words = _("%(name)s never rises here: its highest is %(degrees).1f° below the horizon.")
        return words % {"name": name, "degrees": -found.altitude_degrees}
    if found.altitude_degrees < least:
        words = _(
            "%(name)s never stands higher than %(degrees).1f° here, and %(least)g° is wanted."
        )
        return words % {"name": name, "degrees": found.altitude_degrees, "least": least}
    return ""
