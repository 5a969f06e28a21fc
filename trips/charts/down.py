"""A chart of nights for a phone held upright: dates down, the clock across."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import timedelta
from itertools import chain, repeat
from textwrap import wrap

from django.utils.dateformat import format as date_words
from django.utils.translation import gettext

from trips.charts.night_words import clock
from trips.charts.picture import Box, Picture, RunLink, Text, by_kind, points, width_of
from trips.charts.plan import Plan, Run
from trips.charts.steps import CLOSES, OPENS

# 358 px: what a phone of 390 leaves between its margins.
WIDTH, LEFT, TOP, MINUTE_PX = 358, 42, 24, 0.225
PLOT_WIDTH = round((CLOSES - OPENS) * MINUTE_PX)
RIGHT = LEFT + PLOT_WIDTH
TALLEST_PLOT, TALLEST_NIGHT = 760, 24
NUMBERED_NIGHT_PX = 14
LINE_PX, THUMB_PX = 14, 44


def down(plan: Plan) -> Picture:
    """Lay the plan out with a row a night, runs and today in the margin at the right."""
    night_px = max(1, min(TALLEST_NIGHT, TALLEST_PLOT // plan.count))
    plot = Box(LEFT, TOP, PLOT_WIDTH, night_px * plan.count)
    links = [_link(run, plot, night_px) for run in plan.runs]
    texts = [*_hours(), *_dates(plan, night_px), *_clock_lines(plan, plot)]
    texts += _margin(plan, night_px, links)
    lines_below = sum(OPENS < line.minutes < CLOSES for line in plan.clock_lines)
    return Picture(
        way="down",
        width=WIDTH,
        height=TOP + plot.height + 8 + (LINE_PX + 2) * lines_below,
        plot=plot,
        night_px=night_px,
        minute_px=MINUTE_PX,
        matrix=f"0 {night_px} {MINUTE_PX} 0 {LEFT - OPENS * MINUTE_PX:g} {TOP}",
        texts=by_kind(texts),
        moons=points(
            (LEFT - 7, TOP + place * night_px + night_px // 2, moon.kind)
            for place, moon in plan.moons
        ),
        links=links,
        stems="".join(
            f"M{run.middle:g} {CLOSES}V{min(CLOSES, round(run.block[1]))}"
            for run in plan.runs
            if run.block
        ),
    )


def _hours() -> Iterator[Text]:
    for minutes in range(OPENS, CLOSES, 240):
        x = LEFT + round((minutes - OPENS) * MINUTE_PX)
        yield Text(x, TOP - 8, clock(minutes), "t-mid t-soft")


def _dates(plan: Plan, night_px: int) -> Iterator[Text]:
    """Name the months; in a short season number the days and name the first of a month."""
    if night_px < NUMBERED_NIGHT_PX:
        yield from _months(plan, night_px)
        return
    yield Text(0, TOP - 8, date_words(plan.first, "M"), "")
    for place in range(plan.count):
        day = plan.first + timedelta(days=place)
        words = date_words(day, "M") if place and day.day == 1 else str(day.day)
        yield Text(LEFT - 14, TOP + round((place + 0.5) * night_px) + 4, words, "t-end")


def _months(plan: Plan, night_px: int) -> Iterator[Text]:
    for month in plan.months:
        room = month.nights * night_px
        if room >= LINE_PX:
            is_new_year = plan.has_several_years and month.first.month == 1
            words = str(month.first.year) if is_new_year else date_words(month.first, "M")
            y = TOP + month.place * night_px + room // 2 + 4
            yield Text(0, y, words, "t-strong" if is_new_year else "")


def _clock_lines(plan: Plan, plot: Box) -> Iterator[Text]:
    """Name the hours out below the plot, each on a line of its own."""
    y = plot.y + plot.height
    for line in plan.clock_lines:
        if OPENS < line.minutes < CLOSES:
            y += LINE_PX + 2
            half = round(width_of(line.words) / 2)
            x = LEFT + round((line.minutes - OPENS) * MINUTE_PX)
            yield Text(min(max(x, half), WIDTH - half), y, line.words, "t-mid")


def _link(run: Run, plot: Box, night_px: int) -> RunLink:
    """Draw one run: a bar as long as its nights, beside it number over dates."""
    bar = max(9, run.nights * night_px)
    middle = round(plot.y + run.middle * night_px)
    lines = [str(run.mark.number), *_wrapped(run.mark.label)]
    first = middle + 4 - (len(lines) - 1) * LINE_PX // 2
    kinds = chain(("t-number t-start",), repeat("t-run t-start"))
    return RunLink(
        number=run.mark.number,
        words=run.mark.label,
        address=run.mark.address,
        texts=tuple(
            Text(RIGHT + 14, first + LINE_PX * number, line, kind)
            for number, (line, kind) in enumerate(zip(lines, kinds, strict=False))
        ),
        mark=Box(RIGHT + 3, middle - bar // 2, 6, bar),
        area=Box(RIGHT, middle - THUMB_PX // 2, WIDTH - RIGHT, THUMB_PX),
    )


def _wrapped(label: str) -> list[str]:
    """Break dates that are too long at their dash; leave out what is too long even so."""
    room = WIDTH - RIGHT - 14
    if width_of(label) <= room:
        return [label]
    first, dash, last = label.partition("–")
    lines = [first + dash, last] if dash else [label]
    return lines if all(width_of(line) <= room for line in lines) else []


def _margin(plan: Plan, night_px: int, links: Iterable[RunLink]) -> Iterator[Text]:
    """Write today and clock changes beside their nights where no run stands, or not at all."""
    taken = [(link.area.y + 4, link.area.y + link.area.height - 4) for link in links]
    for y, lines in _beside(plan, night_px):
        height = len(lines) * LINE_PX
        begin = _free(y - height // 2, height, taken)
        if begin is not None:
            taken.append((begin, begin + height))
            for number, words in enumerate(lines):
                yield Text(RIGHT + 6, begin + 11 + LINE_PX * number, words, "t-start t-soft")


def _beside(plan: Plan, night_px: int) -> Iterator[tuple[int, list[str]]]:
    if plan.today is not None:
        day = date_words(plan.first + timedelta(days=plan.today), "j M")
        yield TOP + round((plan.today + 0.5) * night_px), [gettext("today"), day]
    for change in plan.changes:
        lines = [*wrap(change.words, 10), date_words(change.morning, "j M")]
        yield TOP + (change.place + 1) * night_px, lines


def _free(begin: int, height: int, taken: Iterable[tuple[int, int]]) -> int | None:
    """Find room near where the words belong."""
    for shift in (0, -10, 10, -20, 20):
        top = max(0, begin + shift)
        if all(top + height <= other or top >= last for other, last in taken):
            return top
    return None
