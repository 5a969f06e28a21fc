"""Setting up a tracker and a compass at a place and a moment: values, and what to do with them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

import numpy as np
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sky.place import Place
from sky.skyline import LEVEL, Skyline
from sky.tracker import SIGMA_OCTANTIS, PoleSetUp, pole_set_up
from trips.almanac.bearings import LEAST_SURE_DEGREES
from trips.almanac.needle import Needle, needle_at
from trips.almanac.places import place_of
from trips.almanac.spots import place_of_spot, skyline_of_spot
from trips.almanac.whole_sky_words import OVERHEAD_DEGREES
from trips.models import Site, Spot

LEAST_TOLD_DEGREES = 0.1
# From straight above with the clock, an hour and a half of its face each.
SIDES = (
    gettext_lazy("above it"),
    gettext_lazy("above it and to the right"),
    gettext_lazy("to its right"),
    gettext_lazy("below it and to the right"),
    gettext_lazy("below it"),
    gettext_lazy("below it and to the left"),
    gettext_lazy("to its left"),
    gettext_lazy("above it and to the left"),
)


@dataclass(frozen=True, slots=True)
class SetUp:
    """`lines` name and say each value; `pole` is what a picture draws, None where there is no use
    in one: by day, with the pole at the horizon or overhead."""

    needle: Needle
    lines: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]
    pole: PoleSetUp | None


def set_up_of(site: Site, spot: Spot | None, day: date, instant: datetime | None) -> SetUp:
    """Give the set-up at a spot, without one at the site, over a level horizon.

    The height of the pole is a latitude: of a sensitive position it is told in whole degrees.
    """
    place = place_of_spot(spot) if spot else place_of(site)
    skyline = skyline_of_spot(spot) if spot else LEVEL
    return set_up_at(place, skyline, day, instant, is_sensitive=site.position_is_sensitive)


def set_up_at(
    place: Place,
    skyline: Skyline,
    day: date,
    instant: datetime | None,
    *,
    is_sensitive: bool = False,
) -> SetUp:
    """Give the set-up; without an instant, of a night in daylight, that of the compass alone."""
    needle = needle_at(place, day)
    if instant is None:
        return SetUp(needle, (), (_("The Sun does not set: no pole star is to be seen."),), None)
    pole = pole_set_up(place, [instant])[0]
    return SetUp(
        needle,
        lines=tuple(_lines(pole, needle, is_sensitive=is_sensitive)),
        notes=tuple(_notes(pole, skyline)),
        pole=pole if _has_face(pole) else None,
    )


def clock_face(pole: PoleSetUp) -> str:
    """Give where the star stands as the hour hand of a clock would: "4:58"."""
    minutes = round(pole.face_hours * 60) % 720
    return f"{minutes // 60 or 12}:{minutes % 60:02d}"


def star_words(pole: PoleSetUp) -> str:
    """Say what the picture shows."""
    return _("%(star)s, %(apart)s from the pole, at %(clock)s on a clock's face: %(side)s.") % {
        "star": pole.star,
        "apart": _apart(pole),
        "clock": clock_face(pole),
        "side": SIDES[round(pole.face_hours / 1.5) % 8],
    }


def _is_sure(pole: PoleSetUp) -> bool:
    """Nearer to the horizon the air moves what is seen by 0.2° from day to day."""
    return pole.pole_altitude_degrees >= LEAST_SURE_DEGREES


def _is_overhead(pole: PoleSetUp) -> bool:
    return pole.pole_altitude_geometric_degrees >= OVERHEAD_DEGREES


def _has_face(pole: PoleSetUp) -> bool:
    """Overhead, what is above a star depends on which way one faces."""
    return pole.reach != "none" and not _is_overhead(pole)


def _lines(pole: PoleSetUp, needle: Needle, *, is_sensitive: bool) -> Iterator[tuple[str, str]]:
    yield _("Height of the axis"), _about(pole) if is_sensitive else _height(pole)
    if pole.pole_altitude_geometric_degrees < 90:
        yield _("Direction"), _direction(pole, needle)
    if pole.reach == "none":
        return
    yield (
        _("Pole star"),
        _("%(star)s, %(apart)s from the pole") % {"star": pole.star, "apart": _apart(pole)},
    )
    if _has_face(pole):
        side = SIDES[round(pole.face_hours / 1.5) % 8]
        words = _("%(clock)s, where an hour hand stands: %(side)s")
        yield _("From the pole"), words % {"clock": clock_face(pole), "side": side}
    if not is_sensitive:  # with the hour it is a longitude
        yield _("Hour angle"), _hour_angle(pole.hour_angle_degrees)


def _about(pole: PoleSetUp) -> str:
    words = _("about %(degrees)d°: the position is sensitive, so read the latitude on the spot")
    return words % {"degrees": round(pole.pole_altitude_geometric_degrees)}


def _height(pole: PoleSetUp) -> str:
    places = 2 if _is_sure(pole) else 1
    return _("%(seen)s as seen through the air (apparent), %(true)s without it (geometric)") % {
        "seen": f"{pole.pole_altitude_degrees:.{places}f}°",
        "true": f"{pole.pole_altitude_geometric_degrees:.2f}°",
    }


def _direction(pole: PoleSetUp, needle: Needle) -> str:
    true = _("true north, 0°") if pole.is_north else _("true south, 180°")
    shown = needle.by_compass(pole.pole_azimuth_degrees)
    if shown is None:
        return true
    return _("%(true)s; %(shown)s by compass") % {"true": true, "shown": f"{shown:.1f}°"}


def _apart(pole: PoleSetUp) -> str:
    minutes = pole.separation_arcminutes
    return f"{minutes / 60:.2f}° ({minutes:.1f}′)"


def _hour_angle(degrees: float) -> str:
    minutes = round(degrees * 4) % 1440
    return _("%(hours)d h %(minutes)02d min (%(degrees)s), westward from above the pole") % {
        "hours": minutes // 60,
        "minutes": minutes % 60,
        "degrees": f"{degrees % 360:.1f}°",
    }


def _notes(pole: PoleSetUp, skyline: Skyline) -> Iterator[str]:
    """How an axis is set without a pole star is common practice, no published source."""
    land = float(skyline.at(np.array([pole.pole_azimuth_degrees]))[0])
    if pole.reach == "none":
        yield _(
            "The celestial pole lies on the horizon: there is no star to set by. Lay the axis level"
            " with a spirit level and turn it to true north; then let a star drift and correct what"
            " it shows."
        )
        return
    if land >= pole.pole_altitude_degrees:
        yield _("The land hides the pole here: it stands %(land)s high there.") % {
            "land": f"{land:.0f}°"
        }
    if pole.reach == "low":
        yield _(
            "So low, haze, trees and hills often hide the pole star: be ready to set the axis by"
            " its height and by compass."
        )
    if _is_overhead(pole):
        yield _overhead(pole)
        return
    yield _refraction(pole)
    yield from _seen(pole)


def _overhead(pole: PoleSetUp) -> str:
    aside = 10 * math.cos(math.radians(pole.pole_altitude_geometric_degrees))
    words = _(
        "The pole is nearly overhead: set the axis upright with a level; ten degrees wrong in"
        " direction are %(aside)s on the sky. What is above a star there depends on which way one"
        " faces, so no place on a clock's face is told."
    )
    return words % {
        "aside": f"{aside:.1f}°" if aside >= LEAST_TOLD_DEGREES else _("less than 0.1°")
    }


def _refraction(pole: PoleSetUp) -> str:
    lifted = (pole.pole_altitude_degrees - pole.pole_altitude_geometric_degrees) * 60
    words = _(
        "The air lifts the pole by %(lifted)s, and its star with it. A scale of latitude is"
        " geometric; what is aimed at beside the star is the apparent pole."
    )
    return words % {"lifted": f"{lifted:.{1 if _is_sure(pole) else 0}f}′"}


def _seen(pole: PoleSetUp) -> Iterator[str]:
    if pole.is_north:
        yield _(
            "By eye, facing north: 12 is straight above the pole and east is on the right. The star"
            " goes against the clock, half an hour of the face in an hour."
        )
    else:
        yield _(
            "By eye, facing south: 12 is straight above the pole and east is on the left. The star"
            " goes with the clock, half an hour of the face in an hour."
        )
    yield _("A polar scope may turn the picture over: try by day which way yours does.")
    if pole.star == SIGMA_OCTANTIS.name:
        yield _("It is faint, at the edge of what eyes see in full dark: learn its neighbours.")
