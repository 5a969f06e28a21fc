"""How a night is written: times in the site's zone, hours, the Moon and absences in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from django import template
from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock, local, to_the_minute
from trips.almanac.wording import why_absent
from trips.charts.night_words import hours_of
from trips.planning.closures import Openings, why_closed

register = template.Library()


@register.filter
def reason(word: str | None) -> str:
    """Say why something is absent."""
    return why_absent(word) if word else _("it does not happen in this night")


@register.filter
def at(instant: datetime | float, zone: str) -> str:
    """Give the clock of the site: 21:34."""
    return clock(instant, zone)


@register.filter
def day_at(instant: datetime | float, zone: str) -> str:
    """Give the date on the site's calendar, for instants past midnight."""
    return date_format(to_the_minute(instant, zone), "j F")


@register.filter
def date_at(instant: datetime | float, zone: str) -> str:
    """Give the same with its year."""
    return date_format(to_the_minute(instant, zone), "j F Y")


@register.filter
def iso(instant: datetime | float, zone: str) -> str:
    """Give the instant for machines, with its offset."""
    return local(instant, zone).isoformat(timespec="seconds")


@register.filter
def spans(pairs: Sequence[Sequence[float]], zone: str) -> str:
    """Give "21:34–04:10, 05:00–05:20" from pairs of Unix seconds."""
    return ", ".join(f"{at(start, zone)}–{at(end, zone)}" for start, end in pairs)


@register.filter
def hours(value: float | None) -> str:
    """Give "4.0 h", "none" for nothing, and a dash where it is not known."""
    return "–" if value is None else hours_of(value)


@register.filter
def as_typed(number: float) -> str:
    """Give 0.2 or 0.25: as many places as somebody typed."""
    return number_format(f"{number:g}")


@register.filter
def evening(day: date) -> str:
    """Give "Fri 5 March 2027": a date names its evening."""
    return date_format(day, "D j F Y")


@register.filter
def against(site: Openings, day: date) -> str:
    """Say what closes the site on that evening, or nothing."""
    words = {
        "no_night_access": _("not allowed at night"),
        "closed_month": _("closed in %(month)s") % {"month": date_format(day, "F")},
        "road_closed": _("road closed"),
    }
    return words.get(why_closed(site, day) or "", "")


@register.filter
def moon(illuminated: float, waxing: bool) -> str:
    """Give the Moon in words: "waning, 23 % lit"."""
    percent = round(illuminated * 100)
    if percent <= 1:
        return _("new, %(percent)d %% lit") % {"percent": percent}
    if percent >= 99:
        return _("full, %(percent)d %% lit") % {"percent": percent}
    words = _("waxing, %(percent)d %% lit") if waxing else _("waning, %(percent)d %% lit")
    return words % {"percent": percent}


@register.filter
def lit(illuminated: float) -> str:
    return _("%(percent)d %% lit") % {"percent": round(illuminated * 100)}
