"""Skylines as people bring them: a table of azimuths and altitudes, or a line of text for each.

All or nothing. What is wrong is refused, each line with its number; what is only doubtful is
accepted and said.
Too many points are refused and not thinned: which of them is the notch, only a person knows.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.skyline_words import gap_words
from trips.almanac.skylines import Skyline, skyline_of
from trips.almanac.wording import SkyError, sentence
from trips.tabular import Line, TableError, read_table

COLUMNS = ("azimuth", "altitude")
# Fifty times what the most points take: a photograph is not read to its end.
MOST_BYTES = 2_000_000
# What is wrong with so many lines is told, the others are counted.
MOST_TOLD = 5
_NUMBER = r"([-+]?\d*[.,]?\d+(?:[eE][-+]?\d+)?)"
# What parts two numbers is a space, a semicolon or both; a comma alone only beside points.
_PAIR = re.compile(rf"{_NUMBER}(?:\s*;\s*|,?\s+){_NUMBER}")
_POINTED_PAIR = re.compile(r"([-+]?\d*\.\d+|[-+]?\d+),([-+]?\d*\.\d+|[-+]?\d+)")
_WHOLE_PAIR = re.compile(r"[-+]?\d+,\d+")

Point = tuple[float, float]
Numbered = list[tuple[int, Point]]
Refusals = list[tuple[int, str]]


@dataclass(frozen=True, slots=True)
class ReadSkyline:
    """A skyline, and in sentences what the person who brought it should know of it."""

    skyline: Skyline
    notices: tuple[str, ...] = ()


def read_skyline_table(data: bytes) -> ReadSkyline:
    """Read a table with the columns azimuth and altitude, in degrees. Errors: `TableError`."""
    if len(data) > MOST_BYTES:
        raise TableError(_("The file is too large for a skyline; a table has a few kilobytes."))
    lines = read_table(data, required=COLUMNS)
    return _read((line.number, line) for line in lines)


def read_skyline_text(text: str) -> ReadSkyline:
    """Read "azimuth altitude" a line, in degrees; nothing is a level skyline.

    A text that begins with the names of the columns is a table. Errors: `TableError`.
    """
    lines = [(number, line.strip()) for number, line in enumerate(text.splitlines(), 1)]
    written = [(number, line) for number, line in lines if line]
    if written and COLUMNS[0] in written[0][1].casefold():
        return read_skyline_table(text.replace("\t", ";").encode())
    return _read(written)


def write_skyline_text(points: Sequence[Sequence[float]]) -> str:
    """Write points so that `read_skyline_text` reads the same."""
    return "\n".join(f"{azimuth:.10g} {altitude:.10g}" for azimuth, altitude in points)


def _read(rows: Iterable[tuple[int, Line | str]]) -> ReadSkyline:
    numbered: Numbered = []
    wrong: Refusals = []
    for number, row in rows:
        try:
            numbered.append((number, _point(number, row)))
        except TableError as error:
            wrong.append((number, str(error)))
    try:
        skyline = skyline_of([point for _number, point in numbered])
    except SkyError as error:
        if error.code == "skyline_too_many":
            raise TableError(sentence(error)) from None
        wrong += _refusals(numbered)
    if wrong:
        raise TableError(_told([words for _number, words in sorted(wrong)]))
    return ReadSkyline(skyline, tuple(_notices(skyline, len(numbered))))


def _point(number: int, row: Line | str) -> Point:
    if isinstance(row, str):
        return _pair(number, row)
    return row.decimal("azimuth"), row.decimal("altitude")


def _told(wrong: Sequence[str]) -> str:
    """Put what is wrong with each line into one message."""
    more = len(wrong) - MOST_TOLD
    if more <= 0:
        return " ".join(wrong)
    words = ngettext("And %(count)d more line.", "And %(count)d more lines.", more)
    return " ".join((*wrong[:MOST_TOLD], words % {"count": more}))


def _pair(number: int, line: str) -> Point:
    plain = line.translate({0x2212: "-", 0x2013: "-", 0xB0: None})
    found = _PAIR.fullmatch(plain) or _POINTED_PAIR.fullmatch(plain)
    if _WHOLE_PAIR.fullmatch(plain):
        words = _(
            "Line %(line)d: “%(text)s” may be one number or two; part azimuth and altitude by a "
            "space."
        )
        raise TableError(words % {"line": number, "text": line[:40]})
    if found is None:
        words = _(
            "Line %(line)d: “%(text)s” is not an azimuth and an altitude; write them like 120 3.5."
        )
        raise TableError(words % {"line": number, "text": line[:40]})
    azimuth, altitude = (float(each.replace(",", ".")) for each in found.groups())
    return azimuth, altitude


def _refusals(numbered: Numbered) -> Iterator[tuple[int, str]]:
    """Give sky's refusal of each point, by itself or beside the first of its direction."""
    by_azimuth: dict[float, tuple[int, Point]] = {}
    for line, point in numbered:
        earlier = by_azimuth.get(point[0] % 360, (line, point))
        try:
            skyline_of([earlier[1], point])
        except SkyError as error:
            yield line, _refused(error, earlier[0], line)
        else:
            by_azimuth[point[0] % 360] = earlier


def _refused(error: SkyError, earlier: int, line: int) -> str:
    said = {"first": earlier, "line": line, "said": sentence(error)}
    if error.code == "skyline_azimuth_twice":
        return _("Lines %(first)d and %(line)d: %(said)s") % said
    return _("Line %(line)d: %(said)s") % said


def _notices(skyline: Skyline, typed: int) -> list[str]:
    said = []
    points = skyline.points
    if len(points) == 1:
        words = _("One point is taken for a level ring: %(altitude)s° high all around.")
        said.append(words % {"altitude": _degrees(points[0][1])})
    if typed > len(points):
        words = ngettext(
            "%(count)d line said the same again and counts once.",
            "%(count)d lines said the same again and count once.",
            typed - len(points),
        )
        said.append(words % {"count": typed - len(points)})
    if gap := gap_words(skyline):
        said.append(gap)
    return said


def _degrees(value: float) -> str:
    return f"{value:.10g}".replace("-", "−")
