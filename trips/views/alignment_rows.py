"""Alignments as the page tells them: the answer first, then each night in its month."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.alignments import Aim, Alignment, step_sideways_degrees
from trips.almanac.bearings import LEAST_SURE_DEGREES, pointed
from trips.almanac.local_time import clock, to_the_minute
from trips.forms.alignments import Question
from trips.models import Landmark, Site
from trips.templatetags.nights import evening, lit

# A page of more is scrolled by nobody; the table to take away has them all.
MOST_ROWS = 200


@dataclass(frozen=True, slots=True)
class Row:
    """One alignment in words, on the clock of the site."""

    evening: date
    address: str
    instant: datetime
    clock: str
    day: str  # where it is not the evening's
    stretch: str
    altitude: str
    azimuth: str
    light: str
    moon: str


def months(found: Sequence[Alignment], site: Site) -> list[tuple[date, list[Row]]]:
    """Give the rows month by month, each with the month's first day."""
    shown = found[:MOST_ROWS]
    by_month = groupby(shown, key=lambda one: one.night.replace(day=1))
    return [(month, [_row(one, site) for one in group]) for month, group in by_month]


def answer(question: Question, found: Sequence[Alignment], zone: str) -> str:
    """Give the sentence that the page opens with."""
    words = ngettext(
        "%(name)s stands %(where)s once %(when)s: %(first)s.",
        "%(name)s stands %(where)s %(count)d times %(when)s: first %(first)s, last %(last)s.",
        len(found),
    )
    return words % {
        "name": question.target.name,
        "where": where(question),
        "when": during(question),
        "count": len(found),
        "first": _moment(found[0], zone),
        "last": _moment(found[-1], zone),
    }


def where(question: Question) -> str:
    """Give "over Kiln, south-west (214°)", "at south (180°), 20° high"."""
    aim = question.aim
    direction = pointed(aim.azimuth_degrees)
    if question.landmark:
        words = _("over %(name)s, %(direction)s")
        direction = words % {"name": question.landmark.name, "direction": direction}
    else:
        direction = _("at %(direction)s") % {"direction": direction}
    if aim.altitude_degrees is None:
        return direction
    return _("%(direction)s, %(altitude)s high") % {
        "direction": direction,
        "altitude": _tenths(aim.altitude_degrees),
    }


def during(question: Question) -> str:
    if question.season:
        return _("in %(season)s") % {"season": question.season.name}
    return _("from %(first)s to %(last)s") % {
        "first": date_format(question.first, "j F Y"),
        "last": date_format(question.last, "j F Y"),
    }


def how_counted(aim: Aim) -> str:
    """Say what counted, and what the stretch beside each moment means."""
    to_the_side = _tenths(aim.azimuth_tolerance_degrees)
    if aim.altitude_degrees is None:
        words = _(
            "The moment is the one at which it passes the azimuth, %(least)s; beside it, how long "
            "it stays within %(side)s to either side."
        )
        return words % {"least": _least(aim.least_altitude_degrees), "side": to_the_side}
    words = _(
        "The moment is the closest; beside it, how long it stays within %(side)s to either side "
        "and %(height)s above or below."
    )
    return words % {"side": to_the_side, "height": _tenths(aim.altitude_tolerance_degrees)}


def _least(altitude: float) -> str:
    if altitude == 0:
        return _("above a level horizon")
    return _("at least %(altitude)s high") % {"altitude": _tenths(altitude)}


def step_words(landmark: Landmark | None) -> str:
    """Say what one step does to a landmark; nothing where its distance is not known."""
    if landmark is None or landmark.distance_m is None:
        return ""
    words = _("One step sideways = %(degrees)s° (a metre, with %(name)s %(distance)s away).")
    return words % {
        "degrees": f"{step_sideways_degrees(landmark.distance_m):.2g}",
        "name": landmark.name,
        "distance": _distance(landmark.distance_m),
    }


def _row(one: Alignment, site: Site) -> Row:
    zone = site.zone
    day = to_the_minute(one.at, zone).date()
    return Row(
        evening=one.night,
        address=reverse("night_detail", args=[site.pk, one.night]),
        instant=one.at,
        clock=clock(one.at, zone),
        day="" if day == one.night else date_format(day, "j F"),
        stretch=f"{clock(one.start, zone)}–{clock(one.end, zone)}",
        altitude=_height(one.altitude_degrees),
        azimuth=_tenths(one.azimuth_degrees),
        light=one.light_words,
        moon=_moon(one),
    )


def _moment(one: Alignment, zone: str) -> str:
    return _("on the night of %(night)s at %(clock)s") % {
        "night": evening(one.night),
        "clock": clock(one.at, zone),
    }


def _moon(one: Alignment) -> str:
    if one.moon_altitude_degrees < 0:
        return _("down")
    return _("up, %(lit)s") % {"lit": lit(one.moon_illuminated)}


def _height(altitude: float) -> str:
    """Near the horizon the air moves a target by 0.2° from day to day."""
    if altitude < LEAST_SURE_DEGREES:
        return _("%(altitude)s ± 0.2°") % {"altitude": _tenths(altitude)}
    return _tenths(altitude)


def _tenths(degrees: float) -> str:
    return f"{degrees:.1f}°".replace("-", "−")


def _distance(metres: float) -> str:
    if metres < 1000:
        return _("%(metres)d m") % {"metres": round(metres)}
    return _("%(km).1f km") % {"km": metres / 1000}
