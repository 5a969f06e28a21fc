"""Words around a chart as SVG: a filter, because a year has more than a hundred of them."""

from __future__ import annotations

from collections.abc import Iterable

from django import template
from django.utils.html import format_html_join
from django.utils.safestring import SafeString

from trips.charts.picture import Text

register = template.Library()


@register.filter
def drawn(texts: Iterable[Text]) -> SafeString:
    """Draw texts where they stand. Places are whole numbers, written as they are."""
    places = ((str(text.x), str(text.y), text.words) for text in texts)
    return format_html_join("", '<text x="{}" y="{}">{}</text>', places)
