"""Bars of a month: hours of the dark in ink, with what can be used as their foot. One scale."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

WIDTH = 22
TALLEST = 58
# A foot must be seen, and so must what stands above it.
LEAST_FOOT = 2
GAP = 1
# A unit of the page's type: bars grow and shrink with the text beside them.
PIXELS_OF_AN_EM = 16


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar in whole pixels: `ink` and below it `foot`, as paths; sizes in em, ready to print."""

    height: int
    ink: str
    foot: str
    width_em: str
    height_em: str


def scale_of(hours: Iterable[float]) -> float:
    """Give the hours of the tallest bar, to be shared by every bar of the page."""
    return max(hours, default=0.0)


def bar(dark_hours: float, usable_hours: float, *, tallest_hours: float) -> Bar | None:
    """Draw one month; None where there is nothing to draw: a zero is printed, not drawn.

    Targets wanted in twilight or moonlight can have more hours than the moonless dark has.
    """
    foot = _foot(usable_hours, tallest_hours)
    height = max(_pixels(dark_hours, tallest_hours), foot)
    if not height:
        return None
    above = max(height - foot - GAP, 0) if foot else height
    return Bar(
        height=height,
        ink=_rectangle(0, above),
        foot=_rectangle(height - foot, foot),
        width_em=_em(WIDTH),
        height_em=_em(height),
    )


def _pixels(hours: float, tallest_hours: float) -> int:
    if hours <= 0 or tallest_hours <= 0:
        return 0
    return max(1, round(TALLEST * hours / tallest_hours))


def _foot(usable_hours: float, tallest_hours: float) -> int:
    drawn = _pixels(usable_hours, tallest_hours)
    return max(LEAST_FOOT, drawn) if drawn else 0


def _rectangle(top: int, height: int) -> str:
    return f"M0 {top}h{WIDTH}v{height}H0z" if height else ""


def _em(pixels: int) -> str:
    return f"{pixels / PIXELS_OF_AN_EM:g}em"
