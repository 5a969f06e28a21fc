"""Figures in the units that a reader wants. Inside all is metric."""

from __future__ import annotations

import re

from django.utils.translation import gettext as _

from trips.models import Person

METRIC, IMPERIAL = Person.Units.METRIC.value, Person.Units.IMPERIAL.value
FEET_IN_A_METRE = 1 / 0.3048
MINUS = "\N{MINUS SIGN}"
# A figure with what belongs to it: "35 min", "29° up", "ISO 3200".
BEFORE_A_UNIT = re.compile(r"(?<=\d) (?=(?:mm|cm|px|m|km|km/h|ft|s|min|h|kg|g|°C|°F|%)(?![\w/]))")
AFTER_DEGREES = re.compile(r"(?<=\d°) (?=\w)|(?<=\bISO) (?=\d)")


def degrees(celsius: float, units: str) -> str:
    """Give "−3 °C", or the same in °F, in whole degrees."""
    if units == IMPERIAL:
        return _("%(degrees)s °F") % {"degrees": _whole(celsius * 9 / 5 + 32)}
    return _("%(degrees)s °C") % {"degrees": _whole(celsius)}


def height(metres: float, units: str) -> str:
    """Give "1600 m", or the same in feet."""
    if units == IMPERIAL:
        return _("%(feet)s ft") % {"feet": _whole(metres * FEET_IN_A_METRE)}
    return _("%(metres)s m") % {"metres": _whole(metres)}


def unbroken(text: str) -> str:
    """Put no-break spaces where a line may not end."""
    return AFTER_DEGREES.sub("\N{NO-BREAK SPACE}", BEFORE_A_UNIT.sub("\N{NO-BREAK SPACE}", text))


def _whole(figure: float) -> str:
    return f"{round(figure)}".replace("-", MINUS)
