"""How a brief's sentences are set: their beginning bold, a direction broken at its comma."""

from __future__ import annotations

import re
from collections.abc import Iterable

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

from trips.models import TripNight
from trips.services.briefs.reading import Published
from trips.services.briefs.units import unbroken
from trips.services.qr import qr_svg

register = template.Library()
register.filter("unbroken", unbroken)

# Where the first thing that a sentence says ends.
OPENING = re.compile(r"[.:]\s")
LONGEST_OPENING = 140


@register.filter
def opened(words: str) -> SafeString:
    """Set the first thing that a paragraph says in bold: who reads in a hurry reads that."""
    found = OPENING.search(words)
    if found is None or found.start() > LONGEST_OPENING:
        return format_html("{}", words)
    end = found.start() + 1
    return format_html("<b>{}</b>{}", words[:end], words[end:])


@register.filter
def broken_at_commas(words: str) -> SafeString:
    """Let a direction break between its parts, and not inside of one."""
    pieces = words.split(", ")
    ended = [(f"{piece},",) for piece in pieces[:-1]] + [(pieces[-1],)]
    return format_html_join(" ", '<span class="whole">{}</span>', ended)


@register.filter
def of_night(briefs: Iterable[Published], night: TripNight) -> Published | None:
    """Give what is published of a night, None where nothing is."""
    return next((one for one in briefs if one.evening == night.date), None)


@register.simple_tag
def qr(address: str, name: str) -> SafeString:
    """Draw an address as a square that a phone reads; it holds squares and an escaped name."""
    return mark_safe(qr_svg(address, name=name))  # noqa: S308
