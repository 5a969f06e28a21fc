"""Candidates and runs: consecutive nights, one run for each Moon, equals shown as equals."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from sky.spans import Span, hours, intersect
from trips.planning.candidates import is_enough
from trips.planning.nights import Block, JudgedNight
from trips.planning.runs import best_nights, best_runs, longest_run

NOON = datetime(2027, 2, 1, 12, tzinfo=UTC)
FEBRUARY_MOON = datetime(2027, 2, 6, 16, tzinfo=UTC)
MARCH_MOON = datetime(2027, 3, 8, 9, tzinfo=UTC)
MOONS = [FEBRUARY_MOON, MARCH_MOON]


def span(start: float, end: float) -> Span:
    return Span(NOON + timedelta(hours=start), NOON + timedelta(hours=end))


def is_candidate(moonless: tuple[Span, ...], out: Span, least_hours: float) -> bool:
    return is_enough(hours(intersect(moonless, (out,))), least_hours)


def night(day: date, usable: float) -> JudgedNight:
    start = datetime(day.year, day.month, day.day, 20, tzinfo=UTC)
    block = Block(start, start + timedelta(hours=usable), usable) if usable else None
    return JudgedNight(day, usable, usable, usable, 0.1, block, usable >= 2, usable, usable)


def nights(first: date, *usable: float) -> list[JudgedNight]:
    return [night(first + timedelta(days=n), each) for n, each in enumerate(usable)]


def test_two_hours_make_a_candidate_even_in_two_pieces() -> None:
    assert is_candidate((span(8, 9), span(10, 11)), span(7, 14), 2.0)


def test_hours_outside_the_stay_out_hours_do_not_make_a_candidate() -> None:
    assert not is_candidate((span(8, 9), span(15, 19)), span(7, 14), 2.0)


def test_a_night_without_any_dark_is_no_candidate_when_nothing_is_asked() -> None:
    assert not is_candidate((), span(7, 14), 0.0)
    assert is_candidate((span(8, 8.1),), span(7, 14), 0.0)


def test_the_best_run_of_a_moon_has_the_most_usable_hours() -> None:
    (run,) = best_runs(nights(date(2027, 2, 4), 1, 2, 4, 4, 3), 3, MOONS)
    assert (run.first, run.last, run.hours) == (date(2027, 2, 6), date(2027, 2, 8), 11)
    assert (run.rank, run.new_moon, run.best.candidates) == (1, FEBRUARY_MOON, 3)


def test_the_next_best_of_the_same_moon_stands_beside_it() -> None:
    (run,) = best_runs(nights(date(2027, 2, 4), 1, 2, 4, 4, 3), 3, MOONS)
    assert run.also is not None
    assert (run.also.first, run.also.hours) == (date(2027, 2, 5), 10)


def test_equals_of_one_moon_are_shown_as_ties_and_not_as_next_best() -> None:
    (run,) = best_runs(nights(date(2027, 2, 4), 4, 4, 4, 2), 2, MOONS)
    assert run.first == date(2027, 2, 4)
    assert [tie.first for tie in run.ties] == [date(2027, 2, 5)]
    assert run.also is not None
    assert run.also.first == date(2027, 2, 6)


def test_among_equals_the_run_with_more_hours_in_hand_stands_first() -> None:
    month = nights(date(2027, 2, 4), 4, 4, 4, 4)
    month[2:] = [replace(each, counted_hours_out=6) for each in month[2:]]
    (run,) = best_runs(month, 2, MOONS)
    assert (run.first, run.best.spare_hours) == (date(2027, 2, 6), 4)
    assert [tie.first for tie in run.ties] == [date(2027, 2, 5), date(2027, 2, 4)]


def test_hours_in_hand_do_not_outweigh_usable_hours() -> None:
    month = nights(date(2027, 2, 4), 3.9, 3.9, 4, 4)
    month[:2] = [replace(each, counted_hours_out=9) for each in month[:2]]
    (run,) = best_runs(month, 2, MOONS)
    assert run.first == date(2027, 2, 6)


def test_a_run_does_not_hold_a_night_that_is_not_offered() -> None:
    month = nights(date(2027, 2, 4), 4, 4, 4, 3, 3)
    month[1] = replace(month[1], why_not="avoided")
    (run,) = best_runs(month, 2, MOONS)
    assert run.first == date(2027, 2, 6)
    assert [each.first for each in run.ties] == []


def test_each_moon_gives_one_run_and_the_better_moon_comes_first() -> None:
    both = nights(date(2027, 2, 5), 2, 2) + nights(date(2027, 3, 7), 4, 4)
    assert [(run.rank, run.new_moon) for run in best_runs(both, 2, MOONS)] == [
        (1, MARCH_MOON),
        (2, FEBRUARY_MOON),
    ]


def test_equal_moons_share_a_rank() -> None:
    both = nights(date(2027, 2, 5), 3, 3) + nights(date(2027, 3, 7), 3, 3)
    assert [run.rank for run in best_runs(both, 2, MOONS)] == [1, 1]


def test_a_run_does_not_reach_across_a_missing_date() -> None:
    broken = [night(date(2027, 2, 5), 4), night(date(2027, 2, 7), 4)]
    assert best_runs(broken, 2, MOONS) == []


def test_a_run_without_a_usable_hour_is_not_listed() -> None:
    assert best_runs(nights(date(2027, 2, 5), 0, 0), 2, MOONS) == []


def test_a_season_shorter_than_the_run_has_none() -> None:
    assert best_runs(nights(date(2027, 2, 5), 4), 2, MOONS) == []


def test_the_best_nights_come_with_the_count_of_their_equals() -> None:
    month = nights(date(2027, 2, 5), 2, 4, 3, 3, 3, 1)
    told, equal = best_nights(month, 2)
    assert [(night.date.day, night.usable_hours) for night in told] == [(6, 4), (7, 3)]
    assert equal == 2


def test_a_night_that_is_not_offered_is_not_among_the_best() -> None:
    month = nights(date(2027, 2, 5), 3, 4)
    month[1] = replace(month[1], why_not="road_closed")
    assert best_nights(month, 5) == (month[:1], 0)


def test_of_no_candidates_there_are_no_best_nights() -> None:
    assert best_nights(nights(date(2027, 2, 5), 1, 1), 5) == ([], 0)


@pytest.mark.parametrize(
    ("hours", "longest"), [((2, 2, 0, 2, 2, 2), 3), ((0, 1, 1.9), 0), ((), 0), ((4,), 1)]
)
def test_the_longest_run_counts_candidates_in_a_row(hours: tuple[float, ...], longest: int) -> None:
    assert longest_run(nights(date(2027, 2, 5), *hours)) == longest


def test_the_longest_run_ends_at_a_missing_date() -> None:
    assert longest_run([night(date(2027, 2, 5), 4), night(date(2027, 2, 7), 4)]) == 1
