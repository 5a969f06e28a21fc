"""A bag of lenses as people type it: "14 f/2.8, 24-70 f/2.8, 135/2". A zoom is its two ends."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from trips.almanac.camera import USUAL_FISHEYE, Lens, Projection
from trips.almanac.wording import SkyError, sentence

LONGEST_TEXT = 300
LONGEST_REPEATED = 40
MOST_LENSES = 24

# "f/2,8" is 2.8, and "135/2,300/4" two lenses: a decimal comma has one digit after it.
DECIMAL_COMMA = re.compile(r"(?<![\d.,])(\d{1,3}),(\d)(?!\d)")
# Two lenses with nothing between them: what follows an f-number begins the next.
NEXT_LENS = re.compile(r"(\d\s*(?:mm)?\s*(?:f\s*/?|/|1:)\s*\d+(?:\.\d+)?)\s+(?=\d)")
BETWEEN = re.compile(r"[,;\n+]|\band\b")
FISHEYE = re.compile(r"fish[ -]?eye")
LEFT_OUT = re.compile(r"\b(?:lens|prime|zoom|mm)\b|(?<=\d)mm\b")
_NUMBER = r"(\d+(?:\.\d+)?)"
_TO = rf"(?:\s*-\s*{_NUMBER})?"
LENS = re.compile(rf"{_NUMBER}{_TO}\s*(?:f\s*/?|/|1:|\s)\s*{_NUMBER}{_TO}")
F_FIRST = re.compile(rf"(?:f\s*/?|1:)\s*{_NUMBER}{_TO}\s+{_NUMBER}{_TO}")
WITHOUT_F = re.compile(rf"{_NUMBER}{_TO}")


@dataclass(frozen=True, slots=True)
class Bag:
    """The lenses from the widest on, and a sentence for each part that is none."""

    lenses: tuple[Lens, ...]
    mistakes: tuple[str, ...]


def read_bag(text: str) -> Bag:
    """Read what can be read; a lens named twice is one."""
    lenses: dict[Lens, None] = {}
    mistakes: list[str] = []
    for part in _parts(text[:LONGEST_TEXT]):
        try:
            lenses |= dict.fromkeys(_lenses(part))
        except SkyError as error:
            mistakes.append(f"“{_short(part)}”: {sentence(error)}")
        except ValueError:
            mistakes.append(_not_read(part))
    by_width = sorted(lenses, key=lambda lens: (lens.focal_mm, lens.widest_f_number))
    if len(by_width) > MOST_LENSES:
        words = _("These are %(count)d lenses; the first %(most)d are compared.")
        mistakes.append(words % {"count": len(by_width), "most": MOST_LENSES})
    return Bag(tuple(by_width[:MOST_LENSES]), tuple(mistakes))


def _parts(text: str) -> Iterator[str]:
    plain = re.sub("[–—−]", "-", text.casefold())
    plain = DECIMAL_COMMA.sub(r"\1.\2", plain)
    plain = NEXT_LENS.sub(r"\1;", plain)
    return (part for each in BETWEEN.split(plain) if (part := each.strip(" .")))


def _lenses(part: str) -> list[Lens]:
    """Give the lens of a part, or the two ends of a zoom. Errors: ValueError, and the lens's."""
    bare, fisheyes = FISHEYE.subn(" ", part)
    focal, longest, widest, at_longest = _numbers(LEFT_OUT.sub(" ", bare).strip())
    ends = {float(focal): float(widest)}
    if longest:
        ends[float(longest)] = float(at_longest or widest)
    draws: Projection = USUAL_FISHEYE if fisheyes else "rectilinear"
    return [Lens(focal_mm, f_number, draws) for focal_mm, f_number in ends.items()]


def _numbers(bare: str) -> Sequence[str]:
    """Give focal length, longest, f-number, and that at the longest: "" for what is not said."""
    read = LENS.fullmatch(bare)
    if read:
        return read.groups(default="")
    read = F_FIRST.fullmatch(bare)
    if read is None:
        raise ValueError(bare)
    widest, at_longest, focal, longest = read.groups(default="")
    return focal, longest, widest, at_longest


def _not_read(part: str) -> str:
    named = {"part": _short(part)}
    if WITHOUT_F.fullmatch(LEFT_OUT.sub(" ", FISHEYE.sub(" ", part)).strip()):
        return _("“%(part)s” has no f-number; write it like 50 f/1.8.") % named
    return _("“%(part)s” is no lens that can be read; write it like 50 f/1.8.") % named


def _short(part: str) -> str:
    return part if len(part) <= LONGEST_REPEATED else f"{part[:LONGEST_REPEATED]}…"
