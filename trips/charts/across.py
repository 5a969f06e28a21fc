"""A chart of nights for a desk and for paper: dates across, the clock down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import timedelta

from django.utils.dateformat import format as date_words
from django.utils.translation import gettext

from trips.charts.night_words import clock
from trips.charts.picture import Box, Picture, RunLink, Text, by_kind, points, width_of
from trips.charts.plan import Month, Plan, Run, gaps, labelled
from trips.charts.steps import CLOSES, OPENS

# 27 px an hour and, for a year, 3 px a night: columns meet on whole pixels, without seams.
LEFT, MINUTE_PX = 54, 0.45
PLOT_HEIGHT = round((CLOSES - OPENS) * MINUTE_PX)
WIDEST_PLOT, WIDEST_NIGHT, NARROWEST = 1098, 64, 400
ROOM_FOR_RUNS, ROOM_ABOVE = 52, 22
DAYS_UNTIL = 62  # nights of which the days are numbered
NUMBERED_MOONS_PX = 28
TWO_LINES_MINUTES = 84


def across(plan: Plan) -> Picture:
    """Lay the plan out with a column a night; a short season has wider columns."""
    night_px = max(1, min(WIDEST_NIGHT, WIDEST_PLOT // plan.count))
    top = ROOM_FOR_RUNS if plan.runs else ROOM_ABOVE
    plot = Box(LEFT, top, night_px * plan.count, PLOT_HEIGHT)
    rows = _Rows(plot.y + plot.height)
    texts = [*_hours(plot)]
    if plan.count <= DAYS_UNTIL:
        texts += _days(plan, plot, night_px, rows.next(18))
    texts += _months(plan.months, plot, night_px, rows.next(18))
    if plan.has_several_years:
        texts += _years(plan.months, plot, night_px, rows.next(18))
    moons: list[tuple[int, int, str]] = []
    if plan.moons:
        y = rows.next(24)
        moons = [
            (plot.x + place * night_px + night_px // 2, y - 4, m.kind) for place, m in plan.moons
        ]
        texts += _moons(plan, moons, plot, y)
    links = _links(plan.runs, plot, night_px)
    texts += [*_changes(plan, plot, night_px), *_clock_lines(plan, plot)]
    texts += _today(plan, plot, night_px, links)
    return Picture(
        way="across",
        width=max(NARROWEST, LEFT + plot.width),
        height=rows.bottom + 10,
        plot=plot,
        night_px=night_px,
        minute_px=MINUTE_PX,
        matrix=f"{night_px} 0 0 {MINUTE_PX} {plot.x} {plot.y - OPENS * MINUTE_PX:g}",
        texts=by_kind(texts),
        moons=points(moons),
        links=links,
        stems="".join(
            f"M{run.middle:g} {OPENS}V{max(OPENS, round(run.block[0]))}"
            for run in plan.runs
            if run.block
        ),
    )


class _Rows:
    """Lines of text below the plot, as many as are asked for."""

    def __init__(self, bottom: int) -> None:
        self.bottom = bottom

    def next(self, height: int) -> int:
        self.bottom += height
        return self.bottom


def _hours(plot: Box) -> Iterator[Text]:
    for minutes in range(OPENS, CLOSES, 120):
        y = plot.y + round((minutes - OPENS) * MINUTE_PX) + 4
        yield Text(plot.x - 8, y, clock(minutes), "t-end t-soft")


def _days(plan: Plan, plot: Box, night_px: int, y: int) -> Iterator[Text]:
    every = next(step for step in (1, 2, 5, 10) if step * night_px >= 22)
    for place in range(plan.count):
        day = plan.first + timedelta(days=place)
        if every == 1 or (day.day % every == 0 and day.day <= 30):
            x = plot.x + round((place + 0.5) * night_px)
            yield Text(x, y, str(day.day), "t-mid t-soft")


def _months(months: Iterable[Month], plot: Box, night_px: int, y: int) -> Iterator[Text]:
    for month in months:
        room = month.nights * night_px
        names = (date_words(month.first, form) for form in "FM")
        name = next((name for name in names if width_of(name) <= room), None)
        if name:
            yield Text(plot.x + month.place * night_px + room // 2, y, name, "t-mid")


def _years(months: Iterable[Month], plot: Box, night_px: int, y: int) -> Iterator[Text]:
    for number, month in enumerate(months):
        if number == 0 or month.first.month == 1:
            x = plot.x + month.place * night_px
            yield Text(x + 3, y, str(month.first.year), "t-strong")


def _moons(plan: Plan, moons: Sequence[tuple[int, int, str]], plot: Box, y: int) -> Iterator[Text]:
    """Name the row of Moons, and number their days where there is room."""
    yield Text(plot.x - 8, y, gettext("Moon"), "t-end t-soft")
    if gaps([x for x, _, _ in moons]) >= NUMBERED_MOONS_PX:
        for (x, _, _), (_, moon) in zip(moons, plan.moons, strict=True):
            if x + 24 <= plot.x + plot.width:
                yield Text(x + 8, y, str(moon.date.day), "t-soft")


def _changes(plan: Plan, plot: Box, night_px: int) -> Iterator[Text]:
    """Write on the day of the evening, or of the morning where that has more room."""
    for change in plan.changes:
        x = plot.x + (change.place + 1) * night_px
        lines = (change.words, date_words(change.morning, "j F"))
        fits = x + 8 + max(map(width_of, lines)) <= plot.x + plot.width
        above = change.day_until - OPENS >= min(TWO_LINES_MINUTES, CLOSES - change.day_since)
        y = plot.y + 18 if above else plot.y + plot.height - 22
        for line, words in enumerate(lines):
            kind = "t-day" if fits else "t-day t-end"
            yield Text(x + 8 if fits else x - 8, y + 15 * line, words, kind)


def _clock_lines(plan: Plan, plot: Box) -> Iterator[Text]:
    for line in plan.clock_lines:
        if OPENS < line.minutes < CLOSES:
            beside = 14 if line.is_latest else -5  # on the side where nobody is out
            y = plot.y + round((line.minutes - OPENS) * MINUTE_PX) + beside
            yield Text(plot.x + 8, y, line.words, "t-sky")


def _links(runs: Iterable[Run], plot: Box, night_px: int) -> list[RunLink]:
    placed = [(run, *_placed(run, plot, night_px)) for run in runs]
    chosen = labelled([(run.mark.number, x, width) for run, x, width in placed])
    return [
        _link(run, plot, night_px, x, width if run.mark.number in chosen else 0)
        for run, x, width in placed
    ]


def _placed(run: Run, plot: Box, night_px: int) -> tuple[int, float]:
    """Give the middle of a run's label, kept inside the picture, and its width."""
    width = max(24, width_of(run.mark.label))
    right = max(NARROWEST, plot.x + plot.width)
    middle = plot.x + run.middle * night_px
    return round(min(max(middle, width / 2), right - width / 2)), width


def _link(run: Run, plot: Box, night_px: int, x: int, width: float) -> RunLink:
    """Draw one run: number over dates over a bar as wide as its nights."""
    bar = max(9, run.nights * night_px)
    left = round(plot.x + run.middle * night_px - bar / 2)
    texts = [Text(x, plot.y - (30 if width else 14), str(run.mark.number), "t-number")]
    if width:
        texts.append(Text(x, plot.y - 14, run.mark.label, "t-run"))
    reach = max(24, round(width))
    return RunLink(
        number=run.mark.number,
        words=run.mark.label,
        address=run.mark.address,
        texts=tuple(texts),
        mark=Box(left, plot.y - 8, bar, 6),
        area=Box(x - reach // 2, plot.y - 46, reach, 46),
    )


def _today(plan: Plan, plot: Box, night_px: int, links: Iterable[RunLink]) -> Iterator[Text]:
    """Name today above the plot, or on its lower edge where a run stands above."""
    if plan.today is None:
        return
    day = date_words(plan.first + timedelta(days=plan.today), "j F")
    words = gettext("today, %(date)s") % {"date": day}
    half = round(width_of(words) / 2)
    x = plot.x + round((plan.today + 0.5) * night_px)
    middle = min(max(x, half), max(NARROWEST, plot.x + plot.width) - half)
    free = all(
        link.area.x > middle + half or link.area.x + link.area.width < middle - half
        for link in links
    )
    if free:
        yield Text(middle, plot.y - 8, words, "t-mid")
    else:
        yield Text(middle, plot.y + plot.height - 10, words, "t-mid t-day")
