"""Two sites laid over each other, and what only one site of a season offers."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from tests.trips.compared_sites import FIRST, Place, night, nights, season, site
from trips.planning.comparing import compared
from trips.planning.laying_over import (
    SharedHours,
    adds_most,
    shared_hours,
    site_to_start_from,
    usable_pairs,
)
from trips.planning.nights import Block
from trips.planning.only_here import only_here


def test_the_best_site_is_laid_over_by_the_one_that_adds_most_hours_to_it() -> None:
    best, like, unlike = site("A", 4, 4, 4, 0), site("B", 4, 4, 3.9, 0), site("C", 1, 1, 4, 2)
    sites = [like, unlike, best, site("D")]
    assert site_to_start_from(sites) is best
    assert adds_most(best, sites) is unlike


def test_a_site_that_is_a_flight_away_is_laid_over_only_where_no_other_is_near() -> None:
    best, near = site("A", 4, 0), site("B", 4, 1)
    away = site("C", 4, 4, latitude=69.0, longitude=18.0)
    assert adds_most(best, [best, near, away]) is near
    assert adds_most(best, [best, away]) is away


def test_hours_of_evenings_that_are_not_offered_add_nothing() -> None:
    best, open_late = site("A", 4, 0), site("C", 3, 1)
    shut = compared(season(Place("B"), nights(4, 4, why_not="road_closed")))
    assert adds_most(best, [best, shut, open_late]) is open_late


def test_among_equals_the_better_is_laid_over() -> None:
    best, second, third = site("A", 4), site("B", 4), site("C", 4)
    assert adds_most(best, [third, second, best]) is second


def test_without_nights_there_is_nothing_to_lay_over() -> None:
    assert site_to_start_from([site("A"), site("B")]) is None
    assert adds_most(site("A", 4), [site("B")]) is None


def test_usable_hours_are_parted_by_the_instant_and_add_up_to_each_site() -> None:
    ours, theirs = [night(FIRST, 4)], [night(FIRST, 4, starts=1)]
    shared = shared_hours(ours, theirs)
    assert shared == SharedHours(both=3, only_first=1, only_second=1)
    assert (shared.of_first, shared.of_second) == (4, 4)


def test_only_the_block_that_counts_is_shared() -> None:
    dark_for_six = night(FIRST, 6)
    assert dark_for_six.block is not None
    dusk = dark_for_six.block.start
    capped = replace(dark_for_six, block=Block(dusk, dusk + timedelta(hours=4), 4))
    assert sum(end - start for start, end in usable_pairs(capped)) == 4 * 3600
    assert shared_hours([capped], [dark_for_six]) == SharedHours(4, 0, 2)


def test_where_the_moon_interrupts_only_what_is_usable_of_the_block_is_shared() -> None:
    whole = night(FIRST, 4)
    ((start, end),) = whole.counted_out
    assert whole.block is not None
    parted = replace(
        whole,
        counted_out=((start, start + 3600), (end - 3600, end)),
        block=replace(whole.block, hours=2),
    )
    assert shared_hours([parted], [whole]) == SharedHours(2, 0, 2)


def test_an_evening_that_is_not_offered_is_not_shared() -> None:
    closed = nights(4, why_not="closed_month")
    assert usable_pairs(closed[0]) == ()
    assert shared_hours(closed, nights(4)) == SharedHours(0, 0, 4)


def test_nights_that_the_other_site_does_not_have_are_its_own() -> None:
    assert shared_hours(nights(4, 4), nights(4)) == SharedHours(4, 4, 0)


def test_what_is_shared_adds_up_to_the_hours_of_the_table() -> None:
    one, other = site("A", 4, 3.5, 2, 0), site("B", 1, 4, 0, 2)
    shared = shared_hours(one.nights, other.nights)
    assert shared.of_first == pytest.approx(one.usable_hours)
    assert shared.of_second == pytest.approx(other.usable_hours)


def test_hours_are_only_here_on_nights_that_no_other_site_offers() -> None:
    one, other = site("A", 4, 3, 0), site("B", 4, 0, 2)
    assert only_here([one, other]) == {one.site: 3, other.site: 2}


def test_a_night_on_which_the_others_are_closed_is_offered_only_here() -> None:
    one = site("A", 4)
    shut = compared(season(Place("B"), nights(4, why_not="no_night_access")))
    assert only_here([one, shut]) == {one.site: 4, shut.site: 0}


def test_nights_that_are_not_computed_everywhere_are_nobodys() -> None:
    one, other, empty = site("A", 4, 4), site("B", 0), site("C")
    assert only_here([one, other]) == {one.site: 4, other.site: 0}
    assert set(only_here([one, other, empty]).values()) == {0}


def test_a_single_site_is_not_said_to_be_the_only_one() -> None:
    assert only_here([site("A", 4)]) == {}
