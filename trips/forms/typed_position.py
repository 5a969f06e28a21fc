"""Positions as people paste them: 40.4, −1.1 or 40°24'00"N 1°06'00"W or geo:40.4,-1.1."""

from __future__ import annotations

import re

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_ANGLE = rf"([-+]?)\s*{_NUMBER}\s*°?\s*(?:{_NUMBER}\s*'\s*)?(?:{_NUMBER}\s*\"\s*)?"
_BETWEEN = r"(?:\s*[,;/]\s*|\s+)"
# With the letters in front, with the letters behind, or without any.
_FRONT = re.compile(rf"([NSEW])\s*{_ANGLE}{_BETWEEN}?([NSEW])\s*{_ANGLE}")
_BEHIND = re.compile(rf"{_ANGLE}([NSEW]){_BETWEEN}?{_ANGLE}([NSEW])")
_PLAIN = re.compile(rf"{_ANGLE}{_BETWEEN}{_ANGLE}")
_ONE = re.compile(rf"([NSEW])?\s*{_ANGLE}([NSEW])?")
# 40,4 is forty and four tenths, not forty and four.
_ONE_NUMBER = re.compile(rf"[-+]?\s*{_NUMBER}")
# Typographic signs, and what keyboards offer in their place.
_SIGNS = str.maketrans(
    {"−": "-", "–": "-", "º": "°", "′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"'}
)

LONGEST = 80
DECIMALS = 7  # a centimetre


def read_position(text: str) -> tuple[float, float] | None:
    """Give latitude and longitude in degrees; None where the text is no pair of angles."""
    text = _plain(text).removeprefix("GEO:")
    if len(text) > LONGEST or _ONE_NUMBER.fullmatch(text):
        return None
    if found := _FRONT.fullmatch(text):
        one, two = found.groups()[:5], found.groups()[5:]
        return _by_letters((one[0], _degrees(*one[1:])), (two[0], _degrees(*two[1:])))
    if found := _BEHIND.fullmatch(text):
        one, two = found.groups()[:5], found.groups()[5:]
        return _by_letters((one[4], _degrees(*one[:4])), (two[4], _degrees(*two[:4])))
    if found := _PLAIN.fullmatch(text):
        first, second = _degrees(*found.groups()[:4]), _degrees(*found.groups()[4:])
        return None if first is None or second is None else (first, second)
    return None


def read_angle(text: str, letters: str) -> float | None:
    """Give one angle with its letter, a degree sign or minutes; `letters` are those that fit it.

    A plain number is none: its field reads it, and says what is wrong with it.
    """
    text = _plain(text)
    found = None if len(text) > LONGEST else _ONE.fullmatch(text)
    if not found or _ONE_NUMBER.fullmatch(text):
        return None
    front, sign, *parts, behind = found.groups()
    letter, angle = front or behind or "", _degrees(sign, *parts)
    if angle is None or (front and behind) or (letter and (sign or letter not in letters)):
        return None
    return -angle if letter in ("S", "W") else angle


def _plain(text: str) -> str:
    return text.translate(_SIGNS).replace("''", '"').strip().upper()


def _degrees(sign: str, whole: str, minutes: str | None, seconds: str | None) -> float | None:
    """Add up an angle; None where minutes or seconds are no part of one."""
    if max(_number(minutes), _number(seconds)) >= 60:
        return None
    size = _number(whole) + _number(minutes) / 60 + _number(seconds) / 3600
    return round(-size if sign == "-" else size, DECIMALS)


def _number(text: str | None) -> float:
    return float(text.replace(",", ".")) if text else 0.0


def _by_letters(
    one: tuple[str, float | None], two: tuple[str, float | None]
) -> tuple[float, float] | None:
    """Put north before east, whichever was written first; a letter and a minus contradict."""
    if one[0] in "EW":
        one, two = two, one
    north, east = one[1], two[1]
    if north is None or east is None or one[0] not in "NS" or two[0] not in "EW":
        return None
    if min(north, east) < 0:
        return None
    return (-north if one[0] == "S" else north), (-east if two[0] == "W" else east)
