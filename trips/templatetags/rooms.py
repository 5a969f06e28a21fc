"""What the pages around a season say: a site in a line, work in progress, why a night is out."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from typing import Any

from django import template
from django.utils.dates import MONTHS
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.models import Job, Season, Site, Spot
from trips.planning.closures import open_stretches
from trips.planning.nights import JudgedNight
from trips.templatetags.comparing import magnitudes
from trips.templatetags.nights import against

register = template.Library()


@register.filter
def why_not_at(night: JudgedNight, site: Any) -> str:
    """Say why a good night is not offered."""
    return why_not_on(night.date, night.why_not, site)


def why_not_on(evening: date, code: str | None, site: Any) -> str:
    words = {
        "avoided": _("a date to avoid"),
        "weekday": _("not an evening that suits"),
    }
    return words.get(code or "", "") or against(site, evening)


@register.filter
def why_passed_over(nights: Sequence[JudgedNight], site: Any) -> str:
    """Give each reason once, in the order of the nights; closed months together."""
    months = {night.date.month for night in nights if night.why_not == "closed_month"}
    closed = _("closed %(months)s") % {"months": months_in_words(months)}
    first_of = {night.why_not: night for night in reversed(nights)}
    codes = dict.fromkeys(night.why_not for night in nights)
    return ", ".join(
        closed if code == "closed_month" else why_not_at(first_of[code], site) for code in codes
    )


@register.filter
def short_evening(day: date, season: Season) -> str:
    """Give "Fri 5 March", with its year where the season turns one."""
    return date_format(day, "D j F" if day.year == season.first_night.year else "D j F Y")


@register.filter
def work_title(job: Job) -> str:
    """Say what is computed: "Nights of Broom Hill"."""
    of_targets = job.kind == Job.Kind.TARGET_WINDOWS
    words = _("Targets at %(site)s") if of_targets else _("Nights of %(site)s")
    return words % {"site": job.site.name}


@register.filter
def time_left(seconds: float | None) -> str:
    """Give "about 20 s left"; nothing where nothing is known yet."""
    if seconds is None:
        return ""
    if seconds < 5:
        return _("a few seconds left")
    if seconds < 90:
        return _("about %(seconds)d s left") % {"seconds": 5 * math.ceil(seconds / 5)}
    return _("about %(minutes)d min left") % {"minutes": math.ceil(seconds / 60)}


@register.filter
def spent(since: datetime | None, until: datetime | None) -> str:
    """Give how long something took: "12 s", "3 min"."""
    if since is None or until is None:
        return ""
    seconds = max(0.0, (until - since).total_seconds())
    if seconds < 90:
        return _("%(seconds)d s") % {"seconds": max(1, round(seconds))}
    return _("%(minutes)d min") % {"minutes": round(seconds / 60)}


@register.filter
def drive(site: Site) -> str:
    if site.drive_minutes is None:
        return _("drive not written down")
    return _("%(minutes)d min drive") % {"minutes": site.drive_minutes}


@register.filter
def darkness(site: Site) -> str:
    """Give the measured darkness, or what stands in for it."""
    if site.sky_brightness is None and site.sky_by_azimuth:
        return _("darkness measured by direction, not overhead")
    if site.sky_brightness is None:
        return _("darkness not measured, only estimated from the towns around")
    return _("%(magnitudes)s mag/arcsec² measured") % {
        "magnitudes": magnitudes(site.sky_brightness)
    }


@register.filter
def in_a_line(site: Site) -> str:
    """Give what decides whether one drives there: access, drive, vehicle, darkness."""
    first = {
        Site.Access.YES: _("Allowed at night"),
        Site.Access.NO: _("Not allowed at night"),
        Site.Access.PERMIT: _("By permit at night"),
        Site.Access.UNKNOWN: _("Not known whether it is allowed at night"),
    }[Site.Access(site.night_access)]
    return _("%(access)s; %(drive)s, %(vehicle)s; %(darkness)s.") % {
        "access": first,
        "drive": drive(site),
        "vehicle": site.get_vehicle_display(),
        "darkness": darkness(site),
    }


@register.filter
def months_in_words(months: Iterable[int]) -> str:
    """Give "all year" or "April to June, October"; the year's turn is no break."""
    chosen = {int(month) for month in months if 1 <= int(month) <= 12}
    if not chosen or len(chosen) == 12:
        return _("all year")
    return ", ".join(_stretch(first, last) for first, last in open_stretches(chosen))


def _stretch(first: int, last: int) -> str:
    if first == last:
        return str(MONTHS[first])
    return _("%(first)s to %(last)s") % {"first": MONTHS[first], "last": MONTHS[last]}


@register.filter
def road_closed(site: Site) -> str:
    """Give when the road is closed, or that it is not known to be."""
    first, last = (_day(day) for day in (site.road_closed_from, site.road_closed_to))
    if first and last:
        return _("closed %(first)s to %(last)s") % {"first": first, "last": last}
    if first:
        return _("closed from %(first)s, no end known") % {"first": first}
    return _("closed until %(last)s") % {"last": last} if last else _("no closure written down")


def _day(day: date | None) -> str:
    return date_format(day, "j F Y") if day else ""


@register.filter
def level_name(level: int) -> str:
    """Give the name of a dark level: Sun 15° down."""
    return str(dict(Season.DarkLevel.choices).get(level, level))


@register.filter
def best_lighter(by_level: dict[int, int]) -> str:
    """Say what the first lighter level that helps would give."""
    for level, count in by_level.items():
        if count:
            words = ngettext(
                "With “%(level)s” there would be %(count)d.",
                "With “%(level)s” there would be %(count)d.",
                count,
            )
            return words % {"level": level_name(level), "count": count}
    return _("A lighter level would not help: look at the hours you stay out.")


@register.filter
def geo(site: Site | Spot) -> str:
    """Give the position as a link that maps on a phone open."""
    return f"geo:{site.latitude:.6f},{site.longitude:.6f}"
