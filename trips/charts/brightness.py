"""The sky's brightness along a night: a line a direction, the lower the darker.

Magnitudes grow downward, so that a night is a hollow and moonlight a hill in it. Nights compare by
eye: the scale is always the same. What is brighter leaves the picture at the top.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from django.utils.translation import gettext as _

from trips.charts.bands import Stretch, Stretches
from trips.charts.brightness_names import NamedLine, placed_names
from trips.charts.course import Course
from trips.charts.panorama import Point, drawn_line, number, smoothed
from trips.charts.picture import Text
from trips.charts.strip import veil_opacity
from trips.charts.timeline import Shape

# From a sky near a full Moon to one darker than any.
BRIGHTEST, DARKEST, MAG_PX = 17.0, 22.5, 42.0
LEFT, TOP = 34, 20
PLOT = round((DARKEST - BRIGHTEST) * MAG_PX)
# Below the plot: the bar of what is usable, the night's strip, the hours of the clock.
BAR, STRIP, GAP, HOURS = 5, 12, 6, 18
LINE_PX = 15
LEAST_HOUR_PX, HALF_HOUR_PX = 46, 18


@dataclass(frozen=True, slots=True)
class Line:
    """What a line is drawn from: minutes since noon with mag/arcsec², greater is darker.

    `kind`: `overhead`, `asked` for what is pointed at, `other`. Where it `stands` right the line is
    thick.
    """

    name: str
    kind: str
    points: Sequence[Point]
    stands: Stretches = ()


@dataclass(frozen=True, slots=True)
class Drawn:
    """A brightness chart ready for its template: numbers are written out, not localised."""

    width: int
    height: int
    left: int
    top: int
    plot_width: int
    plot_height: int
    grid: str
    veil: str
    veil_opacity: str
    lines: tuple[Shape, ...]
    ground: str
    bands: tuple[Shape, ...]
    strip_veil: str
    usable: str
    ticks: str
    texts: tuple[Text, ...]


def brightness_chart(
    course: Course, lines: Sequence[Line], usable: Stretches, *, width: int
) -> Drawn:
    """Draw lines between sunset and sunrise, most important first: names give way to earlier ones.

    `usable` in minutes since noon, too.
    """
    plot = _Plot(_window(course), width)
    below = TOP + PLOT + GAP + BAR + GAP
    return Drawn(
        width=width,
        height=below + STRIP + HOURS,
        left=LEFT,
        top=TOP,
        plot_width=plot.width,
        plot_height=PLOT,
        grid="".join(f"M{LEFT} {number(TOP + plot.y(mag))}h{plot.width}" for mag in _whole_mags()),
        veil=plot.boxes(course.bands.veil, 0, PLOT),
        veil_opacity=veil_opacity(course.bands.lit),
        lines=tuple(_shapes(plot, lines)),
        ground=plot.boxes([plot.window], below, STRIP, from_left=LEFT),
        bands=tuple(_bands(plot, course, below)),
        strip_veil=plot.boxes(course.bands.veil, below, STRIP, from_left=LEFT),
        usable=plot.boxes(usable, TOP + PLOT + GAP, BAR, from_left=LEFT),
        ticks="".join(
            f"M{number(LEFT + plot.x(minute))} {below + STRIP}v4"
            for minute, _clock in plot.hours(course)
        ),
        texts=tuple(_texts(plot, course, lines, below + STRIP + HOURS - 3)),
    )


class _Plot:
    """Minutes and magnitudes as pixels of the plot."""

    def __init__(self, window: Stretch, width: int) -> None:
        self.window, self.width = window, width - LEFT
        self._scale = self.width / (window[1] - window[0])

    def x(self, minute: float) -> float:
        return (minute - self.window[0]) * self._scale

    @staticmethod
    def y(mag: float) -> float:
        return (mag - BRIGHTEST) * MAG_PX

    def line(self, points: Iterable[Point]) -> list[Point]:
        return [(self.x(minute), self.y(mag)) for minute, mag in points]

    def boxes(
        self, stretches: Iterable[Stretch], top: float, height: float, *, from_left: int = 0
    ) -> str:
        """Give rectangles over stretches, cut at the ends of the window, as path data."""
        first, last = self.window
        cut = ((max(start, first), min(end, last)) for start, end in stretches)
        return "".join(
            f"M{number(from_left + self.x(start))} {top:g}"
            f"H{number(from_left + self.x(end))}v{height:g}H{number(from_left + self.x(start))}z"
            for start, end in cut
            if start < end
        )

    def hours(self, course: Course) -> list[tuple[float, str]]:
        """Give the hours of the clock that have room, with their minutes."""
        first, last = self.window
        step = next(each for each in (1, 2, 3, 6, 12) if each * 60 * self._scale >= LEAST_HOUR_PX)
        return [
            (mark.minute, mark.clock)
            for mark in course.hours
            if first <= mark.minute <= last - HALF_HOUR_PX / self._scale and mark.depth % step == 0
        ]


def _window(course: Course) -> Stretch:
    """Give sunset to sunrise, or the whole night where the Sun stays down."""
    dark = course.bands.civil
    return (dark[0][0], dark[-1][1]) if dark else (0.0, course.minutes)


def _whole_mags() -> range:
    return range(int(BRIGHTEST) + 1, int(DARKEST) + 1)


def _bands(plot: _Plot, course: Course, top: float) -> Iterator[Shape]:
    for name, stretches in course.bands.by_depth:
        if drawn := plot.boxes(stretches, top, STRIP, from_left=LEFT):
            yield Shape(name, drawn)


def _shapes(plot: _Plot, lines: Sequence[Line]) -> Iterator[Shape]:
    """Draw the most important last, over the others."""
    for line in reversed(lines):
        pieces = list(_seen(line.points))
        if line.kind != "other" and pieces:
            yield Shape(line.kind, _path(plot, pieces))
        if thick := _standing(line):
            yield Shape(f"{line.kind} stands", _path(plot, thick))


def _seen(points: Iterable[Point]) -> Iterator[list[Point]]:
    """Give the pieces in the picture, with nothing (NaN) between them."""
    for is_there, piece in groupby(points, key=lambda point: point[1] == point[1]):
        if is_there:
            yield list(piece)


def _within(piece: Sequence[Point], span: Stretch) -> list[Point]:
    """Cut a piece at the ends of a stretch, between its points too."""
    start, end = max(span[0], piece[0][0]), min(span[1], piece[-1][0])
    if start >= end:
        return []
    inner = [point for point in piece if start < point[0] < end]
    return [(start, _at(piece, start)), *inner, (end, _at(piece, end))]


def _at(piece: Sequence[Point], minute: float) -> float:
    after = next(number for number, point in enumerate(piece) if point[0] >= minute)
    if after == 0:
        return piece[0][1]
    (x, y), (other, there) = piece[after - 1], piece[after]
    return y + (there - y) * (minute - x) / (other - x)


def _path(plot: _Plot, pieces: Iterable[Sequence[Point]]) -> str:
    return "".join(drawn_line(smoothed(plot.line(piece))) for piece in pieces if len(piece) > 1)


def _texts(plot: _Plot, course: Course, lines: Sequence[Line], hours_y: int) -> Iterator[Text]:
    yield Text(0, LINE_PX - 4, _("mag/arcsec²"), "t-soft")
    for mag in _whole_mags():
        yield Text(LEFT - 8, round(TOP + plot.y(mag)) + 4, str(mag), "t-end t-soft")
    for minute, clock in plot.hours(course):
        yield Text(round(LEFT + plot.x(minute)), hours_y, clock, "t-mid t-soft")
    named = [_named(plot, line) for line in lines]
    for number_of, x, y in placed_names(named, plot.width, PLOT):
        line = lines[number_of]
        yield Text(round(LEFT + x), round(TOP + y), line.name, f"t-mid n-{line.kind}")


def _named(plot: _Plot, line: Line) -> NamedLine:
    """Name a line where it stands right, else anywhere; another only where it is drawn."""
    pieces = [plot.line(piece) for piece in _seen(line.points)]
    thick = [plot.line(piece) for piece in _standing(line)]
    is_other = line.kind == "other"
    at = sorted(thick, key=len, reverse=True) + ([] if is_other else pieces)
    return NamedLine(line.name, thick if is_other else pieces, at, must=not is_other)


def _standing(line: Line) -> list[list[Point]]:
    """Give the parts of a line where its target stands right."""
    cut = (_within(piece, span) for piece in _seen(line.points) for span in line.stands)
    return [piece for piece in cut if piece]
