"""Alignments of targets over a place: computed by sky, told night by night with the light then."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any, cast

import numpy as np
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from sky.aim import TOLERANCES_DEGREES, Aim
from sky.alignments import (
    Alignments,
    NoAlignment,
    find_alignments,
    step_sideways_degrees,
    why_none,
)
from sky.altitude import moon_phase
from sky.constants import (
    ASTRONOMICAL_DEGREES,
    CIVIL_DEGREES,
    NAUTICAL_DEGREES,
    SUN_RISE_SET_DEGREES,
)
from sky.directions import directions_at
from sky.ephemeris import tt_from_utc
from sky.light.usable import DarkEnough
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, Skyline
from sky.targets.target import Light, Target
from trips.almanac.bearings import pointed
from trips.almanac.dates import check_dates
from trips.almanac.dusks import civil_dusks, instants
from trips.almanac.local_time import local, night_at

__all__ = [
    "TOLERANCES_DEGREES",
    "Aim",
    "Alignment",
    "Found",
    "NoAlignment",
    "Target",
    "alignment_record",
    "find",
    "hidden_words",
    "step_sideways_degrees",
    "why_words",
]

# By the Sun's altitude, the lowest first.
SUN_WORDS = (
    (ASTRONOMICAL_DEGREES, gettext_lazy("dark")),
    (NAUTICAL_DEGREES, gettext_lazy("astronomical twilight")),
    (CIVIL_DEGREES, gettext_lazy("nautical twilight")),
    (SUN_RISE_SET_DEGREES, gettext_lazy("civil twilight")),
    (90.0, gettext_lazy("by day")),
)


@dataclass(frozen=True, slots=True)
class Alignment:
    """One moment, in UTC, with the stretch inside the tolerance; altitudes and azimuth in degrees.

    `moon_altitude_degrees` geometric; `night` is named by the evening's date at the place, and
    begins with `civil_dusk`, where it has one.
    """

    night: date
    civil_dusk: datetime | None
    at: datetime
    start: datetime
    end: datetime
    altitude_degrees: float
    altitude_geometric_degrees: float
    azimuth_degrees: float
    sun_altitude_degrees: float
    moon_altitude_degrees: float
    moon_illuminated: float
    moon_waxing: bool

    @property
    def light_words(self) -> str:
        height = self.sun_altitude_degrees
        return str(next(words for level, words in SUN_WORDS if height <= level))


@dataclass(frozen=True, slots=True)
class Found:
    """The alignments of a season in order, and how many more the land hides; without any, why."""

    alignments: tuple[Alignment, ...]
    hidden: int
    land_degrees: float  # the skyline at the wanted azimuth
    why: NoAlignment | None


def find(
    target: Target,
    aim: Aim,
    place: Place,
    first: date,
    last: date,
    *,
    skyline: Skyline = LEVEL,
    light: str = "",
    dark_level: int = -18,
    enough: DarkEnough | None = None,
) -> Found:
    """Find the alignments of the nights named `first` to `last`; `light` "": the target's own, and
    not by day.

    Errors: those of `check_dates`, `target_without_direction`, `light_unknown`.
    """
    check_dates(first, last)
    table = compute_season([place], first, last)
    wanted = cast(Light | None, light or None)
    found = find_alignments(
        target,
        aim,
        table,
        skyline=skyline,
        light=wanted,
        dark_level=dark_level,
        enough=enough,
    )
    land = float(skyline.at(np.array(aim.azimuth_degrees)))
    if not len(found):
        return Found((), 0, land, why_none(target, aim, table, skyline=skyline))
    return Found(tuple(_told(found, place, table)), found.hidden, land, None)


def _told(found: Alignments, place: Place, table: SeasonTable) -> list[Alignment]:
    first, last = table.first, table.first + timedelta(days=table.nights - 1)
    dusks = civil_dusks(table)
    sun, moon = (
        directions_at(body, place, found.at).altitude_geometric_degrees for body in ("sun", "moon")
    )
    phase, tt = moon_phase(first, last), tt_from_utc(found.at)
    illuminated, waxing = phase.illuminated(tt), phase.elongation(tt) % (2 * np.pi) < np.pi
    at, start, end = (instants(each) for each in (found.at, found.start, found.end))
    return [
        Alignment(
            night=(night := night_at(at[n], place.zone)),
            civil_dusk=dusks.get(night),
            at=at[n],
            start=start[n],
            end=end[n],
            altitude_degrees=float(found.altitude_degrees[n]),
            altitude_geometric_degrees=float(found.altitude_geometric_degrees[n]),
            azimuth_degrees=float(found.azimuth_degrees[n]),
            sun_altitude_degrees=float(sun[n]),
            moon_altitude_degrees=float(moon[n]),
            moon_illuminated=float(illuminated[n]),
            moon_waxing=bool(waxing[n]),
        )
        for n in range(len(found))
    ]


def alignment_record(one: Alignment, zone: str) -> dict[str, Any]:
    """Give the record for JSON and CSV: local times with offset, to the second; degrees."""
    return {
        "night": one.night.isoformat(),
        "at": _second(one.at, zone),
        "from": _second(one.start, zone),
        "to": _second(one.end, zone),
        "altitude": round(one.altitude_degrees, 2),
        "altitude_geometric": round(one.altitude_geometric_degrees, 2),
        "azimuth": round(one.azimuth_degrees, 2) % 360,
        "sun_altitude": round(one.sun_altitude_degrees, 2),
        "moon_altitude": round(one.moon_altitude_degrees, 2),
        "moon_illuminated": round(one.moon_illuminated, 4),
    }


def _second(instant: datetime, zone: str) -> str:
    return local(float(round(instant.timestamp())), zone).isoformat()


def hidden_words(found: Found, aim: Aim) -> str:
    """Say how many more there would be without the land."""
    words = ngettext(
        "The land, %(land)s high at %(where)s, hides %(count)d more.",
        "The land, %(land)s high at %(where)s, hides %(count)d more.",
        found.hidden,
    )
    return words % {
        "land": _degrees(found.land_degrees),
        "where": pointed(aim.azimuth_degrees),
        "count": found.hidden,
    }


def why_words(why: NoAlignment, target: Target, aim: Aim) -> str:
    """Say why a season has no alignment, and what is near it."""
    return _REASONS[why.code](why, target.name, aim)


def _never_there(why: NoAlignment, name: str, aim: Aim) -> str:
    words = _("%(name)s never comes to %(wanted)s: the nearest it comes is %(nearest)s.")
    return words % {
        "name": name,
        "wanted": pointed(aim.azimuth_degrees),
        "nearest": pointed(why.nearest_azimuth or 0.0),
    }


def _too_low(why: NoAlignment, name: str, aim: Aim) -> str:
    highest = why.highest or 0.0
    if highest < 0:
        words = _("%(name)s never rises at %(wanted)s: it passes there below the horizon.")
        return words % {"name": name, "wanted": pointed(aim.azimuth_degrees)}
    words = _("%(name)s passes %(wanted)s at most %(highest)s high, and %(least)s is wanted.")
    return words % {
        "name": name,
        "wanted": pointed(aim.azimuth_degrees),
        "highest": _degrees(highest),
        "least": _degrees(aim.least_altitude_degrees),
    }


def _other_altitude(why: NoAlignment, name: str, aim: Aim) -> str:
    lowest, highest = (_degrees(each or 0.0) for each in (why.lowest, why.highest))
    words = _("%(name)s passes %(wanted)s at %(heights)s, never within %(near)s of %(altitude)s.")
    spread = _("%(lowest)s to %(highest)s") % {"lowest": lowest, "highest": highest}
    return words % {
        "name": name,
        "wanted": pointed(aim.azimuth_degrees),
        "heights": lowest if lowest == highest else spread,
        "near": _degrees(aim.altitude_tolerance_degrees),
        "altitude": _degrees(aim.altitude_degrees or 0.0),
    }


def _behind_land(why: NoAlignment, name: str, aim: Aim) -> str:
    words = ngettext(
        "%(name)s stands there %(count)d time, behind the land, which is %(land)s high at "
        "%(where)s.",
        "%(name)s stands there %(count)d times, always behind the land, which is %(land)s high at "
        "%(where)s.",
        why.count,
    )
    return words % {
        "name": name,
        "count": why.count,
        "land": _degrees(why.land or 0.0),
        "where": pointed(aim.azimuth_degrees),
    }


def _other_light(why: NoAlignment, name: str, _aim: Aim) -> str:
    words = ngettext(
        "%(name)s stands there %(count)d time, but not in the light that is wanted: ask for any "
        "light to see when.",
        "%(name)s stands there %(count)d times, but never in the light that is wanted: ask for any "
        "light to see when.",
        why.count,
    )
    return words % {"name": name, "count": why.count}


def _degrees(value: float) -> str:
    return f"{value:.1f}°".replace("-", "−")


_REASONS = {
    "never_there": _never_there,
    "too_low": _too_low,
    "other_altitude": _other_altitude,
    "behind_land": _behind_land,
    "other_light": _other_light,
}
