"""The night from noon to noon as a strip: bands, labels above, hours and the Moon below."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from trips.charts.bands import Stretch, Stretches
from trips.charts.course import Course, Mark
from trips.charts.strip import veil_opacity

HOUR_PX = 48.0
# From the top: rows of labels, the strip with the usable block in its lower part, hours, the Moon.
STEP, STRIP, BLOCK = 20.0, 64.0, 20.0
HOURS_BELOW, MOON_BELOW, MOON_BAR = 18.0, 34.0, 8.0
MOON_TEXT_BELOW, BELOW = 56.0, 62.0
# Widths of texts that decide where they go: generous, since faces differ by 15 %.
LABEL_PX, TWO_LABELS_PX, INSIDE_PX, MOON_LABEL_PX = 115.0, 230.0, 170.0, 125.0
GAP = 5.0


@dataclass(frozen=True, slots=True)
class Label:
    """A text at a place: the clock in bold, then words; `line` leads to what it names."""

    x: str
    y: str
    anchor: str
    clock: str
    words: str
    line: str = ""


@dataclass(frozen=True, slots=True)
class Shape:
    """A path with its class."""

    name: str
    d: str


@dataclass(frozen=True, slots=True)
class Timeline:
    """A night lying or standing, ready for its template: numbers are written out, not localised."""

    width: str
    height: str
    ground: str
    bands: tuple[Shape, ...]
    veil: str
    veil_opacity: str
    usable: str
    ticks: str
    moon: str
    moon_ground: str
    change: str
    labels: tuple[Label, ...]
    hours: tuple[Label, ...]
    title: str
    description: str
    inside: tuple[Label, ...] = ()
    moon_labels: tuple[Label, ...] = ()


def timeline(course: Course, *, title: str, description: str, note: str = "") -> Timeline:
    """Draw the night lying; `note` stands above the strip where there is no dark to label."""
    top = _rows(course, note) * STEP + 6
    width = x_of(course.minutes)
    bands = course.bands
    return Timeline(
        width=_n(width),
        height=_n(top + STRIP + BELOW),
        ground=box((0.0, course.minutes), top, STRIP),
        bands=tuple(
            Shape(name, boxes(stretches, top, STRIP)) for name, stretches in bands.by_depth
        ),
        veil=boxes(bands.veil, top, STRIP),
        veil_opacity=veil_opacity(bands.lit),
        usable=box(bands.usable, top + STRIP - BLOCK, BLOCK) if bands.usable else "",
        ticks="".join(f"M{_n(x_of(mark.minute))} {_n(top + STRIP)}v5" for mark in course.hours),
        moon=boxes(bands.moon_up, top + STRIP + MOON_BELOW, MOON_BAR),
        moon_ground=f"M0 {_n(top + STRIP + MOON_BELOW + MOON_BAR / 2)}H{_n(width)}",
        change=_change(course, top),
        labels=tuple(_labels(course, top, note)),
        hours=tuple(_hours(course, top + STRIP + HOURS_BELOW)),
        inside=tuple(_inside(course, top)),
        moon_labels=tuple(_moon_labels(course, top + STRIP + MOON_TEXT_BELOW)),
        title=title,
        description=description,
    )


def _rows(course: Course, note: str) -> int:
    """Count the rows of labels: a step for each depth, and one above for what has no line."""
    begun = [*course.dusks, *course.dawns, *(mark for pair in course.darks for mark in pair)]
    steps = max((mark.depth + 1 for mark in begun if mark), default=0)
    is_above = bool(note) or any(_is_short(pair) for pair in course.darks)
    return max(1 if course.change else 0, steps + is_above)


def x_of(minute: float) -> float:
    return minute * HOUR_PX / 60


def box(stretch: Stretch, top: float, height: float) -> str:
    """Give a rectangle over a stretch of minutes as path data."""
    a, b = (_n(x_of(minute)) for minute in stretch)
    return f"M{a} {_n(top)}H{b}V{_n(top + height)}H{a}z"


def boxes(stretches: Stretches, top: float, height: float) -> str:
    return "".join(box(stretch, top, height) for stretch in stretches)


def _labels(course: Course, top: float, note: str) -> Iterator[Label]:
    """Dusks end at their line and dawns start at it, each depth on a step of its own."""
    for mark in course.dusks:
        near_edge = x_of(mark.minute) < LABEL_PX
        yield _label(mark, top, "start" if near_edge else "end")
    for mark in course.dawns:
        near_edge = x_of(course.minutes - mark.minute) < LABEL_PX
        yield _label(mark, top, "end" if near_edge else "start")
    for begins, ends in course.darks:
        yield from _dark_labels(begins, ends, top)
    if note:
        middle = _middle(course)
        yield Label(_n(x_of(middle)), _n(STEP - 6), "middle", "", note)
    if course.change:
        x = _n(x_of(course.change.minute))
        yield Label(x, _n(top - 8), "middle", course.change.clock, course.change.words)


def _dark_labels(begins: Mark | None, ends: Mark | None, top: float) -> Iterator[Label]:
    if begins and ends and _is_short((begins, ends)):
        middle = (begins.minute + ends.minute) / 2
        clock = f"{begins.clock}–{ends.clock}"
        x = x_of(middle)
        yield Label(
            _n(x), _n(STEP - 6), "middle", clock, _("dark"), f"M{_n(x)} {_n(STEP)}V{_n(top)}"
        )
        return
    if begins:
        yield _label(begins, top, "start")
    if ends:
        yield _label(ends, top, "end")


def _is_short(pair: tuple[Mark | None, Mark | None]) -> bool:
    begins, ends = pair
    return bool(begins and ends and x_of(ends.minute - begins.minute) < TWO_LABELS_PX)


def _middle(course: Course) -> float:
    """Give the middle of the deepest band, or of the night."""
    bands = course.bands
    for stretches in (bands.astronomical, bands.nautical, bands.civil):
        if stretches:
            return sum(stretches[0]) / 2
    return course.minutes / 2


def _label(mark: Mark, top: float, anchor: str) -> Label:
    x, y = x_of(mark.minute), top - 8 - mark.depth * STEP
    beside = x + GAP if anchor == "start" else x - GAP
    return Label(
        _n(beside), _n(y), anchor, mark.clock, mark.words, f"M{_n(x)} {_n(y - 11)}V{_n(top)}"
    )


def _hours(course: Course, y: float) -> Iterator[Label]:
    """Name every third hour of the clock and both noons."""
    last = len(course.hours) - 1
    for at, mark in enumerate(course.hours):
        if mark.depth % 3 == 0:
            anchor = "start" if at == 0 else "end" if at == last else "middle"
            yield Label(_n(x_of(mark.minute)), _n(y), anchor, "", mark.clock)


def _inside(course: Course, top: float) -> Iterator[Label]:
    """Say the longest moonless dark in the strip where there is room for it."""
    longest = max(course.moonless, key=lambda each: each[1] - each[0], default=None)
    if longest and x_of(longest[1] - longest[0]) >= INSIDE_PX:
        hours = f"{(longest[1] - longest[0]) / 60:.1f}"
        words = _("dark, no Moon, %(hours)s h") % {"hours": hours}
        yield Label(_n(x_of(sum(longest) / 2)), _n(top + 28), "middle", "", words)


def _moon_labels(course: Course, y: float) -> Iterator[Label]:
    """Name rise and set under the bar: inside its ends, or outside where it is short."""
    if not course.bands.moon_up:
        yield Label("0", _n(y), "start", "", _("the Moon does not rise"))
    elif not (course.moonrises or course.moonsets):
        yield Label("0", _n(y), "start", "", _("the Moon does not set"))
    for start, end in course.bands.moon_up:
        inside = x_of(end - start) >= 2 * MOON_LABEL_PX
        yield from _at(course.moonrises, start, y, inside=inside, width=course.minutes)
        yield from _at(course.moonsets, end, y, inside=not inside, width=course.minutes)


def _at(
    marks: Iterable[Mark], minute: float, y: float, *, inside: bool, width: float
) -> Iterator[Label]:
    """Label the event at a minute, to its right where `inside`, and never past the edges."""
    for mark in marks:
        if abs(mark.minute - minute) < 0.01:
            x = x_of(mark.minute)
            rightward = (inside or x < MOON_LABEL_PX) and x_of(width) - x > MOON_LABEL_PX
            yield Label(_n(x), _n(y), "start" if rightward else "end", mark.clock, mark.words)


def _change(course: Course, top: float) -> str:
    if course.change is None:
        return ""
    x = _n(x_of(course.change.minute))
    return f"M{x} {_n(top - 4)}V{_n(top + STRIP + 4)}"


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
