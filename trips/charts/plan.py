"""What a chart of nights has to place, before it is known which way its dates run."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, time, timedelta
from itertools import pairwise
from typing import Literal

from django.utils.translation import gettext

from trips.charts.bands import DAY_MINUTES, NightBands, Stretch, minutes_after_noon


@dataclass(frozen=True, slots=True)
class RunMark:
    number: int
    first: date
    last: date
    label: str  # its dates, short
    address: str


@dataclass(frozen=True, slots=True)
class MoonMark:
    date: date
    kind: Literal["new", "full"]


@dataclass(frozen=True, slots=True)
class Month:
    """The part of a month that the chart shows."""

    first: date
    place: int
    nights: int


@dataclass(frozen=True, slots=True)
class Run:
    mark: RunMark
    place: int
    nights: int
    block: Stretch | None  # of its middle night, or of the night nearest to that with one

    @property
    def middle(self) -> float:
        return self.place + self.nights / 2


@dataclass(frozen=True, slots=True)
class ClockChange:
    """The evening before it is in column `place`."""

    place: int
    words: str  # which way
    morning: date
    day_until: float  # of the next weeks, the earliest sunset
    day_since: float  # and the latest sunrise: between them there is no day to write on


@dataclass(frozen=True, slots=True)
class ClockLine:
    minutes: int
    words: str
    is_latest: bool


@dataclass(frozen=True, slots=True)
class Plan:
    """Places count the days since the first night; minutes count from noon."""

    first: date
    count: int  # columns, of nights that are there or missing
    months: tuple[Month, ...]
    moons: tuple[tuple[int, MoonMark], ...]
    runs: tuple[Run, ...]
    changes: tuple[ClockChange, ...]
    clock_lines: tuple[ClockLine, ...]
    today: int | None

    @property
    def has_several_years(self) -> bool:
        return self.months[0].first.year != self.months[-1].first.year


def plan_of(
    nights: Sequence[NightBands],
    *,
    marks: Iterable[RunMark] = (),
    moons: Iterable[MoonMark] = (),
    latest: time | None = None,
    earliest: time | None = None,
    today: date | None = None,
) -> Plan:
    """Plan a chart of at least one night, in order of date; what lies outside is left out."""
    first, last = nights[0].date, nights[-1].date
    count = (last - first).days + 1
    return Plan(
        first=first,
        count=count,
        months=tuple(_months(first, last)),
        moons=tuple(((m.date - first).days, m) for m in moons if first <= m.date <= last),
        runs=tuple(_runs(marks, nights)),
        changes=tuple(_changes(nights, first)),
        clock_lines=tuple(_clock_lines(latest, earliest)),
        today=(today - first).days if today and first <= today <= last else None,
    )


def _months(first: date, last: date) -> Iterator[Month]:
    start = first
    while start <= last:
        following = (start.replace(day=1) + timedelta(days=31)).replace(day=1)
        end = min(following, last + timedelta(days=1))
        yield Month(start, (start - first).days, (end - start).days)
        start = following


def _runs(marks: Iterable[RunMark], nights: Sequence[NightBands]) -> Iterator[Run]:
    blocks = {night.date: night.usable for night in nights if night.usable}
    for mark in sorted(marks, key=lambda mark: (mark.first, mark.number)):
        start, end = max(mark.first, nights[0].date), min(mark.last, nights[-1].date)
        if start <= end:
            count = (end - start).days + 1
            dates = [start + timedelta(days=day) for day in range(count)]
            dates.sort(key=lambda day: abs((day - start).days - count // 2))
            block = next((blocks[day] for day in dates if day in blocks), None)
            yield Run(mark, (start - nights[0].date).days, count, block)


def _changes(nights: Sequence[NightBands], first: date) -> Iterator[ClockChange]:
    for number, night in enumerate(nights):
        evening, morning = night.offsets
        if evening != morning:
            spans = [span for after in nights[number + 1 : number + 30] for span in after.civil]
            yield ClockChange(
                place=(night.date - first).days,
                words=gettext("clocks forward") if morning > evening else gettext("clocks back"),
                morning=night.date + timedelta(days=1),
                day_until=min((start for start, _ in spans), default=DAY_MINUTES),
                day_since=max((end for _, end in spans), default=0),
            )


def _clock_lines(latest: time | None, earliest: time | None) -> Iterator[ClockLine]:
    if earliest is not None:
        words = gettext("earliest hour out %(clock)s") % {"clock": f"{earliest:%H:%M}"}
        yield ClockLine(minutes_after_noon(earliest), words, is_latest=False)
    if latest is not None:
        words = gettext("latest hour out %(clock)s") % {"clock": f"{latest:%H:%M}"}
        yield ClockLine(minutes_after_noon(latest), words, is_latest=True)


def labelled(centres: Sequence[tuple[int, float, float]], room: float = 4) -> set[int]:
    """Choose whose labels are shown: (number, centre, width) of each, the lowest numbers first.

    A label gives way to the numbers of its neighbours, which are always shown.
    """
    taken = {number: (centre - 8, centre + 8) for number, centre, _ in centres}
    chosen = set()
    for number, centre, width in sorted(centres):
        begin, end = centre - width / 2 - room, centre + width / 2 + room
        others = (span for other, span in taken.items() if other != number)
        if all(end <= other_begin or begin >= other_end for other_begin, other_end in others):
            taken[number] = begin, end
            chosen.add(number)
    return chosen


def gaps(centres: Sequence[float]) -> float:
    """Give the least distance between neighbours; endless for fewer than two."""
    return min((after - before for before, after in pairwise(centres)), default=float("inf"))
