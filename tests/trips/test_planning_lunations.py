"""One entry for each Moon: sites that agree are named together, the others are counted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from trips.planning.lunations import best_of_each_moon
from trips.planning.runs import Run, Stretch
from trips.planning.season_view import RankedRun

JANUARY, FEBRUARY = datetime(2027, 1, 7, 20, tzinfo=UTC), datetime(2027, 2, 6, 16, tzinfo=UTC)


@dataclass(frozen=True)
class Spot:
    name: str
    zone: str = "UTC"


A, B, C = Spot("A"), Spot("B"), Spot("C")


def stretch(first: date, hours: float) -> Stretch:
    return Stretch(first, first + timedelta(days=2), hours, candidates=3)


def ranked(
    site: Spot, first: date, hours: float, moon: datetime = JANUARY, ties: int = 0
) -> RankedRun[Spot]:
    others = tuple(stretch(first + timedelta(days=n + 1), hours) for n in range(ties))
    return RankedRun(1, site, Run(stretch(first, hours), 1, moon, others, None))


def test_sites_with_the_same_nights_and_hours_are_named_together() -> None:
    day = date(2027, 1, 5)
    [moon] = best_of_each_moon([ranked(A, day, 12), ranked(B, day, 12)])
    assert (moon.sites, moon.as_good, moon.also) == ((A, B), 0, None)


def test_a_site_with_other_nights_as_good_is_counted_and_not_named() -> None:
    runs = [ranked(A, date(2027, 1, 5), 12, ties=4), ranked(B, date(2027, 1, 6), 12, ties=2)]
    [moon] = best_of_each_moon(runs)
    assert moon.sites == (A,)
    assert moon.as_good == 4 + 1 + 2


def test_a_site_with_fewer_hours_is_the_next_best() -> None:
    day = date(2027, 1, 5)
    [moon] = best_of_each_moon([ranked(A, day, 12), ranked(B, day, 11), ranked(C, day, 10)])
    assert moon.sites == (A,)
    assert moon.also is not None
    assert moon.also.site == B


def test_each_moon_has_one_entry_and_equals_share_a_rank() -> None:
    first, second = date(2027, 1, 5), date(2027, 2, 4)
    moons = best_of_each_moon(
        [ranked(A, first, 12), ranked(A, second, 12, FEBRUARY), ranked(B, first, 11)]
    )
    assert [(moon.rank, moon.first) for moon in moons] == [(1, first), (1, second)]


def test_unequal_moons_do_not_share_a_rank() -> None:
    moons = best_of_each_moon(
        [ranked(A, date(2027, 1, 5), 12), ranked(A, date(2027, 2, 4), 11, FEBRUARY)]
    )
    assert [moon.rank for moon in moons] == [1, 2]


def test_no_run_gives_no_entry() -> None:
    assert best_of_each_moon([]) == []
