"""A letter in words, and how an address of the service is written into one."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable
from dataclasses import dataclass

from django.conf import settings
from django.urls import reverse

from trips.models import Letter

# How Unicode sorts what is written from right to left, and the signs that turn what follows them.
_RIGHT_TO_LEFT = {"R", "AL", "AN"}
_TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
_APART = "\u2068%s\u2069"


@dataclass(frozen=True, slots=True)
class Enclosed:
    """A file of a letter. A picture is shown where its HTML has `<img src="cid:NAME">`."""

    name: str
    content: bytes
    kind: str


@dataclass(frozen=True, slots=True)
class Written:
    """Plain text, and the same as HTML where a mail shows more than words; the subject is put on
    one line when it is sent. Pictures stand inside the HTML, files beside the letter: one of both.
    """

    to: str
    subject: str
    text: str
    html: str = ""
    pictures: tuple[Enclosed, ...] = ()
    files: tuple[Enclosed, ...] = ()


Builder = Callable[[Letter], Written | None]


def address(name: str, *args: object) -> str:
    """Give the whole address of a page, as it must stand in a letter."""
    return f"{settings.FIELDNIGHTS_ADDRESS}{reverse(name, args=args)}"


def paragraphs(*parts: str) -> str:
    """Join what is said, with a line between; what is empty is left out."""
    return "\n\n".join(part for part in parts if part) + "\n"


def named(name: object) -> str:
    """Put what somebody typed on one line, so that it turns nothing of ours round.

    After a name in Arabic the parts of a phone number would be read from right to left; what is
    set apart as Unicode has it (UAX 9, isolates) leaves its neighbours alone.
    """
    signs = [sign for sign in str(name) if unicodedata.bidirectional(sign) not in _TURNING]
    line = " ".join("".join(signs).split())
    turns = any(unicodedata.bidirectional(sign) in _RIGHT_TO_LEFT for sign in line)
    return _APART % line if turns else line
