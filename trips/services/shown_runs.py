"""The best runs of a site's season, unfolded: what speaks for and against, and their nights."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from trips.almanac.public_holidays import public_holidays
from trips.almanac.windows import WantedRow
from trips.charts.bands import NightLine
from trips.models import Night, Season, Site, TargetEntry
from trips.planning.barred import better_barred
from trips.planning.elsewhere import Elsewhere, elsewhere
from trips.planning.hours_out import hours_out
from trips.planning.nights import JudgedNight, Wishes
from trips.planning.reasons import Reason, RunOfNights, reasons_against, reasons_for
from trips.planning.runs import Run
from trips.planning.season_view import SiteSeason
from trips.planning.weighing import WantedSpans
from trips.services.judged import JudgedSeason
from trips.services.wanted import Asked
from trips.services.wanted_nights import Evening, TargetNight, wanted_in

RUNS_SHOWN = 5

TargetsByNight = Mapping[date, tuple[TargetNight, ...]]


@dataclass(frozen=True, slots=True)
class RunNight:
    """A night of a run, unfolded: its dark and Moon and events in its line, and its targets."""

    line: NightLine
    targets: tuple[TargetNight, ...]


@dataclass(frozen=True, slots=True)
class ShownRun:
    """A run with what speaks for and against it.

    `number` counts from 1 in the order shown; `equals` is the number of the first run that gives
    as much, where it is not this one.
    """

    number: int
    run: Run
    nights: tuple[JudgedNight, ...]
    equals: int | None
    pros: tuple[Reason, ...]
    cons: tuple[Reason, ...]
    elsewhere: tuple[Elsewhere[Site], ...]
    unfolded: tuple[RunNight, ...]


@dataclass(frozen=True)
class Unfolding:
    """Makes the runs that are shown: what speaks for and against each, and its nights."""

    season: Season
    found: SiteSeason[Site]
    judged: JudgedSeason
    wishes: Wishes
    rows: Mapping[date, Night]
    lines: Mapping[date, NightLine]
    wanted: Sequence[WantedSpans] | None
    today: date

    def runs(self) -> Iterator[ShownRun]:
        shown = [(run, self._nights(run)) for run in self.found.runs[:RUNS_SHOWN]]
        targets = self._targets([night for _, nights in shown for night in nights])
        others = [view for view in self.judged.view.sites if view.site != self.found.site]
        first_of_rank: dict[int, int] = {}
        for number, (run, nights) in enumerate(shown, 1):
            whole = self._whole(run, nights, targets)
            first = first_of_rank.setdefault(run.rank, number)
            yield ShownRun(
                number=number,
                run=run,
                nights=nights,
                equals=first if first != number else None,
                pros=reasons_for(whole, self.wishes, self.found.site.zone),
                cons=reasons_against(whole, self.wishes, self.found.site, today=self.today),
                elsewhere=tuple(elsewhere(others, run.first, run.last)),
                unfolded=tuple(
                    RunNight(self.lines[night.date], targets.get(night.date, ()))
                    for night in nights
                ),
            )

    def _nights(self, run: Run) -> tuple[JudgedNight, ...]:
        return tuple(night for night in self.found.nights if run.first <= night.date <= run.last)

    def _whole(
        self, run: Run, nights: Sequence[JudgedNight], targets: TargetsByNight
    ) -> RunOfNights:
        return RunOfNights(
            nights,
            [self.rows[night.date] for night in nights],
            run.new_moon,
            self.wanted,
            better_barred(run, self.found.nights, self.wishes.weekdays),
            public_holidays(self.found.site.country, run.first, run.last),
            self._most_wanted([targets.get(night.date, ()) for night in nights]),
        )

    def _targets(self, nights: Sequence[JudgedNight]) -> TargetsByNight:
        evenings = [self._evening(night) for night in nights]
        return wanted_in(self.found.site, self._entries, evenings) if self._entries else {}

    @cached_property
    def _entries(self) -> Mapping[WantedRow, TargetEntry]:
        asked = Asked.of(self.season, self.wishes)
        return asked.entries() if asked else {}

    def _most_wanted(
        self, nights: Sequence[Sequence[TargetNight]]
    ) -> tuple[str, Sequence[float]] | None:
        """Tell of the first of the entries that count most."""
        if not self._entries:
            return None
        by_weight = sorted(self._entries.values(), key=lambda one: (-one.weight, one.order, one.pk))
        name = by_weight[0].name
        hours = [sum(one.hours for one in night if one.name == name) for night in nights]
        return name, hours

    def _evening(self, night: JudgedNight) -> Evening:
        row = self.rows[night.date]
        return Evening(
            night.date,
            (row.start.timestamp(), row.end.timestamp()),
            hours_out(row, self.wishes, self.found.site.zone),
        )
