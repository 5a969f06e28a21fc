"""Runs of nights in words: their dates, and reasons with an hour, a date or a figure in each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import Any, Protocol

from django import template
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from trips.almanac.bearings import compass_point, height
from trips.almanac.local_time import local, night_at
from trips.charts.bands import minutes_after_noon
from trips.charts.night_words import dark_span, figure, moon, usable_span
from trips.planning.reasons import Reason
from trips.planning.runs import Stretch
from trips.services.wanted_nights import TargetNight
from trips.templatetags.nights import at, hours

register = template.Library()
register.filter(figure)
register.filter(dark_span)
register.filter(usable_span)
register.filter("moon_told", moon)

BAR_PIXELS = 134
# Times of a run's nights that differ by less are told as one; of more nights only the ends are.
ALIKE_MINUTES, MOST_TIMES = 10, 4

Block = tuple[datetime, datetime]
NOT_OFFERED = {
    "avoided": gettext_lazy("to avoid"),
    "weekday": gettext_lazy("other weekday"),
    "no_night_access": gettext_lazy("not allowed at night"),
    "closed_month": gettext_lazy("site closed"),
    "road_closed": gettext_lazy("road closed"),
}
Fields = Mapping[str, Any]


class Address(Protocol):
    def with_(self, **changed: Any) -> str: ...


@register.simple_tag
def evenings(first: date, last: date) -> str:
    """Give "Fri 2 to Sun 4 Jul", the month once where it is one."""
    return _stretch(first, last, "D", "M")


@register.simple_tag
def whole_evenings(first: date, last: date) -> str:
    """Give "Friday 2 to Sunday 4 July 2027", for a sentence."""
    return f"{_stretch(first, last, 'l', 'F')} {last.year}"


def _stretch(first: date, last: date, day: str, month: str) -> str:
    end = date_format(last, f"{day} j {month}")
    if first == last:
        return end
    same_month = (first.year, first.month) == (last.year, last.month)
    start = f"{day} j" if same_month else f"{day} j {month}"
    if first.year != last.year:
        start += " Y"
    return _("%(first)s to %(last)s") % {"first": date_format(first, start), "last": end}


@register.simple_tag
def short_evenings(first: date, last: date) -> str:
    """Give "2–4 Jul", for the head of a chart."""
    if first == last:
        return date_format(first, "j M")
    start = "j" if first.month == last.month else "j M"
    return f"{date_format(first, start)}–{date_format(last, 'j M')}"


@register.simple_tag
def page_with(address: Address, **changed: Any) -> str:
    """Give the address of this page with some of its questions changed, the others kept."""
    return address.with_(**changed)


@register.simple_tag
def hours_bar(run: Stretch, longest: float) -> str:
    """Draw a run's usable hours, filled, in all its moonless dark while people are out, outlined.

    One scale for all: `longest` hours fill the width.
    """
    scale = BAR_PIXELS / max(longest, 1)
    filled, whole = (round(each * scale, 1) for each in (run.hours, run.hours + run.spare_hours))
    return format_html(
        '<svg class="hours-bar" width="{0}" height="10" viewBox="0 0 {0} 10" aria-hidden="true">'
        '<rect class="could" x=".5" y=".5" width="{1}" height="9"/>'
        '<rect class="usable" x=".5" y=".5" width="{2}" height="9"/></svg>',
        BAR_PIXELS + 1, whole, filled,
    )  # fmt: skip


@register.simple_tag
def target_told(target: TargetNight, zone: str) -> str:
    """Say when a target stands right, and its best: "23:41–02:00, highest 01:20, 21° south"."""
    told = ", ".join(f"{at(start, zone)}–{at(end, zone)}" for start, end in target.pieces)
    best = target.best
    if best is None:
        return told
    if best.at < target.pieces[0][0]:
        said = _("%(times)s, highest before that: %(at)s, %(height)s %(point)s")
    elif best.at > target.pieces[-1][1]:
        said = _("%(times)s, highest later: %(at)s, %(height)s %(point)s")
    else:
        said = _("%(times)s, highest %(at)s, %(height)s %(point)s")
    return said % {
        "times": told,
        "at": at(best.at, zone),
        "height": height(best.altitude),
        "point": compass_point(best.azimuth),
    }


@register.filter
def words(reason: Reason, zone: str) -> str:
    """Say a reason, with times of the zone."""
    return SENTENCES[reason.code](reason.fields, zone)


@register.filter
def offered(code: str | None) -> str:
    """Say, in a word or two, why an evening is not offered."""
    return str(NOT_OFFERED[code]) if code else ""


def _new_moon_within(fields: Fields, zone: str) -> str:
    evening = night_at(fields["instant"], zone)
    return _("New Moon in the night of %(evening)s: no moonlight in the dark.") % {
        "evening": date_format(evening, "l j F")
    }


def _no_moonlight(fields: Fields, zone: str) -> str:
    return _("No moonlight in the dark while you are out; new Moon on %(day)s.") % {
        "day": date_format(local(fields["instant"], zone), "j F")
    }


def _full_nights(fields: Fields, zone: str) -> str:
    said = _("Counted %(times)s, with at least %(in_hand)s more in hand.")
    return said % {"times": _times(fields, zone), "in_hand": hours(fields["in_hand"])}


def _between(fields: Fields, zone: str) -> str:
    return _("Counted %(times)s.") % {"times": _times(fields, zone)}


def _times(fields: Fields, zone: str) -> str:
    """Give "19:18–23:18" once where the nights are all but alike, else each, of many the ends."""
    blocks = fields["blocks"]
    told = [f"{at(start, zone)}–{at(end, zone)}" for start, end in blocks]
    if len(set(told)) == 1:
        return told[0]
    if all(_is_alike(blocks[0], block, zone) for block in blocks):
        return _("about %(times)s") % {"times": told[0]}
    if len(told) <= MOST_TIMES:
        return ", ".join(told)
    return _("%(first)s on the first night to %(last)s on the last") % {
        "first": told[0],
        "last": told[-1],
    }


def _is_alike(first: Block, other: Block, zone: str) -> bool:
    return all(
        abs(_minutes_after_noon(a, zone) - _minutes_after_noon(b, zone)) <= ALIKE_MINUTES
        for a, b in zip(first, other, strict=True)
    )


def _minutes_after_noon(instant: datetime, zone: str) -> int:
    return minutes_after_noon(local(instant, zone).time())


def _moon_costs(fields: Fields, _zone: str) -> str:
    return _("The Moon takes %(hours)s of the dark while you are out.") % {
        "hours": hours(fields["hours"])
    }


def _longer_would_add(fields: Fields, _zone: str) -> str:
    return _("Staying until %(until)s would add %(hours)s.") % {
        "until": f"{fields['until']:%H:%M}",
        "hours": hours(fields["hours"]),
    }


def _access_unknown(_fields: Fields, _zone: str) -> str:
    return _("Nobody has asked yet whether the site is open at night.")


def _needs_permit(fields: Fields, _zone: str) -> str:
    if fields["ask_by"] is None:
        return _("Needs a permit that has not been given yet.")
    return _("Needs a permit: ask for it by %(day)s.") % {
        "day": date_format(fields["ask_by"], "j F Y")
    }


def _most_wanted(fields: Fields, _zone: str) -> str:
    hours_told = ", ".join(figure(each) for each in fields["hours"])
    if len(fields["hours"]) > MOST_TIMES:
        ends = {"least": figure(min(fields["hours"])), "most": figure(max(fields["hours"]))}
        hours_told = _("%(least)s to %(most)s") % ends
    return _("%(target)s stands right %(hours)s h while you are out.") % {
        "target": fields["name"],
        "hours": hours_told,
    }


def _without_most_wanted(fields: Fields, _zone: str) -> str:
    return _("%(target)s never stands right while you are out.") % {"target": fields["name"]}


def _permit_too_late(fields: Fields, _zone: str) -> str:
    return _("Needs a permit that had to be asked for by %(day)s: ask whether it can still be.") % {
        "day": date_format(fields["ask_by"], "j F Y")
    }


def _group_limit(fields: Fields, _zone: str) -> str:
    people = fields["people"]
    words = ngettext("At most %(people)d person there.", "At most %(people)d people there.", people)
    return words % {"people": people}


def _holidays(fields: Fields, _zone: str) -> str:
    days = [
        _("%(evening)s is %(holiday)s")
        % {"evening": date_format(day, "l j F"), "holiday": name.replace(";", ",")}
        for day, name in fields["days"]
    ]
    return _("Public holiday, so roads and beds fill up: %(days)s.") % {"days": "; ".join(days)}


def _better_barred(fields: Fields, _zone: str) -> str:
    return _("%(evenings)s would give %(hours)s: %(why)s.") % {
        "evenings": evenings(fields["first"], fields["last"]),
        "hours": hours(fields["hours"]),
        "why": ", ".join(offered(code) for code in fields["why_not"]),
    }


def _long_drive(fields: Fields, zone: str) -> str:
    said = _("%(minutes)d min to drive home after %(end)s: plan rest, or beds nearby.")
    last = max(fields["ends"], key=lambda end: _minutes_after_noon(end, zone))
    return said % {"end": at(last, zone), "minutes": fields["minutes"]}


def _nothing(_fields: Fields, _zone: str) -> str:
    return _("nothing known; clouds are not in these figures.")


SENTENCES: dict[str, Callable[[Fields, str], str]] = {
    "new_moon_within": _new_moon_within,
    "no_moonlight": _no_moonlight,
    "full_nights": _full_nights,
    "between": _between,
    "moon_costs": _moon_costs,
    "longer_would_add": _longer_would_add,
    "access_unknown": _access_unknown,
    "most_wanted": _most_wanted,
    "without_most_wanted": _without_most_wanted,
    "needs_permit": _needs_permit,
    "permit_too_late": _permit_too_late,
    "group_limit": _group_limit,
    "holidays": _holidays,
    "better_barred": _better_barred,
    "long_drive": _long_drive,
    "nothing": _nothing,
}
