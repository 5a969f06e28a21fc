"""What all gear shares: figures within limits, choices, and refusals as codes.

`SkyError` with `field`: `gear_missing`, `gear_not_a_number`, `gear_not_whole`, `gear_outside`
(value, low, high), `gear_choice` (value). Worded in `almanac/gear_sentences.py`.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import MISSING, Field, dataclass, field, fields
from typing import Any, Protocol

from sky.errors import SkyError


class Rule(Protocol):
    """What a field of a piece may hold."""

    def check(self, name: str, value: Any) -> None: ...


@dataclass(frozen=True, slots=True)
class Figure:
    """A number from `low` to `high`, both in the unit that the field's name carries."""

    low: float
    high: float
    whole: bool = False

    def check(self, name: str, value: Any) -> None:
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not math.isfinite(value)
        ):
            raise SkyError("gear_not_a_number", field=name, value=value)
        if self.whole and value != int(value):
            raise SkyError("gear_not_whole", field=name, value=value)
        if not self.low <= value <= self.high:
            raise SkyError("gear_outside", field=name, value=value, low=self.low, high=self.high)


@dataclass(frozen=True, slots=True)
class Choice:
    """One word of a few."""

    words: tuple[str, ...]

    def check(self, name: str, value: Any) -> None:
        if value not in self.words:
            raise SkyError("gear_choice", field=name, value=value)


@dataclass(frozen=True, slots=True)
class YesOrNo:
    def check(self, name: str, value: Any) -> None:
        if not isinstance(value, bool):
            raise SkyError("gear_choice", field=name, value=value)


# Kilograms of anything that a person carries to a spot.
WEIGHT_KG = Figure(0.01, 40)


def figure(low: float, high: float, *, whole: bool = False, default: Any = MISSING) -> Any:
    """Give a field for a number; with `default=None` it may be left out."""
    return field(default=default, metadata={"rule": Figure(low, high, whole)})


def weight_kg() -> Any:
    return field(default=None, metadata={"rule": WEIGHT_KG})


def choice(*words: str, default: Any = MISSING) -> Any:
    return field(default=default, metadata={"rule": Choice(words)})


def yes_or_no(*, default: bool = False) -> Any:
    return field(default=default, metadata={"rule": YesOrNo()})


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece of gear, `name` as its owner calls it."""

    name: str = ""

    def __post_init__(self) -> None:
        for one in said(type(self)):
            value = getattr(self, one.name)
            if value is not None:
                one.metadata["rule"].check(one.name, value)
            elif one.default is not None:
                raise SkyError("gear_missing", field=one.name)


def said(kind: type[Piece]) -> Iterator[Field[Any]]:
    """Give the fields that a piece of a kind is told by, in their order, without its name."""
    return (one for one in fields(kind) if "rule" in one.metadata)
