"""A season judged over several sites."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

from tests.trips.wishes import Wishes
from trips.planning.season_view import rank

NEW_MOON = datetime(2027, 2, 6, 16, tzinfo=UTC)


@dataclass(frozen=True)
class Place:
    name: str
    zone: str = "UTC"


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


def test_nights_of_all_sites_are_ranked_together_and_equals_share_a_rank() -> None:
    high, low = Place("high"), Place("low")
    view = rank(Wishes(), {high: rows(3, 2.5), low: rows(2.5, 1)}, [NEW_MOON])
    assert [(ranked.rank, ranked.site.name) for ranked in view.nights] == [
        (1, "high"),
        (2, "low"),
        (2, "high"),
    ]


def test_a_night_below_the_least_hours_is_not_among_the_best() -> None:
    view = rank(Wishes(least_hours=3), {Place("high"): rows(3, 2.9)}, [NEW_MOON])
    assert [ranked.night.date for ranked in view.nights] == [date(2027, 1, 30)]


def test_months_hold_their_own_nights_and_sum_to_the_season() -> None:
    (site,) = rank(Wishes(), {Place("high"): rows(3, 2, 1, 0)}, [NEW_MOON]).sites
    assert [month.month for month in site.months] == [(2027, 1), (2027, 2)]
    assert [month.nights for month in site.months] == [2, 2]
    assert [month.candidates for month in site.months] == [2, 0]
    assert [month.moonless_hours for month in site.months] == [5, 1]
    assert [month.dark_hours for month in site.months] == [7, 3]


def test_runs_of_all_sites_are_ranked_together() -> None:
    view = rank(
        Wishes(), {Place("low"): rows(2, 2), Place("high"): rows(3, 3)}, [NEW_MOON], run_length=2
    )
    assert [(ranked.rank, ranked.site.name) for ranked in view.runs] == [(1, "high"), (2, "low")]


def test_no_candidates_comes_with_what_the_next_levels_give() -> None:
    bright = [row(date(2027, 6, 5), 0, hours_15=3)]
    (site,) = rank(Wishes(), {Place("north"): bright}, []).sites
    assert site.candidates_by_level == {-18: 0, -15: 1, -12: 0}


def test_other_levels_are_not_asked_where_there_are_candidates() -> None:
    (site,) = rank(Wishes(), {Place("high"): rows(3)}, [NEW_MOON]).sites
    assert site.candidates_by_level == {-18: 1}


def test_a_season_without_sites_is_empty_and_not_an_error() -> None:
    view = rank(Wishes(), dict[Place, list[Row]](), [NEW_MOON])
    assert (view.sites, view.nights, view.runs) == ((), (), ())
