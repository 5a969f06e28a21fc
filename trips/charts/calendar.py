"""The nights of a site as a calendar: months, weeks from Monday, a cell a night, notes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.dates import WEEKDAYS, WEEKDAYS_ABBR
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.charts import night_words as words
from trips.charts.bands import NightLine

# Minutes after noon: 20:00 to 07:00, narrower than the strips of tables: a cell has 70 pixels.
USUAL_WINDOW = (480, 1140)
MONTHS_A_SHEET = 6
ONE_DAY = timedelta(days=1)

ByDate = Mapping[date, NightLine]


@dataclass(frozen=True, slots=True)
class Cell:
    """A date; `night` is None where there are no figures of it, and `inside` says whether there
    should be: the date lies between the first night and the last.

    `kind` is its class: "run", "against" (not offered), "candidate" or "". `run` is said at the
    first night of a run and again where a month begins, `runs_on` at those that follow. A night
    that is not offered has no hours.
    """

    day: int
    inside: bool
    night: NightLine | None = None
    kind: str = ""
    run: str = ""
    runs_on: str = ""
    moon: str = ""
    hours: str = ""
    is_usable: bool = False
    when: str = ""  # from and to of the hours that count


@dataclass(frozen=True, slots=True)
class Note:
    """What happens on a day of a month, or why days are not offered."""

    days: str
    words: str
    is_against: bool


@dataclass(frozen=True, slots=True)
class Month:
    """A month; None in its weeks stands for a day of its neighbours."""

    name: str
    candidates: str  # counted in words
    hours: str  # usable of the evenings offered, dark and moonless of all, in words
    weeks: tuple[tuple[Cell | None, ...], ...]
    notes: tuple[Note, ...]
    first_minute: int
    last_minute: int
    south: bool

    @property
    def opens(self) -> str:
        """Give where the strips begin: 20:00."""
        return words.clock(self.first_minute)

    @property
    def closes(self) -> str:
        return words.clock(self.last_minute)

    @property
    def weekdays(self) -> list[tuple[str, str]]:
        """Give the seven days from Monday, short and whole."""
        return [(str(WEEKDAYS_ABBR[day]), str(WEEKDAYS[day])) for day in range(7)]


def months(nights: Sequence[NightLine], *, south: bool = False) -> tuple[Month, ...]:
    """Lay nights, sorted by date, out in the months that they touch.

    The strips of all months have one window, so that nights compare.
    """
    by_date = {night.bands.date: night for night in nights}
    by_month: dict[tuple[int, int], list[NightLine]] = defaultdict(list)
    for night in nights:
        by_month[night.bands.date.year, night.bands.date.month].append(night)
    first, last = words.window(nights, USUAL_WINDOW)
    return tuple(
        Month(
            name=date_format(date(year, month, 1), "F Y"),
            candidates=_candidates(of_month),
            hours=_hours(of_month),
            weeks=_weeks(date(year, month, 1), by_date),
            notes=_events(of_month) + _against(of_month),
            first_minute=first,
            last_minute=last,
            south=south,
        )
        for (year, month), of_month in by_month.items()
    )


def sheets(of_months: Sequence[Month]) -> list[Sequence[Month]]:
    """Deal months out to sheets of paper."""
    return [of_months[at : at + MONTHS_A_SHEET] for at in range(0, len(of_months), MONTHS_A_SHEET)]


def _weeks(first: date, by_date: ByDate) -> tuple[tuple[Cell | None, ...], ...]:
    """Give the weeks in which the season has a night or should have one."""
    cells: list[Cell | None] = [None] * first.weekday()
    day = first
    while day.month == first.month:
        cells.append(_cell(day, by_date))
        day += ONE_DAY
    cells += [None] * (-len(cells) % 7)
    weeks = [tuple(cells[at : at + 7]) for at in range(0, len(cells), 7)]
    return tuple(week for week in weeks if any(cell and cell.inside for cell in week))


def _cell(day: date, by_date: ByDate) -> Cell:
    night = by_date.get(day)
    if night is None:
        return Cell(day.day, inside=min(by_date) < day < max(by_date))
    before = by_date.get(day - ONE_DAY)
    begins = before is None or before.run != night.run or day.day == 1
    run = words.run(night.run)
    return Cell(
        day=day.day,
        inside=True,
        night=night,
        kind=words.kind(night),
        run=run if begins else "",
        runs_on="" if begins else run,
        moon=_("Moon %(lit)s") % {"lit": words.lit(night.bands)},
        hours="" if night.against else words.hours_of(night.usable_hours),
        is_usable=night.usable_hours > 0 and not night.against,
        when="" if night.against else words.usable_span(night.bands),
    )


def _candidates(nights: Sequence[NightLine]) -> str:
    """Count candidates; of a month that is not offered at all say why first."""
    if not all(night.against for night in nights):
        return words.candidates(nights)
    count = sum(night.is_candidate for night in nights)
    would_be = ngettext(
        "%(count)d night would be a candidate", "%(count)d nights would be candidates", count
    )
    return _("%(reason)s: %(would_be)s") % {
        "reason": words.reason(nights),
        "would_be": would_be % {"count": count} if count else _("no night would be a candidate"),
    }


def _hours(nights: Sequence[NightLine]) -> str:
    usable = sum(night.usable_hours for night in nights if not night.against)
    dark = sum(night.dark_hours for night in nights)
    if not dark:
        return _("no dark")
    return _(
        "usable %(usable)s, dark %(dark)s, moonless %(moonless)s, usable dark %(overhead)s"
    ) % {
        "usable": words.hours_of(usable),
        "dark": words.hours_of(dark),
        "moonless": words.hours_of(sum(night.moonless_hours for night in nights)),
        "overhead": words.hours_of(sum(night.usable_dark_hours for night in nights)),
    }


def _events(nights: Sequence[NightLine]) -> tuple[Note, ...]:
    return tuple(
        Note(str(night.bands.date.day), event, is_against=False)
        for night in nights
        for event in night.events
    )


def _against(nights: Sequence[NightLine]) -> tuple[Note, ...]:
    """Gather the days that one reason speaks against."""
    days: dict[str, list[int]] = defaultdict(list)
    for night in nights:
        if night.against:
            days[night.against].append(night.bands.date.day)
    return tuple(
        Note(words.day_ranges(of_reason), reason, is_against=True)
        for reason, of_reason in days.items()
    )
