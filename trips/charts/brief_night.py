"""A night for a phone, to scale: bands, hours, and below them when each target stands right.

A unit is a twelve-hundredth of the width, as in the strips of targets.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from trips.charts.bands import Stretch
from trips.charts.course import Course, Mark
from trips.charts.name_places import BOLD_LETTER, LETTER, NameAt
from trips.charts.name_room import letters
from trips.charts.strip import inside, veil_opacity
from trips.charts.timeline import Shape

WIDTH, STRIP = 1200, 104
# Steps between hours that are written, and the least room of one.
STEPS, HOUR_ROOM = (1, 2, 3, 4, 6, 12), 260
TICK, HOURS_BELOW = 12, 74
# A row of windows: a bar with its number under it.
ROWS_BELOW, BAR, NUMBER_BELOW, ROW = 104, 26, 82, 100
NUMBER_APART = 12
# At least so much of a short window is drawn; two that touch are drawn apart.
LEAST_BAR, TOUCH = 16, 3


@dataclass(frozen=True, slots=True)
class Window:
    """When a target stands right, in minutes since the night's noon, under its number."""

    number: int
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class NightStrip:
    """A strip ready for its template: numbers are written out, never localised.

    `starts` and `ends` in Unix seconds, so that a page can put its own mark where it is now.
    """

    width: int
    height: int
    strip: int
    ground: str
    bands: tuple[Shape, ...]
    veil: str
    veil_opacity: str
    ticks: str
    windows: str
    texts: tuple[NameAt, ...]
    starts: int
    ends: int
    title: str
    description: str


def night_strip(
    course: Course, windows: Sequence[Window], *, shown: Stretch, noon: float,
    title: str, description: str,
) -> NightStrip:  # fmt: skip
    """Draw a night between two of its minutes; it began at `noon`, in Unix seconds."""
    first, last = shown
    scale = WIDTH / (last - first)
    bands = course.bands
    placed = [(row, one) for row, one in _rows(windows, shown, scale)]
    rows = max((row + 1 for row, _one in placed), default=0)
    return NightStrip(
        width=WIDTH,
        height=STRIP + (ROWS_BELOW - 8 + rows * ROW if rows else HOURS_BELOW + 16),
        strip=STRIP,
        ground=_boxes([shown], shown, scale),
        bands=tuple(
            Shape(name, _boxes(stretches, shown, scale)) for name, stretches in bands.by_depth
        ),
        veil=_boxes(bands.veil, shown, scale),
        veil_opacity=veil_opacity(bands.lit),
        ticks="".join(
            f"M{_x(mark, first, scale)} {STRIP}v{TICK}" for mark in _hours(course, shown)
        ),
        windows="".join(_bar(row, one, shown, scale) for row, one in placed),
        texts=(*_clocks(course, shown, scale), *_numbers(placed, shown, scale)),
        starts=round(noon + first * 60),
        ends=round(noon + last * 60),
        title=title,
        description=description,
    )


def _boxes(stretches: Iterable[Stretch], shown: Stretch, scale: float) -> str:
    found = inside(tuple(stretches), shown, scale)
    return "".join(f"M{a} 0H{b}V{STRIP}H{a}z" for a, b in found)


def _ticks(course: Course, shown: Stretch, scale: float) -> str:
    places = (_x(mark, shown[0], scale) for mark in _hours(course, shown))
    return "".join(f"M{x} {STRIP}v{TICK}" for x in places)


def _x(mark: Mark, first: float, scale: float) -> int:
    return round((mark.minute - first) * scale)


def _hours(course: Course, shown: Stretch) -> Iterator[Mark]:
    first, last = shown
    return (mark for mark in course.hours if first <= mark.minute <= last)


def _clocks(course: Course, shown: Stretch, scale: float) -> Iterator[NameAt]:
    """Write hours of the clock that divide by a step, as many as have room, no two the same."""
    first, _last = shown
    step = next((step for step in STEPS if step * 60 * scale >= HOUR_ROOM), STEPS[-1])
    right = -1.0 * WIDTH
    for mark in _hours(course, shown):
        half = letters(mark.clock) * LETTER / 2
        x = min(max(_x(mark, first, scale), half), WIDTH - half)
        if mark.depth % step == 0 and x - half > right + NUMBER_APART:
            right = x + half
            yield NameAt(round(x), STRIP + HOURS_BELOW, "middle", mark.clock, "hour")


def _rows(windows: Sequence[Window], shown: Stretch, scale: float) -> Iterator[tuple[int, Window]]:
    """Give each window the first row in which it covers no other and no other's number."""
    ends: list[float] = []
    for one in sorted(windows, key=lambda each: each.start):
        left, right = _reach(one, shown, scale)
        if right <= 0 or left >= WIDTH:
            continue
        row = next((at for at, end in enumerate(ends) if end <= left + TOUCH), len(ends))
        ends[row : row + 1] = [right]
        yield row, one


def _reach(one: Window, shown: Stretch, scale: float) -> Stretch:
    """Give the ends of a bar, or of its number where that is wider."""
    start, end = ((minute - shown[0]) * scale for minute in (one.start, one.end))
    half = letters(str(one.number)) * BOLD_LETTER / 2 + NUMBER_APART
    middle = (start + end) / 2
    return min(start, middle - half), max(end, middle + half)


def _bar(row: int, one: Window, shown: Stretch, scale: float) -> str:
    start, end = (
        at + way * TOUCH for at, way in zip(_ends(one, shown, scale), (1, -1), strict=True)
    )
    top = STRIP + ROWS_BELOW + row * ROW
    return f"M{start} {top}H{end}v{BAR}H{start}z"


def _ends(one: Window, shown: Stretch, scale: float) -> tuple[int, int]:
    start, end = (
        round(min(max((minute - shown[0]) * scale, 0), WIDTH)) for minute in (one.start, one.end)
    )
    start = min(start, WIDTH - LEAST_BAR)
    return start, max(end, start + LEAST_BAR)


def _numbers(
    placed: Iterable[tuple[int, Window]], shown: Stretch, scale: float
) -> Iterator[NameAt]:
    for row, one in placed:
        start, end = _ends(one, shown, scale)
        y = STRIP + ROWS_BELOW + row * ROW + NUMBER_BELOW
        yield NameAt((start + end) // 2, y, "middle", str(one.number), "wanted")
