"""Stretches of evenings as people write them: 25–28 March, June, 2027-08-13 to 2027-08-15."""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from django.utils.dates import MONTHS, MONTHS_3
from django.utils.formats import date_format
from django.utils.translation import gettext as _

Evenings = tuple[tuple[date, date], ...]

MOST_STRETCHES = 60
ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
# A day, and a month and a year where they are written: 25, 25 March, 25 March 2027; or the month
# first: March, March 25, March 2027.
DAY_FIRST = re.compile(r"(?P<day>\d{1,2})\.?(?:\s+(?P<month>[^\W\d]+)\.?)?(?:\s+(?P<year>\d{4}))?")
MONTH_FIRST = re.compile(r"(?P<month>[^\W\d]+)\.?(?:\s+(?P<day>\d{1,2}))?(?:\s+(?P<year>\d{4}))?")
BETWEEN = re.compile(r"\s*(?:\.\.|[–—/-]|\bto\b)\s*")


class EveningsError(ValueError):
    """What could not be read, in a sentence that says what would be right."""


def read_evenings(text: str, first: date, last: date) -> Evenings:
    """Read stretches with commas between them; a date without a year is each one of the season.

    Errors: `EveningsError` names the first piece that cannot be read.
    """
    pieces = [piece.strip() for piece in re.split(r"[,;\n]", text) if piece.strip()]
    if len(pieces) > MOST_STRETCHES:
        raise EveningsError(_("These are more than %d stretches of dates.") % MOST_STRETCHES)
    return tuple(sorted({found for piece in pieces for found in _read(piece, first, last)}))


def write_evenings(evenings: Sequence[tuple[date, date]]) -> str:
    """Write stretches so that they can be read again, in an address too."""
    return ", ".join(
        f"{first}" if first == last else f"{first} to {last}" for first, last in evenings
    )


def tell_evenings(evenings: Sequence[tuple[date, date]]) -> str:
    """Give the stretches in words: 25–28 March 2027, 13 August 2027."""
    return ", ".join(tell_stretch(first, last) for first, last in evenings)


def tell_stretch(first: date, last: date) -> str:
    if first == last:
        return date_format(first, "j F Y")
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day}–{date_format(last, 'j F Y')}"
    start = date_format(first, "j F" if first.year == last.year else "j F Y")
    return f"{start} – {date_format(last, 'j F Y')}"


def _read(piece: str, first: date, last: date) -> Iterator[tuple[date, date]]:
    # The hyphens of an ISO date are not the hyphen between two dates.
    ends = [each.replace("_", "-") for each in BETWEEN.split(ISO.sub(r"\1_\2_\3", piece))]
    if len(ends) > 2:
        raise _unreadable(piece)
    start, end = _parts(ends[0], piece), _parts(ends[-1], piece)
    if end.month is None:
        end = replace(end, month=start.month)
    if start.month is None:
        start = replace(start, month=end.month)
    years = [end.year] if end.year else range(first.year, last.year + 1)
    for year in years:
        from_year = start.year or year
        if start.year is None and (start.month or 0) > (end.month or 0):
            from_year = year - 1  # 28 December – 3 January
        yield _stretch(start.first(from_year, piece), end.last(year, piece), piece)


@dataclass(frozen=True, slots=True)
class _Written:
    """A date as far as it is written; without a day it is the whole month."""

    day: int | None
    month: int | None
    year: int | None

    def first(self, year: int, piece: str) -> date:
        return _date(year, self.month, self.day or 1, piece)

    def last(self, year: int, piece: str) -> date:
        whole = monthrange(year, self.month)[1] if self.month and not self.day else None
        return _date(year, self.month, self.day or whole, piece)


def _parts(text: str, piece: str) -> _Written:
    """Give day, month and year, as far as they are written."""
    text = text.strip()
    if iso := ISO.fullmatch(text):
        year, month, day = (int(part) for part in iso.groups())
        return _Written(day, month, year)
    written = DAY_FIRST.fullmatch(text) or MONTH_FIRST.fullmatch(text)
    if not written:
        raise _unreadable(piece)
    name = written["month"]
    return _Written(
        day=int(written["day"] or 0) or None,
        month=_month(name, piece) if name else None,
        year=int(written["year"] or 0) or None,
    )


def _month(name: str, piece: str) -> int:
    wanted = name.casefold()
    for number in range(1, 13):
        if wanted in (str(MONTHS[number]).casefold(), str(MONTHS_3[number]).casefold()):
            return number
    raise _unreadable(piece)


def _date(year: int, month: int | None, day: int | None, piece: str) -> date:
    if month is None or day is None:
        raise _unreadable(piece)
    try:
        return date(year, month, day)
    except ValueError:
        raise _unreadable(piece) from None


def _stretch(first: date, last: date, piece: str) -> tuple[date, date]:
    if last < first:
        raise EveningsError(_("“%(piece)s” ends before it begins.") % {"piece": piece[:40]})
    return first, last


def _unreadable(piece: str) -> EveningsError:
    return EveningsError(
        _("“%(piece)s” is no date; write 25–28 March, June, or 2027-03-25 to 2027-03-28.")
        % {"piece": piece[:40]}
    )
