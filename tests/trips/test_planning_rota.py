"""Turns: everybody once, equally long, nobody in anybody's way; held against every other way."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trips.planning.rota import SHORTEST, RotaTooShortError, Slot, slots, turned

FROM = datetime(2027, 6, 5, 23, 20, tzinfo=UTC)


def _until(minutes: int) -> datetime:
    return FROM + timedelta(minutes=minutes)


def test_twelve_people_at_four_tripods_share_seventy_minutes_in_three_rounds() -> None:
    found = slots(range(12), first=FROM, last=_until(70), stations=4)
    assert [slot.station for slot in found] == [1, 2, 3, 4] * 3
    assert {slot.last - slot.first for slot in found} == {timedelta(minutes=23)}
    assert found[4] == Slot(4, _until(23), _until(46), 1)
    assert found[-1].last == _until(69)


def test_as_many_stations_as_people_give_everybody_the_whole_time() -> None:
    found = slots("ab", first=FROM, last=_until(70), stations=2)
    assert {(slot.first, slot.last) for slot in found} == {(FROM, _until(70))}


def test_a_time_too_short_for_all_is_refused_with_what_would_do() -> None:
    with pytest.raises(RotaTooShortError) as refused:
        slots(range(12), first=FROM, last=_until(12), stations=2)
    assert refused.value.people == 4
    assert refused.value.stations == 6


def test_a_time_too_short_for_anybody_is_refused_without_advice() -> None:
    with pytest.raises(RotaTooShortError) as refused:
        slots(range(3), first=FROM, last=_until(4), stations=3)
    assert (refused.value.people, refused.value.stations) == (0, 0)


def test_nobody_gets_no_turn() -> None:
    assert slots([], first=FROM, last=_until(70), stations=4) == ()


def test_the_next_night_others_go_first() -> None:
    assert turned("abcde", by=2) == list("cdeab")
    assert turned("abcde", by=7) == list("cdeab")
    assert turned("", by=3) == []


@given(st.integers(1, 9), st.integers(1, 5), st.integers(5, 90))
def test_no_other_rota_of_equal_turns_gives_longer_ones(
    people: int, stations: int, minutes: int
) -> None:
    longest = _longest_by_trying(people, stations, minutes)
    try:
        found = slots(range(people), first=FROM, last=_until(minutes), stations=stations)
    except RotaTooShortError:
        assert longest * timedelta(minutes=1) < SHORTEST
        return
    assert {slot.last - slot.first for slot in found} == {timedelta(minutes=longest)}
    assert {slot.person for slot in found} == set(range(people))
    assert len({(slot.first, slot.station) for slot in found}) == people
    assert all(FROM <= slot.first < slot.last <= _until(minutes) for slot in found)
    assert all(1 <= slot.station <= stations for slot in found)


def _longest_by_trying(people: int, stations: int, minutes: int) -> int:
    """Try every length in whole minutes: how many equal turns fit, one after the other?"""
    return max(
        (length for length in range(1, minutes + 1) if minutes // length * stations >= people),
        default=0,
    )
