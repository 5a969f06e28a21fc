"""A season judged over several sites."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta

import numpy as np

from trips.planning.nights import Wishes
from trips.planning.season_view import rank
from trips.planning.weighing import WantedSpans

NEW_MOON = datetime(2027, 2, 6, 16, tzinfo=UTC)


@dataclass(frozen=True)
class Place:
    name: str
    zone: str = "UTC"
    drive_minutes: int | None = None
    months_open: tuple[int, ...] = ()
    road_closed_from: date | None = None
    road_closed_to: date | None = None
    night_access: str = "yes"


@dataclass(frozen=True)
class Row:
    date: date
    start: datetime
    end: datetime
    civil_dusk: datetime | None
    moon_illuminated: float = 0.1
    moonless_18: list[list[float]] = field(default_factory=list)
    moonless_15: list[list[float]] = field(default_factory=list)
    moonless_12: list[list[float]] = field(default_factory=list)
    dark_hours_18: float = 0.0
    dark_hours_15: float = 0.0
    dark_hours_12: float = 0.0
    moonless_hours_18: float = 0.0
    moonless_hours_15: float = 0.0
    moonless_hours_12: float = 0.0
    usable_hours: float = 0.0


def row(day: date, hours_18: float, hours_15: float = 0) -> Row:
    """Make a night with moonless dark from 20:00 UTC on."""
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=UTC)
    eight = (noon + timedelta(hours=8)).timestamp()
    return Row(
        day,
        noon,
        noon + timedelta(days=1),
        noon + timedelta(hours=7),
        moonless_18=[[eight, eight + 3600 * hours_18]] if hours_18 else [],
        moonless_15=[[eight, eight + 3600 * hours_15]] if hours_15 else [],
        dark_hours_18=hours_18 + 1,
        moonless_hours_18=hours_18,
    )


def rows(*hours: float) -> list[Row]:
    return [row(date(2027, 1, 30) + timedelta(days=n), each) for n, each in enumerate(hours)]


def test_the_site_with_the_best_run_stands_first() -> None:
    sites = {Place("low"): rows(2, 2), Place("high"): rows(3, 3)}
    view = rank(Wishes(run_length=2), sites, [NEW_MOON])
    assert [found.site.name for found in view.sites] == ["low", "high"]
    assert [found.site.name for found in view.best_first] == ["high", "low"]


def test_among_equal_runs_the_site_with_more_hours_in_all_stands_first() -> None:
    sites = {Place("short"): rows(3, 3), Place("long"): rows(3, 3, 1)}
    view = rank(Wishes(run_length=2), sites, [NEW_MOON])
    assert [found.site.name for found in view.best_first] == ["long", "short"]


def test_a_night_below_the_least_hours_is_no_candidate() -> None:
    (site,) = rank(Wishes(least_hours=3), {Place("high"): rows(3, 2.9)}, [NEW_MOON]).sites
    assert [night.is_candidate for night in site.nights] == [True, False]


def test_a_run_does_not_use_an_evening_to_avoid() -> None:
    away = (date(2027, 1, 31), date(2027, 1, 31))
    wishes = Wishes(run_length=2, avoid=(away,))
    (site,) = rank(wishes, {Place("high"): rows(4, 4, 3, 3)}, [NEW_MOON]).sites
    assert site.runs[0].first == date(2027, 2, 1)
    assert site.left_out == {"avoided": 1}


def test_a_run_does_not_use_a_weekday_that_does_not_suit() -> None:
    # 30 January 2027 is a Saturday.
    wishes = Wishes(run_length=2, weekdays=frozenset({0, 1}))
    (site,) = rank(wishes, {Place("high"): rows(4, 4, 3, 3, 4)}, [NEW_MOON]).sites
    assert (site.runs[0].first, site.runs[0].last) == (date(2027, 2, 1), date(2027, 2, 2))
    assert site.left_out == {"weekday": 3}


def test_a_run_does_not_use_a_closed_evening_and_the_night_stays_a_candidate() -> None:
    closed = Place("high", months_open=(2,))
    (site,) = rank(Wishes(run_length=2), {closed: rows(4, 4, 3, 3)}, [NEW_MOON]).sites
    assert site.runs[0].first == date(2027, 2, 1)
    assert site.candidates == 4
    assert site.left_out == {"closed_month": 2}


def test_months_hold_their_own_nights_and_sum_to_the_season() -> None:
    (site,) = rank(Wishes(), {Place("high"): rows(3, 2, 1, 0)}, [NEW_MOON]).sites
    assert [month.month for month in site.months] == [(2027, 1), (2027, 2)]
    assert [month.nights for month in site.months] == [2, 2]
    assert [month.candidates for month in site.months] == [2, 0]
    assert [month.moonless_hours for month in site.months] == [5, 1]
    assert [month.dark_hours for month in site.months] == [7, 3]


def test_no_candidates_comes_with_what_the_next_levels_give() -> None:
    bright = [row(date(2027, 6, 5), 0, hours_15=3)]
    (site,) = rank(Wishes(), {Place("north"): bright}, []).sites
    assert site.candidates_by_level == {-18: 0, -15: 1, -12: 0}


def test_other_levels_are_not_asked_where_there_are_candidates() -> None:
    (site,) = rank(Wishes(), {Place("high"): rows(3)}, [NEW_MOON]).sites
    assert site.candidates_by_level == {-18: 1}


def test_nights_that_never_get_dark_are_counted_down_to_the_level_that_leaves_none() -> None:
    bright = replace(row(date(2027, 6, 5), 0), dark_hours_18=0, dark_hours_15=1)
    (site,) = rank(Wishes(), {Place("north"): [bright, row(date(2027, 6, 6), 3)]}, []).sites
    assert site.never_dark_by_level == {-18: 1, -15: 1, -12: 2}


def test_lighter_levels_are_not_counted_where_every_night_gets_dark() -> None:
    (site,) = rank(Wishes(), {Place("high"): rows(3, 2)}, []).sites
    assert site.never_dark_by_level == {-18: 0}


def test_a_season_without_sites_is_empty_and_not_an_error() -> None:
    view = rank(Wishes(), dict[Place, list[Row]](), [NEW_MOON])
    assert (view.sites, view.best_first) == ((), [])


def test_runs_of_all_sites_stand_together_and_equals_share_a_rank() -> None:
    sites = {Place("low"): rows(2, 1), Place("equal"): rows(1, 2), Place("high"): rows(3, 3)}
    view = rank(Wishes(run_length=2), sites, [NEW_MOON])
    together = [(site.name, run.rank, run.hours) for site, run in view.runs_together]
    assert together == [("high", 1, 6), ("low", 2, 3), ("equal", 2, 3)]


def test_a_site_without_runs_does_not_stand_among_them() -> None:
    view = rank(Wishes(run_length=2), {Place("none"): rows(0, 0)}, [NEW_MOON])
    assert view.runs_together == []


def test_with_targets_what_the_dark_alone_would_give_is_kept() -> None:
    place = Place("high")
    (day,) = dark = rows(3)
    eight = day.moonless_18[0][0]
    wanted = {place: [WantedSpans(0.5, np.array([[eight, eight + 3600]]))]}
    (site,) = rank(Wishes(), {place: dark}, [NEW_MOON], wanted=wanted).sites
    (night,) = site.nights
    assert (night.usable_hours, night.moonless_usable_hours, night.moonless_hours_out) == (
        0.5,
        3,
        3,
    )


def test_without_targets_both_are_the_same() -> None:
    (site,) = rank(Wishes(), {Place("high"): rows(3, 6)}, [NEW_MOON]).sites
    assert [night.moonless_usable_hours for night in site.nights] == [3, 4]
    assert [night.usable_hours for night in site.nights] == [3, 4]
