"""What is said of the night under the pointer: words for the page's script, made ready here.

The same phrases come back night after night, so a night names them by number and brings its own
times: a year stays under 40 kB.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any, TypeVar

from django.utils.dates import MONTHS, WEEKDAYS
from django.utils.translation import gettext, gettext_noop

from trips.charts.bands import DAY_MINUTES, NightLine
from trips.charts.night_words import clock, hours_of, mark, moon

# In an address and in phrases: where a date or a time goes.
GAP = "{}"

SUNSET = gettext_noop("Sunset {}.")
SET_BEFORE_NOON = gettext_noop("Sunset before noon.")
NEVER_SETS = gettext_noop("The Sun does not set.")
NEVER_RISES = gettext_noop("The Sun does not rise.")
DARK = gettext_noop("Dark {} to {}.")
NO_DARK = gettext_noop("No dark.")
USABLE_DARK = gettext_noop("Usable dark overhead {}.")

K = TypeVar("K")
Said = list[int | str]  # sentences by their number, then what fills their gaps


def readout_of(nights: Sequence[NightLine]) -> dict[str, Any]:
    """Give the card of each night, in order of date; a date without a night has None."""
    if not nights:
        return {}
    first, last = nights[0].bands.date, nights[-1].bands.date
    phrases: _Numbered[tuple[str, ...]] = _Numbered()
    remarks: _Numbered[str] = _Numbered()
    dates = _Dates(first, last)
    address = nights[0].address.replace(first.isoformat(), GAP)
    cards = {line.bands.date: _card(line, phrases, remarks, dates, address) for line in nights}
    days = (first + timedelta(days=day) for day in range((last - first).days + 1))
    return {
        "first": first.isoformat(),
        "address": address,
        "usable": gettext("{} usable"),
        "moon": gettext("Moon {}."),
        "nights": [cards.get(day) for day in days],
        "phrases": [" ".join(map(gettext, sentences)) for sentences in phrases],
        "remarks": list(remarks),
    }


def _card(
    line: NightLine,
    phrases: _Numbered[tuple[str, ...]],
    remarks: _Numbered[str],
    dates: _Dates,
    address: str,
) -> list[Any]:
    """Give date, usable hours, Sun and dark, Moon, remarks, run and an address of its own."""
    day = line.bands.date
    card = [
        dates.words(day),
        hours_of(line.usable_hours),
        _sun(line, phrases),
        moon(line.bands).replace("\u00a0", " "),  # six bytes each in the page's data
        remarks.number(_remarks(line)),
        line.run or 0,
    ]
    own = line.address != address.replace(GAP, day.isoformat())
    return [*card, line.address] if own else card


def _sun(line: NightLine, phrases: _Numbered[tuple[str, ...]]) -> Said:
    """Say when the Sun sets and when it is dark, or that neither happens."""
    bands = line.bands
    said, times = [NEVER_SETS], []
    if bands.civil:
        start, end = bands.civil[0]
        said = [SUNSET if start > 0 else NEVER_RISES if end >= DAY_MINUTES else SET_BEFORE_NOON]
        times = [clock(start)] if start > 0 else []
    for start, end in bands.dark:
        said.append(DARK)
        times += [clock(start), clock(end)]
    if not bands.dark:
        said.append(NO_DARK)
    if line.usable_dark_hours:
        said.append(USABLE_DARK)
        times.append(hours_of(line.usable_dark_hours).replace("\u00a0", " "))
    return [phrases.number(tuple(said)), *times]


def _remarks(line: NightLine) -> str:
    """Say what the night is to the season, as the table does, and what happens in it."""
    remarks = (mark(line), *line.events)
    return " ".join([f"{remark[:1].upper()}{remark[1:]}." for remark in remarks])


class _Numbered(dict[K, int]):
    """What is said, each once, in the order of its numbers."""

    def number(self, said: K) -> int:
        return self.setdefault(said, len(self))


class _Dates:
    """Evenings in words, with the year where there are several. Names are looked up once."""

    def __init__(self, first: date, last: date) -> None:
        self._weekdays = [str(WEEKDAYS[number]) for number in range(7)]
        self._months = ["", *(str(MONTHS[number]) for number in range(1, 13))]
        several = first.year != last.year
        self._form = (
            gettext("%(weekday)s %(day)d %(month)s %(year)d")
            if several
            else gettext("%(weekday)s %(day)d %(month)s")
        )

    def words(self, day: date) -> str:
        return self._form % {
            "weekday": self._weekdays[day.weekday()],
            "day": day.day,
            "month": self._months[day.month],
            "year": day.year,
        }
