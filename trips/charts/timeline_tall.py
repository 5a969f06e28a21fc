"""The night standing, read downwards, for narrow screens: the same course with every label."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from django.utils.translation import gettext as _

from trips.charts.bands import Stretch, Stretches
from trips.charts.course import Course, Mark
from trips.charts.strip import veil_opacity
from trips.charts.timeline import Label, Shape, Timeline

WIDTH, HOUR_PX, TOP = 340.0, 38.0, 10.0
# From the left: hours, the strip with the usable block at its right, the Moon's bar, labels.
HOURS_END, STRIP_LEFT, STRIP_WIDTH, BLOCK_WIDTH = 42.0, 50.0, 56.0, 18.0
MOON_LEFT, MOON_WIDTH = 112.0, 8.0
LABELS_LEFT, LINE_START, ELBOW = 146.0, 122.0, 130.0
# Two labels closer than this push each other apart.
LEAST_APART = 20.0
AROUND = 60.0


def tall_timeline(
    course: Course, *, title: str, description: str, usable_words: str = "", note: str = ""
) -> Timeline:
    """Draw the night standing, from an hour before sunset to an hour after sunrise.

    `usable_words` label the block that counts; `note` stands in the middle of a night without dark.
    """
    bands, window = course.bands, window_of(course)
    frame = _Frame(window)
    labels = _spread(_labelled(course, usable_words, note), frame)
    lowest = float(labels[-1].y) + 10 if labels else 0.0
    veil = frame.boxes(bands.veil, STRIP_LEFT, STRIP_WIDTH)
    block = (bands.usable,) if bands.usable else ()
    return Timeline(
        width=_n(WIDTH),
        height=_n(max(frame.y(window[1]) + 10, lowest)),
        ground=frame.boxes((window,), STRIP_LEFT, STRIP_WIDTH),
        bands=tuple(
            Shape(name, frame.boxes(stretches, STRIP_LEFT, STRIP_WIDTH))
            for name, stretches in bands.by_depth
        ),
        veil=veil,
        veil_opacity=veil_opacity(bands.lit),
        usable=frame.boxes(block, STRIP_LEFT + STRIP_WIDTH - BLOCK_WIDTH, BLOCK_WIDTH),
        ticks="".join(
            f"M{_n(STRIP_LEFT - 5)} {_n(frame.y(mark.minute))}h5"
            for mark in course.hours
            if window[0] <= mark.minute <= window[1]
        ),
        moon=frame.boxes(bands.moon_up, MOON_LEFT, MOON_WIDTH),
        moon_ground=f"M{_n(MOON_LEFT + MOON_WIDTH / 2)} {_n(TOP)}V{_n(frame.y(window[1]))}",
        change=_change(course, frame),
        labels=labels,
        hours=tuple(_hours(course, frame)),
        title=title,
        description=description,
    )


def window_of(course: Course) -> Stretch:
    """Give the part of the night that is drawn, in full hours."""
    if not course.bands.civil:
        return 0.0, course.minutes
    first, last = course.bands.civil[0][0] - AROUND, course.bands.civil[-1][1] + AROUND
    return max(0.0, first // 60 * 60), min(course.minutes, -(-last // 60) * 60)


class _Frame:
    """From minutes to pixels down the picture."""

    def __init__(self, window: Stretch) -> None:
        self.window = window

    def y(self, minute: float) -> float:
        return TOP + (minute - self.window[0]) * HOUR_PX / 60

    def boxes(self, stretches: Stretches, left: float, width: float) -> str:
        first, last = self.window
        drawn = ((max(start, first), min(end, last)) for start, end in stretches)
        return "".join(
            f"M{_n(left)} {_n(self.y(start))}H{_n(left + width)}V{_n(self.y(end))}H{_n(left)}z"
            for start, end in drawn
            if start < end
        )


def _labelled(course: Course, usable_words: str, note: str) -> Iterator[Mark]:
    """Give all that is labelled; where it lies outside the picture it is left to the table."""
    yield from course.dusks
    yield from course.dawns
    for pair in course.darks:
        yield from (mark for mark in pair if mark)
    yield from course.moonrises
    yield from course.moonsets
    if course.change:
        yield course.change
    if course.bands.usable and usable_words:
        yield Mark(sum(course.bands.usable) / 2, "", usable_words)
    if note:
        yield Mark(sum(window_of(course)) / 2, "", note)
    if not (course.moonrises or course.moonsets):
        never = _("the Moon does not set") if course.bands.moon_up else _("the Moon does not rise")
        yield Mark(window_of(course)[0], "", never)


def _spread(marks: Iterator[Mark], frame: _Frame) -> tuple[Label, ...]:
    """Put labels beside their minutes, in order, each at least a line below the one before."""
    first, last = frame.window
    inside = sorted((mark for mark in marks if first <= mark.minute <= last), key=_minute)
    wanted = [frame.y(mark.minute) for mark in inside]
    placed = _apart(wanted)
    return tuple(
        Label(
            x=_n(LABELS_LEFT),
            y=_n(y + 4),
            anchor="start",
            clock=mark.clock,
            words=mark.words,
            line=f"M{_n(LINE_START)} {_n(at)}H{_n(ELBOW)}L{_n(LABELS_LEFT - 5)} {_n(y)}",
        )
        for mark, at, y in zip(inside, wanted, placed, strict=True)
    )


def _apart(wanted: Sequence[float]) -> list[float]:
    """Move sorted places apart, groups of neighbours about their own middle."""
    groups: list[list[float]] = []
    for place in wanted:
        groups.append([place])
        while len(groups) > 1 and _start(groups[-1]) < _end(groups[-2]) + LEAST_APART:
            groups[-2:] = [groups[-2] + groups[-1]]
    return [_start(group) + n * LEAST_APART for group in groups for n in range(len(group))]


def _start(group: Sequence[float]) -> float:
    """Give where a group begins: centred on its members, not above the picture."""
    return max(sum(group) / len(group) - (len(group) - 1) * LEAST_APART / 2, TOP)


def _end(group: Sequence[float]) -> float:
    return _start(group) + (len(group) - 1) * LEAST_APART


def _hours(course: Course, frame: _Frame) -> Iterator[Label]:
    first, last = frame.window
    for mark in course.hours:
        if first <= mark.minute <= last:
            yield Label(_n(HOURS_END), _n(frame.y(mark.minute) + 4), "end", "", mark.clock)


def _change(course: Course, frame: _Frame) -> str:
    if course.change is None:
        return ""
    y = _n(frame.y(course.change.minute))
    return f"M{_n(STRIP_LEFT - 4)} {y}H{_n(STRIP_LEFT + STRIP_WIDTH + 4)}"


def _minute(mark: Mark) -> float:
    return mark.minute


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")
