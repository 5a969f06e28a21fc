"""Night by night: a row for each, in words and figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.charts import night_words as words
from trips.charts.bands import NightBands, NightLine
from trips.charts.strip import ROW_WINDOW


@dataclass(frozen=True, slots=True)
class Row:
    """A night; `kind` is the class of its row."""

    evening: str
    address: str
    bands: NightBands
    sunset: str
    dark: str
    moon: str
    dark_hours: str
    moonless_hours: str
    usable_dark_hours: str
    usable_hours: str
    is_usable: bool
    mark: str
    kind: str


@dataclass(frozen=True, slots=True)
class NightTable:
    caption: str
    rows: tuple[Row, ...]
    first_minute: int
    last_minute: int
    south: bool


def night_table(nights: Sequence[NightLine], *, south: bool = False) -> NightTable:
    """Write nights, sorted by date, as rows; all strips have one window."""
    first, last = words.window(nights, ROW_WINDOW)
    years = {night.bands.date.year for night in nights}
    form = "D j M Y" if len(years) > 1 else "D j F"
    return NightTable(
        _caption(nights), tuple(_row(night, form) for night in nights), first, last, south
    )


def _row(night: NightLine, form: str) -> Row:
    bands = night.bands
    return Row(
        evening=date_format(bands.date, form),
        address=night.address,
        bands=bands,
        sunset=words.sunset(bands),
        dark=words.dark_span(bands),
        moon=words.moon(bands),
        dark_hours=words.figure(night.dark_hours),
        moonless_hours=words.figure(night.moonless_hours),
        usable_dark_hours=words.figure(night.usable_dark_hours),
        usable_hours=words.figure(night.usable_hours),
        is_usable=night.usable_hours > 0 and not night.against,
        mark=words.mark(night),
        kind=words.kind(night),
    )


def _caption(nights: Sequence[NightLine]) -> str:
    if not nights:
        return _("No night.")
    count = ngettext("%(count)d night", "%(count)d nights", len(nights))
    return _("%(first)s to %(last)s: %(nights)s, %(candidates)s.") % {
        "first": date_format(nights[0].bands.date, "j F Y"),
        "last": date_format(nights[-1].bands.date, "j F Y"),
        "nights": count % {"count": len(nights)},
        "candidates": words.candidates(nights),
    }
