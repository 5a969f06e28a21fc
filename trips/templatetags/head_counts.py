"""What a head count writes: a tick's word, a number to call, a position to read out."""

from __future__ import annotations

import re
import uuid

from django import template
from django.utils.translation import pgettext

from trips.models import Spot, Tick

register = template.Library()


@register.filter
def tick_word(kind: str) -> str:
    return str(Tick.Kind(kind).label)


@register.filter
def telephone(typed: str) -> str:
    """Give the digits to call of a number as people write it."""
    return re.sub(r"[^+\d*#]", "", typed)


@register.filter
def read_out(spot: Spot) -> str:
    """Give a position as rescuers ask for it: 40.4000° N, 1.1000° W."""
    north = pgettext("position", "N") if spot.latitude >= 0 else pgettext("position", "S")
    east = pgettext("position", "E") if spot.longitude >= 0 else pgettext("position", "W")
    return f"{abs(spot.latitude):.4f}° {north}, {abs(spot.longitude):.4f}° {east}"


@register.simple_tag
def fresh_uid() -> str:
    """Give a form its own id: pressed twice, it is one tick."""
    return str(uuid.uuid4())
