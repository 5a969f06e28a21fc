"""Ranking every run of one to seven nights by wanted targets: 50 sites, a year, 20 targets.

python -m tests.benchmarks.ranking [--tenth]

At most 1 s, from rows in a database file to runs in order: the season's nights and windows are
read, every night is weighed by the best block of its targets, whose weights have five steps, and
the runs of each length are put in order, Moon by Moon. Nothing is kept from one ranking to the
next. The windows of one place are computed once and stored for every site. The time is the
processor's, and the best of many: a busy machine is not the ranking's fault.
"""

from __future__ import annotations

from collections.abc import Iterator
from copy import copy
from datetime import date
from typing import TypeVar

from tests.benchmarks.club import open_club

open_club()

from django.db import connection  # noqa: E402

from tests.benchmarks.measuring import best_ms, hold, is_tenth  # noqa: E402
from trips.almanac.moons import new_moons  # noqa: E402
from trips.almanac.nights import compute_nights  # noqa: E402
from trips.almanac.targets import starter_entries  # noqa: E402
from trips.almanac.windows import compute_windows  # noqa: E402
from trips.models import (  # noqa: E402
    Night,
    Organisation,
    Season,
    Site,
    TargetEntry,
    TargetList,
    TargetWindows,
)
from trips.planning.runs import Run, best_runs  # noqa: E402
from trips.services.judged import judge_season  # noqa: E402
from trips.services.target_windows import rows_of  # noqa: E402

RowT = TypeVar("RowT", Night, TargetWindows)

FIRST, LAST = date(2027, 1, 1), date(2027, 12, 31)
SITES, TARGETS, LENGTHS = 50, 20, range(1, 8)
STEPS = 5
STARTERS = ("north-summer", "north-autumn", "north-winter", "north-spring")
MOST_SECONDS = 1.0


def main() -> None:
    tenth = is_tenth(__doc__)
    season = stored_season(SITES // 10 if tenth else SITES)
    moons = new_moons(FIRST, LAST)

    def rank_all() -> list[Run]:
        judged = judge_season(Season.objects.get(pk=season.pk))
        return [
            run
            for site in judged.view.sites
            for length in LENGTHS
            for run in best_runs(site.nights, length, moons)
        ]

    runs = rank_all()
    spent = best_ms(rank_all, 3 if tenth else 10) / 1000
    print(
        f"{season.sites.count()} sites, {TARGETS} targets, a year, {connection.vendor}: "
        f"{len(runs)} best runs of {LENGTHS[0]} to {LENGTHS[-1]} nights in {spent:.2f} s"
    )
    assert runs
    hold(spent, MOST_SECONDS, "s")


def stored_season(sites: int) -> Season:
    club = Organisation.objects.create(name="Club")
    wanted = TargetList.objects.create(organisation=club, name="Twenty")
    entries = TargetEntry.objects.bulk_create(_entries(wanted))
    season = Season.objects.create(
        organisation=club, name="Year", first_night=FIRST, last_night=LAST, target_list=wanted
    )
    hills = Site.objects.bulk_create(
        Site(
            organisation=club,
            name=f"Hill {number}",
            latitude=40.4,
            longitude=-1.1,
            elevation_m=1600,
            zone="Europe/Madrid",
        )
        for number in range(sites)
    )
    season.sites.set(hills)
    nights = compute_nights(hills[0], FIRST, LAST)
    windows = compute_windows(hills[0], None, sorted(rows_of(entries)), FIRST.year)
    for hill in hills:
        Night.objects.bulk_create(_at(hill, night) for night in nights)
        TargetWindows.objects.bulk_create(_at(hill, window) for window in windows)
    return season


def _entries(wanted: TargetList) -> Iterator[TargetEntry]:
    """Give the first of the starter lists, with weights in steps."""
    offered = {entry.target: entry for name in STARTERS for entry in starter_entries(name)}
    for number, entry in enumerate(list(offered.values())[:TARGETS]):
        entry.target_list, entry.weight = wanted, 1 - number % STEPS / STEPS
        yield entry


def _at(site: Site, row: RowT) -> RowT:
    placed = copy(row)
    placed.pk, placed.site = None, site
    return placed


if __name__ == "__main__":
    main()
