"""Darkness against drive: a dot for each site, named where there is room."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from trips.charts.dot_names import Box, Label, box_of_dot, name_beside
from trips.charts.panorama import number

WIDTH, HEIGHT = 544, 340
LEFT, RIGHT, TOP, BOTTOM = 40, 512, 28, 288
RADIUS = 5
# With more dots than these, only the ones that are worth it are named.
MOST_NAMED = 14
STEPS_MINUTES = (10, 15, 30, 60, 120, 240, 480, 960)
MOST_TICKS = 7
STEP_DARKNESS = 0.5
CLEAR = 0.05


@dataclass(frozen=True, slots=True)
class Dot:
    """A site: minutes of driving, mag/arcsec², and whether no nearer site is as dark."""

    name: str
    drive_minutes: float
    darkness: float
    is_worth: bool


@dataclass(frozen=True, slots=True)
class Drawn:
    """A dot in its place; `label` is None where no room was left for it."""

    dot: Dot
    x: str
    y: str
    label: Label | None


@dataclass(frozen=True, slots=True)
class Tick:
    at: str
    minutes: int = 0
    text: str = ""


@dataclass(frozen=True, slots=True)
class DotPlot:
    """Farther to the right, darker to the top. Coordinates are ready-made strings."""

    width: int
    height: int
    left: int
    right: int
    top: int
    bottom: int
    radius: int
    across: tuple[Tick, ...]
    up: tuple[Tick, ...]
    dots: tuple[Drawn, ...]

    @property
    def unlabelled(self) -> int:
        return sum(drawn.label is None for drawn in self.dots)


def dot_plot(dots: Sequence[Dot]) -> DotPlot | None:
    """Place the dots; None where there are none. Those that are worth it are named first."""
    if not dots:
        return None
    farthest, step = _across(max(dot.drive_minutes for dot in dots))
    low, high = _up([dot.darkness for dot in dots])
    ordered = sorted(dots, key=lambda dot: (not dot.is_worth, dot.drive_minutes))
    places = [_place(dot, farthest, low, high) for dot in ordered]
    return DotPlot(
        width=WIDTH, height=HEIGHT, left=LEFT, right=RIGHT, top=TOP, bottom=BOTTOM, radius=RADIUS,
        across=tuple(
            Tick(number(_x(minutes, farthest)), minutes=minutes)
            for minutes in range(0, farthest + 1, step)
        ),
        up=tuple(
            Tick(number(_y(value, low, high)), text=f"{value:.1f}")
            for value in _steps(low, high)
        ),
        dots=_named(ordered, places),
    )  # fmt: skip


def _across(most_minutes: float) -> tuple[int, int]:
    """Give the minutes at the right edge and between ticks."""
    step = next((s for s in STEPS_MINUTES if most_minutes <= s * MOST_TICKS), STEPS_MINUTES[-1])
    # The farthest dot stands clear of the edge.
    ticks = math.ceil(most_minutes / step + 0.2)
    return step * ticks, step * math.ceil(ticks / MOST_TICKS)


def _up(values: Sequence[float]) -> tuple[float, float]:
    """Give the lower and the upper edge, with every dot clear of both."""
    low = math.floor((min(values) - CLEAR) / STEP_DARKNESS) * STEP_DARKNESS
    high = math.ceil((max(values) + CLEAR) / STEP_DARKNESS) * STEP_DARKNESS
    return low, high


def _steps(low: float, high: float) -> list[float]:
    return [low + STEP_DARKNESS * n for n in range(round((high - low) / STEP_DARKNESS) + 1)]


def _place(dot: Dot, farthest: int, low: float, high: float) -> tuple[float, float]:
    return _x(dot.drive_minutes, farthest), _y(dot.darkness, low, high)


def _x(minutes: float, farthest: int) -> float:
    return LEFT + (RIGHT - LEFT) * minutes / farthest


def _y(darkness: float, low: float, high: float) -> float:
    return BOTTOM - (BOTTOM - TOP) * (darkness - low) / (high - low)


def _named(dots: Sequence[Dot], places: Sequence[tuple[float, float]]) -> tuple[Drawn, ...]:
    """Name the dots in order; among many a name may lie on dots that have none."""
    to_name = [dot.is_worth or len(dots) <= MOST_NAMED for dot in dots]
    taken = [
        box_of_dot(x, y, RADIUS) for (x, y), named in zip(places, to_name, strict=True) if named
    ]
    return tuple(
        Drawn(dot, number(x), number(y), _label(dot.name, x, y, taken) if named else None)
        for dot, (x, y), named in zip(dots, places, to_name, strict=True)
    )


def _label(name: str, x: float, y: float, taken: list[Box]) -> Label | None:
    inside = (LEFT, -math.inf, WIDTH, BOTTOM)
    return name_beside(name, x, y, radius=RADIUS, inside=inside, taken=taken)
