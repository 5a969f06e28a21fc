"""The small pictures that stand among words: the Moon's disc, a night as a strip."""

from __future__ import annotations

from django import template
from django.utils.safestring import SafeString, mark_safe

from trips.charts import moon, strip, target_strip
from trips.charts.bands import NightBands

register = template.Library()


@register.simple_tag
def moon_disc(
    lit: float,
    waxing: bool,
    *,
    south: bool = False,
    size: float | None = moon.SIZE_PX,
    label: str = "",
) -> SafeString:
    """Draw the Moon; give a `label` where no words stand beside it."""
    disc = moon.moon_disc(lit, waxing, south=south, size=size, label=label)
    return mark_safe(disc)  # noqa: S308 - numbers, and a label that is escaped


@register.simple_tag
def night_strip(
    bands: NightBands,
    first: float,
    last: float,
    width: float,
    height: float,
    *,
    sized: bool = True,
    label: str = "",
) -> SafeString:
    """Draw a night between two minutes after noon; give a `label` where no words tell it."""
    drawn = strip.night_strip(bands, first, last, width, height, sized=sized, label=label)
    return mark_safe(drawn)  # noqa: S308 - numbers, and a label that is escaped


@register.simple_tag(name="target_strip")
def target_strip_tag(
    bands: NightBands, best: float, first: float, last: float, *, width: float, height: float
) -> SafeString:
    """Draw when a target stands right, and its best minute after noon; words must stand beside."""
    window = (first, last)
    drawn = target_strip.target_strip(bands, best, window, width=width, height=height)
    return mark_safe(drawn)  # noqa: S308 - numbers only


@register.simple_tag
def strip_hours(first: float, last: float, width: float) -> SafeString:
    """Draw the hours over a column of strips."""
    return mark_safe(strip.strip_hours(first, last, width))  # noqa: S308 - numbers only
