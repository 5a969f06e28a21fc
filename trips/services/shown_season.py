"""One site's season as its page shows it: runs with reasons, and a line for each night.

Reads rows and changes none: one query for the site's nights with all their events, and three more
for the targets of the runs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from trips.almanac.events import events_between
from trips.almanac.places import place_of
from trips.charts.bands import COLUMNS, NightBands, NightLine, bands_of
from trips.models import Night, Season, Site
from trips.planning.nights import JudgedNight, Wishes
from trips.planning.runs import ONE_DAY, Run, best_nights
from trips.planning.season_view import SiteSeason
from trips.planning.weighing import WantedSpans, anything
from trips.services.judged import JudgedSeason
from trips.services.shown_runs import RUNS_SHOWN, ShownRun, Unfolding

NIGHTS_SHOWN = 5

# What pictures and reasons read of a night; as tuples with names, because a year of model
# instances would take a third of the page's time.
_READ_BY_LEVEL = ("dark", "moonless", "dark_hours", "moonless_hours")
_READ_AT_ALL = ("usable_hours",)

Address = Callable[[date], str]
Wording = Callable[[str | None], str]


@dataclass(frozen=True, slots=True)
class ShownSeason:
    site: Site
    runs: tuple[ShownRun, ...]
    more_runs: tuple[Run, ...]
    best_nights: tuple[JudgedNight, ...]
    equal_nights: int  # as good as the last of those, and not among them
    lines: tuple[NightLine, ...]

    @property
    def longest_hours(self) -> float:
        """Give the moonless dark while people are out of the run that has the most of it."""
        return max((one.run.hours + one.run.best.spare_hours for one in self.runs), default=0.0)

    @property
    def offered_candidates(self) -> int:
        return sum(line.is_candidate and not line.against for line in self.lines)

    @property
    def equal_moons(self) -> int:
        """Count the Moons whose best run gives as much as the best of all."""
        others = [one.run for one in self.runs[1:]] + list(self.more_runs)
        return sum(run.rank == 1 for run in others)

    @property
    def bands(self) -> list[NightBands]:
        return [line.bands for line in self.lines]


def show_season(
    season: Season,
    found: SiteSeason[Site],
    judged: JudgedSeason,
    wishes: Wishes,
    *,
    address: Address,
    in_words: Wording,
    today: date,
) -> ShownSeason:
    """Show the season at one of its sites; `in_words` says why an evening is not offered."""
    rows = _rows(season, found.site, wishes)
    wanted = judged.wanted[found.site] if judged.wanted is not None else None
    pen = _Pen(
        site=found.site,
        dark_level=wishes.dark_level,
        numbers=_numbers(found),
        wanted=_pieces_by_night(wanted, [rows[night.date] for night in found.nights]),
        events=events_between(
            season.first_night,
            season.last_night,
            found.site.zone,
            place=place_of(found.site),
        ),
        address=address,
        in_words=in_words,
    )
    lines = {night.date: pen.line(rows[night.date], night) for night in found.nights}
    unfold = Unfolding(season, found, judged, wishes, rows, lines, wanted, today)
    nights, equal = best_nights(found.nights, NIGHTS_SHOWN)
    more = found.runs[RUNS_SHOWN:]
    return ShownSeason(
        found.site, tuple(unfold.runs()), more, tuple(nights), equal, tuple(lines.values())
    )


def _numbers(found: SiteSeason[Site]) -> dict[date, int]:
    """Number the evenings of the runs that are shown; of one in two runs the better counts."""
    return {
        run.first + ONE_DAY * n: number
        for number, run in reversed(list(enumerate(found.runs[:RUNS_SHOWN], 1)))
        for n in range((run.last - run.first).days + 1)
    }


def _pieces_by_night(
    wanted: Sequence[WantedSpans] | None, rows: Sequence[Night]
) -> dict[date, list[list[float]]]:
    """Give when any wanted target stands right, in each night."""
    if not wanted:
        return {}
    pieces = anything(wanted)
    edges = np.searchsorted(pieces[:, 0], [row.start.timestamp() for row in rows])
    ends = [*edges[1:].tolist(), len(pieces)]
    return {
        row.date: pieces[start:end].tolist()
        for row, start, end in zip(rows, edges.tolist(), ends, strict=True)
    }


@dataclass(frozen=True, slots=True)
class _Pen:
    """What all lines of a site's season share."""

    site: Site
    dark_level: int
    numbers: Mapping[date, int]
    wanted: Mapping[date, Sequence[Sequence[float]]]
    events: Mapping[date, Sequence[str]]
    address: Address
    in_words: Wording

    def line(self, row: Night, night: JudgedNight) -> NightLine:
        block = night.block
        bands = bands_of(
            row,
            self.site.zone,
            dark_level=self.dark_level,
            # An evening that is not offered has no hours to use; on another weekday they are shown
            # faintly, for a group that may come then.
            usable=(block.start, block.end) if block and night.why_not is None else None,
            out=night.counted_out if night.why_not in (None, "weekday") else (),
            wanted=self.wanted.get(night.date, ()),
        )
        return NightLine(
            bands=bands,
            dark_hours=night.dark_hours,
            moonless_hours=night.moonless_hours,
            usable_dark_hours=night.usable_dark_hours,
            usable_hours=night.usable_hours,
            is_candidate=night.is_candidate,
            run=self.numbers.get(night.date),
            against=self.in_words(night.why_not),
            events=tuple(self.events.get(night.date, ())),
            address=self.address(night.date),
        )


def _rows(season: Season, site: Site, wishes: Wishes) -> dict[date, Night]:
    columns = [f"{name}_{-wishes.dark_level}" for name in _READ_BY_LEVEL]
    stored = Night.objects.filter(site=site).between(season.first_night, season.last_night)
    return {
        row.date: row for row in stored.values_list(*COLUMNS, *_READ_AT_ALL, *columns, named=True)
    }
