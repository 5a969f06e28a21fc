"""Text set in columns of a terminal or a plain mail."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

WIDTH = 72
# A no-break space is none: a number stays with its unit.
BLANKS = re.compile(r"[ \t\r\f\v]+")
# What moves the cursor of a terminal or hides there. A line break is kept.
CONTROLS = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def set_in(text: str, *, first: str = "", rest: str | None = None) -> Iterator[str]:
    """Give the lines of a text, at most `WIDTH` columns each.

    `first` stands before the first line of all, `rest` before the others; alike without it.
    """
    before, after = first, first if rest is None else rest
    for paragraph in text.splitlines():
        for line in _broken(paragraph, WIDTH - max(columns(before), columns(after))):
            yield f"{before}{line}".rstrip()
            before = after


def columns(text: str) -> int:
    """Count the columns that a text takes: two for a wide letter, none for a mark over one."""
    return sum(map(_columns, text))


def _columns(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Cf", "Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in "WF" else 1


def _broken(paragraph: str, width: int) -> Iterator[str]:
    line = ""
    for word in _words(paragraph, width):
        longer = f"{line} {word}" if line else word
        if columns(longer) > width:
            yield line
            longer = word
        line = longer
    yield line


def _words(paragraph: str, width: int) -> Iterator[str]:
    """Give the words, those in pieces that are longer than a line."""
    for word in BLANKS.split(CONTROLS.sub(" ", paragraph).strip()):
        piece = ""
        for letter in word:
            if columns(piece) + _columns(letter) > width:
                yield piece
                piece = ""
            piece += letter
        yield piece
