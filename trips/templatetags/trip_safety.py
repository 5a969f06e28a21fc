"""Warnings about a trip, and what to do about cold, in words with their figures and reasons."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import time
from typing import Any

from django import template
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.cold_words import COLD
from trips.almanac.local_time import clock
from trips.models import Hazard
from trips.planning.trip_warnings import TripWarning
from trips.templatetags.nights import hours

register = template.Library()

Figures = Mapping[str, Any]


@register.filter
def warned(warning: TripWarning) -> str:
    """Say what is wrong, with the figure and the limit that it passes."""
    return WARNINGS[warning.code](warning.figures)


@register.filter
def together(found: Sequence[TripWarning]) -> list[tuple[str, str]]:
    """Give each sentence once, with the nights it is about, in the order of the first of each."""
    nights: dict[str, list[str]] = {}
    for one in found:
        days = nights.setdefault(warned(one), [])
        if one.night:
            days.append(date_format(one.night, "D j F"))
    return [(", ".join(days), words) for words, days in nights.items()]


@register.filter
def degrees(celsius: float) -> str:
    """Give whole degrees with a real minus: −3 °C."""
    whole = round(celsius)
    return f"{whole} °C".replace("-", "−")


@register.filter
def to_do(code: str) -> str:
    return str(COLD[code][0])


@register.filter
def because(code: str) -> str:
    return str(COLD[code][1])


def _first_drive(figures: Figures) -> str:
    words = _("%(hours)s of driving before the first night; more than %(limit)s tires.")
    return words % _hours(figures, "hours", "limit")


def _late_drive(figures: Figures) -> str:
    words = _("%(hours)s of driving after %(after)s, when people tire; the limit is %(limit)s.")
    return words % {**_hours(figures, "hours", "limit"), "after": _clock(figures["after"])}


def _rest(figures: Figures) -> str:
    words = _("%(hours)s between leaving and the next start; %(limit)s are wanted.")
    drive = _("%(drive_hours)s of them are the drive.")
    told = words % _hours(figures, "hours", "limit")
    if figures["drive_hours"] and figures["hours"] > 0:
        told = f"{told} {drive % _hours(figures, 'drive_hours')}"
    return told


def _late_nights(figures: Figures) -> str:
    words = _("Late night number %(nights)d running since %(first)s: each is out past %(after)s.")
    return words % {
        "nights": figures["nights"],
        "first": date_format(figures["first"], "j F"),
        "after": _clock(figures["after"]),
    }


def _height(figures: Figures) -> str:
    words = _(
        "Sleeping at %(height)d m without a night lower down first; the limit is %(limit)d m."
    )
    return words % {"height": figures["height_m"], "limit": figures["limit"]}


def _leaving(figures: Figures) -> str:
    words = _(
        "The spot must be left by %(leave)s, and the night goes on until %(end)s: end it earlier, "
        "or settle where people go."
    )
    leave, end = (clock(figures[name], figures["zone"]) for name in ("leave_by", "ends_at"))
    return words % {"leave": leave, "end": end}


def _leaders(figures: Figures) -> str:
    kinds = ", ".join(str(Hazard.Kind(kind).label) for kind in figures["kinds"])
    words = ngettext(
        "%(leaders)d leader for %(people)d people, and a danger: %(kinds)s. One for each "
        "%(limit)d would be %(wanted)d.",
        "%(leaders)d leaders for %(people)d people, and a danger: %(kinds)s. One for each "
        "%(limit)d would be %(wanted)d.",
        figures["leaders"],
    )
    return words % {**figures, "kinds": kinds}


def _seats(figures: Figures) -> str:
    words = ngettext(
        "%(seats)d seat for %(people)d people, leaders counted.",
        "%(seats)d seats for %(people)d people, leaders counted.",
        figures["seats"],
    )
    return words % figures


def _same_driver(figures: Figures) -> str:
    words = ngettext(
        "A driver drove the night before too: let somebody else drive.",
        "%(count)d drivers drove the night before too: let others drive.",
        len(figures["drivers"]),
    )
    return words % {"count": len(figures["drivers"])}


WARNINGS: dict[str, Callable[[Figures], str]] = {
    "first_drive": _first_drive,
    "late_drive": _late_drive,
    "rest": _rest,
    "late_nights": _late_nights,
    "sleeping_height": _height,
    "leave_by": _leaving,
    "leaders": _leaders,
    "seats": _seats,
    "same_driver": _same_driver,
}


def _hours(figures: Figures, *names: str) -> dict[str, str]:
    return {name: hours(max(0.0, figures[name])) for name in names}


def _clock(at: time) -> str:
    return f"{at:%H:%M}"
