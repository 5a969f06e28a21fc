"""How sites are written beside each other: hours of months, drives, access, stretches of dates."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from unicodedata import bidirectional

from django import template
from django.utils.dates import WEEKDAYS_ABBR
from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _

from trips.models import Site
from trips.planning.closures import open_stretches
from trips.planning.comparing import Compared

register = template.Library()

ANY_YEAR = 2000  # only its months are written
MOST_IN_A_LIST = 8
MOST_IN_A_SENTENCE = 4


@register.filter
def whole(hours: float) -> str:
    """Give hours to stand at a bar: 146, 0.4, 0. What is there is never written as nothing."""
    if round(hours * 60) == 0:
        return "0"
    return f"{hours:.0f}" if hours >= 0.95 else f"{max(hours, 0.1):.1f}"


@register.filter
def long_hours(hours: float) -> str:
    """Give the hours of weeks and seasons: "612 h", "23.4 h", "none"."""
    if round(hours * 60) == 0:
        return _("none")
    text = f"{hours:.0f}" if hours >= 99.95 else f"{max(hours, 0.1):.1f}"
    return _("%(hours)s\u00a0h") % {"hours": text}


@register.filter
def hours_beside(found: Compared[Site], other: Compared[Site] | None) -> str:
    """Give usable hours beside another site's: in tenths where they only read alike."""
    hours = found.usable_hours
    return _beside(hours, other.usable_hours) if other else long_hours(hours)


def _beside(hours: float, other: float) -> str:
    is_alike = long_hours(hours) == long_hours(other) and tenths(hours) != tenths(other)
    return tenths(hours) if is_alike else long_hours(hours)


def tenths(hours: float) -> str:
    """Give hours that are to be added up: "612.4 h", "none"."""
    if round(hours * 60) == 0:
        return _("none")
    return _("%(hours)s\u00a0h") % {"hours": f"{max(hours, 0.1):.1f}"}


@register.filter
def magnitudes(measured: float) -> str:
    """Give 21.40: hundredths say that somebody measured, as tenths say an estimate."""
    return number_format(round(measured, 2), 2)


@register.filter
def isolated(name: str) -> str:
    """Keep a name written from right to left from turning the words and figures around it."""
    turns = any(bidirectional(letter) in ("R", "AL") for letter in name)
    return f"\u2068{name}\u2069" if turns else name


@register.filter
def drive(minutes: int) -> str:
    """Give "130 min", as every page writes a drive."""
    return _("%(minutes)d\u00a0min") % {"minutes": minutes}


@register.filter
def dates(first: date, last: date) -> str:
    """Give "2–4 Jul", "30 Jul–1 Aug" or, across the turn of a year, both years."""
    if first == last:
        return date_format(first, "j M")
    if first.year != last.year:
        return f"{date_format(first, 'j M Y')}–{date_format(last, 'j M Y')}"
    if first.month != last.month:
        return f"{date_format(first, 'j M')}–{date_format(last, 'j M')}"
    return f"{first.day}–{date_format(last, 'j M')}"


@register.filter
def dates_of_year(first: date, last: date) -> str:
    """Give the same with its year: "2–4 Jul 2027"."""
    text = dates(first, last)
    return text if first.year != last.year else f"{text} {last.year}"


@register.filter
def unsure(site: Site) -> str:
    """Give in brackets what must be said where a site is praised: a permit, or what is not known.

    Begins with a space, or is nothing.
    """
    of_access = {
        Site.Access.PERMIT: _("by permit"),
        Site.Access.UNKNOWN: _("access at night not known"),
    }
    said = of_access.get(Site.Access(site.night_access))
    dark = _("darkness not measured") if site.sky_brightness is None else None
    phrases = ", ".join(phrase for phrase in (said, dark) if phrase)
    return f" ({phrases})" if phrases else ""


@register.filter
def access(site: Site) -> list[str]:
    """Give what a site asks of those who come at night, one phrase for each thing that does."""
    phrases = [access_at_night(site)]
    if site.night_access == Site.Access.PERMIT:
        phrases.append(_("number held") if site.permit_number else _("still to ask for"))
    if site.largest_group is not None:
        phrases.append(_("groups of up to\u00a0%(count)d") % {"count": site.largest_group})
    if 0 < len(site.months_open) < 12:
        phrases.append(_("open %(months)s") % {"months": _months(site.months_open)})
    closed = _road_closed(site.road_closed_from, site.road_closed_to)
    return [*phrases, closed] if closed else phrases


@register.filter
def access_at_night(site: Site) -> str:
    """Say whether people may be there at night."""
    if site.night_access == Site.Access.UNKNOWN:
        return _("access at night not known")
    if site.night_access == Site.Access.PERMIT and site.permit_lead_days:
        return _("by permit, %(days)d days ahead") % {"days": site.permit_lead_days}
    return str(site.get_night_access_display())


def _months(months: Sequence[int]) -> str:
    """Give "Apr–Nov", "Oct–Mar" over the turn of the year, or "Jan, May–Jul"."""
    return ", ".join(_stretch(first, last) for first, last in open_stretches(months))


def _stretch(start: int, end: int) -> str:
    first, last = (date_format(date(ANY_YEAR, month, 1), "M") for month in (start, end))
    # Joined, so that no line ends between them.
    return first if start == end else f"{first}\u2060–\u2060{last}"


def _road_closed(first: date | None, last: date | None) -> str:
    if first and last:
        return _("road closed %(dates)s") % {"dates": dates(first, last)}
    if first:
        return _("road closed from %(date)s") % {"date": date_format(first, "j M Y")}
    if last:
        return _("road closed until %(date)s") % {"date": date_format(last, "j M Y")}
    return ""


@register.filter
def weekdays(chosen: Sequence[int]) -> str:
    """Give "Fri, Sat, Sun"; nothing where every evening suits."""
    days = sorted(set(chosen))
    return "" if len(days) == 7 else ", ".join(str(WEEKDAYS_ABBR[day]) for day in days)


@register.filter
def named(sites: Sequence[Site]) -> str:
    """Give the names of a few sites, and how many more there are."""
    names = [isolated(site.name) for site in sites[:MOST_IN_A_SENTENCE]]
    more = beyond_few(sites, MOST_IN_A_SENTENCE)
    return ", ".join([*names, _("%(count)d more") % {"count": more}] if more else names)


@register.filter
def few(things: Sequence[object], most: int = MOST_IN_A_LIST) -> Sequence[object]:
    """Give the first of many: a list of two hundred names is not read."""
    return things[:most]


@register.filter
def beyond_few(things: Sequence[object], most: int = MOST_IN_A_LIST) -> int:
    """Count what `few` leaves out."""
    return max(0, len(things) - most)
