"""Alignments as the page tells them: the answer first, then each night in its month."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby
from urllib.parse import urlencode

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.alignments import Alignment, Found, step_sideways_degrees
from trips.almanac.bearings import LEAST_SURE_DEGREES, distance, pointed
from trips.almanac.local_time import clock, to_the_minute
from trips.almanac.targets import light_words
from trips.forms.alignments import Question
from trips.models import Landmark, Site
from trips.planning.nights import RUN_LENGTH
from trips.services.alignments import OUTSIDE_HOURS, JudgedAlignment
from trips.templatetags.nights import evening, lit
from trips.templatetags.rooms import why_not_on

A_MINUTE = timedelta(minutes=1)
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
    azimuth: str  # where it is not the one that was asked for
    light: str
    moon: str
    against: str  # why people cannot be there
    is_in_row: bool
    begins_row: str


def months(
    shown: Sequence[JudgedAlignment], site: Site, question: Question
) -> list[tuple[date, list[Row]]]:
    """Give the rows month by month, each with the month's first day."""
    rows, before = [], None
    for one in shown[:MOST_ROWS]:
        rows.append(_row(one, site, question, is_first_of_night=one.alignment.night != before))
        before = one.alignment.night
    by_month = groupby(rows, key=lambda row: row.evening.replace(day=1))
    return [(month, list(group)) for month, group in by_month]


def answer(question: Question, found: Sequence[Alignment], zone: str) -> str:
    """Give the sentence that the page opens with."""
    words = ngettext(
        "%(name)s stands %(where)s once %(when)s: at %(first)s.",
        "%(name)s stands %(where)s %(count)d times %(when)s: first at %(first)s, last at %(last)s.",
        len(found),
    )
    return words % {
        "name": question.target.name,
        "where": _where(question, found),
        "when": during(question),
        "count": len(found),
        "first": _moment(found[0], zone),
        "last": _moment(found[-1], zone),
    }


def _where(question: Question, found: Sequence[Alignment]) -> str:
    """Give "over Kiln, south-west (214°), 12.0° to 18.5° high,"."""
    aim = question.aim
    direction = pointed(aim.azimuth_degrees)
    if question.landmark:
        words = _("over %(name)s, %(direction)s")
        direction = words % {"name": question.landmark.name, "direction": direction}
    else:
        direction = _("at %(direction)s") % {"direction": direction}
    words = _("%(direction)s, %(heights)s high,")
    if aim.altitude_degrees is not None:
        words = _("%(direction)s, within %(reach)s of %(altitude)s: %(heights)s high,")
    return words % {
        "direction": direction,
        "heights": _heights([one.altitude_degrees for one in found]),
        "reach": _tenths(aim.altitude_tolerance_degrees),
        "altitude": _tenths(aim.altitude_degrees or 0.0),
    }


def _heights(altitudes: Sequence[float]) -> str:
    low, high = _tenths(min(altitudes)), _tenths(max(altitudes))
    if low == high:
        return low
    return _("%(low)s to %(high)s") % {"low": low, "high": high}


def rows_words(shown: Sequence[JudgedAlignment], length: int) -> str:
    """Say how often so many nights stand in a row; a row of one is no row."""
    rows = sorted({one.row for one in shown if one.row and one.nights_in_row >= length})
    if length < 2:
        return ""
    if not rows:
        return _("Never on %(length)d nights in a row.") % {"length": length}
    first, last = max(rows, key=lambda row: row[1] - row[0])
    words = ngettext(
        "On %(length)d nights in a row or more once: %(longest)d nights, from %(evening)s on.",
        "On %(length)d nights in a row or more %(count)d times; the longest row, "
        "%(longest)d nights, begins on %(evening)s.",
        len(rows),
    )
    longest = (last - first).days + 1
    told = {"length": length, "count": len(rows), "longest": longest, "evening": evening(first)}
    return words % told


def while_out_words(question: Question, shown: Sequence[JudgedAlignment]) -> str:
    """Say how many of all count; nothing where no season is asked, or no other is shown."""
    if question.season is None or question.is_while_out:
        return ""
    count = sum(one.why_not is None for one in shown)
    words = ngettext(
        "%(count)d of them while you are out.", "%(count)d of them while you are out.", count
    )
    return words % {"count": count}


def left_out_words(left_out: Sequence[JudgedAlignment]) -> str:
    """Say how many are not shown, and why."""
    outside = sum(one.why_not == OUTSIDE_HOURS for one in left_out)
    barred = len(left_out) - outside
    parts = []
    if outside:
        words = ngettext("%(count)d outside your hours", "%(count)d outside your hours", outside)
        parts.append(words % {"count": outside})
    if barred:
        words = ngettext(
            "%(count)d on an evening that is not offered",
            "%(count)d on evenings that are not offered",
            barred,
        )
        parts.append(words % {"count": barred})
    return ", ".join(parts)


def during(question: Question) -> str:
    """Give "in Spring 2027", "while you are out from 1 March 2027 to 9 March 2027"."""
    nights = nights_asked(question)
    return (
        _("while you are out %(nights)s") % {"nights": nights} if question.is_while_out else nights
    )


def nights_asked(question: Question) -> str:
    if question.season and question.is_whole_season:
        return _("in %(season)s") % {"season": question.season.name}
    return _("from %(first)s to %(last)s") % {
        "first": date_format(question.first, "j F Y"),
        "last": date_format(question.last, "j F Y"),
    }


def how_counted(question: Question, found: Found) -> str:
    """Say what counted, and what the stretch beside each moment means."""
    aim = question.aim
    to_the_side = _tenths(aim.azimuth_tolerance_degrees)
    clear = _clear_of(question, found.land_degrees)
    if aim.altitude_degrees is None:
        words = _(
            "The moment is the one at which it passes the azimuth, %(clear)s; beside it, how long "
            "it stays within %(side)s to either side."
        )
        return words % {"clear": clear, "side": to_the_side}
    words = _(
        "The moment is the closest, %(clear)s; beside it, how long it stays within %(side)s to "
        "either side and %(height)s above or below."
    )
    height = _tenths(aim.altitude_tolerance_degrees)
    return words % {"clear": clear, "side": to_the_side, "height": height}


def _clear_of(question: Question, land: float) -> str:
    """Name what stands highest there."""
    least = question.aim.least_altitude_degrees
    if land > least:
        return _("clear of the land, %(altitude)s high there") % {"altitude": _tenths(land)}
    if least > 0:
        return _("above its top at %(altitude)s") % {"altitude": _tenths(least)}
    return _("above a level horizon")


def light_told(question: Question) -> str:
    """Say which light counted."""
    light = question.light or question.target.light
    if light == "any" and not question.light:
        return _("any, with the Sun 6° below the horizon or more")
    return light_words(light)


def step_words(landmark: Landmark | None) -> str:
    """Say what one step does to a landmark; nothing where its distance is not known."""
    if landmark is None or landmark.distance_m is None:
        return ""
    words = _("One step sideways = %(degrees)s° (a metre, with %(name)s %(distance)s away).")
    return words % {
        "degrees": f"{step_sideways_degrees(landmark.distance_m):.2g}",
        "name": landmark.name,
        "distance": distance(landmark.distance_m),
    }


def _row(
    judged: JudgedAlignment, site: Site, question: Question, *, is_first_of_night: bool
) -> Row:
    one, zone = judged.alignment, site.zone
    day = to_the_minute(one.at, zone).date()
    is_in_row = judged.nights_in_row >= max(2, nights_in_row(question))
    begins = is_in_row and is_first_of_night and judged.row and judged.row[0] == one.night
    return Row(
        evening=one.night,
        address=_night_page(one, site, question),
        instant=one.at,
        clock=clock(one.at, zone),
        day="" if day == one.night else date_format(day, "j F"),
        stretch=_stretch(one, zone),
        altitude=_height(one.altitude_degrees),
        azimuth="" if question.aim.altitude_degrees is None else _tenths(one.azimuth_degrees),
        light=one.light_words,
        moon=_moon(one),
        against=_against(judged, site),
        is_in_row=is_in_row,
        begins_row=_("%(count)d in a row") % {"count": judged.nights_in_row} if begins else "",
    )


def nights_in_row(question: Question) -> int:
    return question.season.run_length if question.season else RUN_LENGTH


def _night_page(one: Alignment, site: Site, question: Question) -> str:
    """Give the night's page with the sky of the moment, from the spot."""
    asked = {"at": clock(one.at, site.zone)}
    if question.spot:
        asked["spot"] = str(question.spot.pk)
    if question.season:
        asked["season"] = str(question.season.pk)
    page = reverse("night_detail", args=[site.pk, one.night])
    return f"{page}?{urlencode(asked)}#sky"


def _stretch(one: Alignment, zone: str) -> str:
    if one.end - one.start < A_MINUTE:
        return _("under a minute")
    return f"{clock(one.start, zone)}–{clock(one.end, zone)}"


def _against(judged: JudgedAlignment, site: Site) -> str:
    if judged.why_not == OUTSIDE_HOURS:
        return _("outside hours")
    return why_not_on(judged.alignment.night, judged.why_not, site) if judged.why_not else ""


def _moment(one: Alignment, zone: str) -> str:
    """Give "05:03 on Wed 12 May 2027 (evening of the 11th)"."""
    day = to_the_minute(one.at, zone).date()
    words = _("%(clock)s on %(day)s")
    if day != one.night:
        words = _("%(clock)s on %(day)s (evening of the %(night)s)")
    return words % {
        "clock": clock(one.at, zone),
        "day": date_format(day, "D j F Y"),
        "night": date_format(one.night, "jS"),
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
