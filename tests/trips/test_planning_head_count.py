"""Ticks of phones that were out of touch: the last counts, and what differs is told."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import permutations

from trips.planning.head_count import HERE, LEFT, NOT_HERE, Mark, Standing, missing_from, standing

AT = datetime(2027, 6, 5, 22, 0, tzinfo=UTC)


def _after(minutes: float, kind: str, by: str) -> Mark:
    return Mark(kind, AT + timedelta(minutes=minutes), by)


def test_nobody_ticked_is_neither_here_nor_gone() -> None:
    assert standing([]) == Standing(None, None)
    assert not standing([]).is_here
    assert not standing([]).has_left


def test_the_last_tick_counts_in_whatever_order_they_come_in() -> None:
    marks = [_after(0, HERE, "Olalla"), _after(180, LEFT, "Bruno"), _after(90, HERE, "Bruno")]
    for order in permutations(marks):
        assert standing(order).has_left
        assert standing(order).differing is None


def test_two_phones_that_differ_at_about_the_same_time_are_both_told() -> None:
    found = standing([_after(0, LEFT, "Olalla"), _after(12, NOT_HERE, "Bruno")])
    assert found.last == _after(12, NOT_HERE, "Bruno")
    assert found.differing == _after(0, LEFT, "Olalla")


def test_two_phones_that_agree_are_no_conflict() -> None:
    assert standing([_after(0, HERE, "Olalla"), _after(3, HERE, "Bruno")]).differing is None


def test_an_instructor_who_ticks_anew_settles_what_she_said_before() -> None:
    marks = [_after(0, LEFT, "Olalla"), _after(5, NOT_HERE, "Bruno"), _after(9, NOT_HERE, "Olalla")]
    assert standing(marks).differing is None


def test_what_lies_far_apart_is_a_change_and_no_conflict() -> None:
    assert standing([_after(0, HERE, "Olalla"), _after(21, LEFT, "Bruno")]).differing is None


def test_who_is_not_counted_is_missing_twenty_minutes_after_the_first_on_the_next_five() -> None:
    assert missing_from(AT) == AT + timedelta(minutes=20)
    assert missing_from(AT + timedelta(minutes=1)) == AT + timedelta(minutes=25)
