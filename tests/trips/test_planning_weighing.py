"""Usable hours: what counts of a night and how much, and what does not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.spans import Span, hours, intersect, union
from trips.planning.hours_out import hours_out
from trips.planning.nights import Block, Wishes
from trips.planning.stretches import Pair, Pairs, seconds, within
from trips.planning.weighing import WantedSpans, weigh

MADRID = "Europe/Madrid"
NOON = datetime(2027, 2, 5, 11, tzinfo=UTC)  # 12:00 in Madrid


@dataclass(frozen=True)
class Row:
    date: date = date(2027, 2, 5)
    civil_dusk: datetime | None = NOON + timedelta(hours=7)
    moon_illuminated: float = 0.0


def pair(start: float, end: float) -> Pair:
    """Make a stretch of hours after noon."""
    noon = NOON.timestamp()
    return noon + start * 3600, noon + end * 3600


def at(hour: float) -> datetime:
    return NOON + timedelta(hours=hour)


def wanted(weight: float, *pieces: Pair) -> WantedSpans:
    return WantedSpans(weight, np.array(pieces, dtype=np.float64).reshape(-1, 2))


def best(most: float, *of: WantedSpans, out: Pair | None = None) -> Block | None:
    """Weigh one night, out all of it."""
    found = weigh(of, np.array([out or pair(0, 24)]), most)
    if not found.hours[0]:
        return None
    start, end = (datetime.fromtimestamp(float(each[0]), UTC) for each in (found.start, found.end))
    return Block(start, end, float(found.hours[0]))


def usable(pieces: Pairs, most: float) -> Block | None:
    return best(most, wanted(1, *pieces))


def test_people_are_out_from_civil_dusk_to_two_in_the_morning() -> None:
    assert hours_out(Row(), Wishes(), MADRID) == pair(7, 14)


def test_they_may_begin_at_an_hour_of_the_clock() -> None:
    assert hours_out(Row(), Wishes(out_from=time(21)), MADRID) == pair(9, 14)


def test_an_hour_before_noon_is_the_next_morning_for_both_ends() -> None:
    before_dawn = Wishes(out_from=time(4), out_until=time(7))
    assert hours_out(Row(), before_dawn, MADRID) == pair(16, 19)


def test_an_hour_after_noon_is_the_same_evening() -> None:
    assert hours_out(Row(), Wishes(out_until=time(23)), MADRID) == pair(7, 11)


def test_hours_that_end_before_they_begin_are_empty_and_not_an_error() -> None:
    start, end = hours_out(Row(), Wishes(out_until=time(18)), MADRID)
    assert start == end


def test_without_a_civil_dusk_the_hours_begin_with_the_night() -> None:
    assert hours_out(Row(civil_dusk=None), Wishes(), MADRID) == pair(0, 14)


def test_the_end_follows_the_clock_when_it_changes_in_the_night() -> None:
    # 2027-03-28 02:00 does not exist in Madrid; an hour later the clock shows 04:00.
    night = Row(date=date(2027, 3, 27), civil_dusk=datetime(2027, 3, 27, 18, tzinfo=UTC))
    _start, end = hours_out(night, Wishes(out_until=time(4)), MADRID)
    assert end == datetime(2027, 3, 28, 2, tzinfo=UTC).timestamp()


def test_a_night_counts_at_most_the_hours_out() -> None:
    block = usable((pair(7, 14),), 4)
    assert block is not None
    assert (block.start, block.hours) == (at(7), 4.0)


def test_dark_outside_the_window_does_not_count() -> None:
    assert within([pair(5, 8), pair(12, 18), pair(20, 21)], pair(7, 14)) == (
        pair(7, 8),
        pair(12, 14),
    )


def test_dark_that_only_touches_the_window_does_not_count() -> None:
    assert within([pair(5, 7), pair(14, 18)], pair(7, 14)) == ()


def test_evening_and_morning_compete_and_the_longer_wins() -> None:
    block = usable((pair(7, 9), pair(15, 18)), 4)
    assert block is not None
    assert (block.start, block.end, block.hours) == (at(15), at(18), 3.0)


def test_the_earliest_wins_between_equals() -> None:
    block = usable((pair(7, 9), pair(15, 17)), 4)
    assert block is not None
    assert block.start == at(7)


def test_a_block_may_bridge_a_gap_and_does_not_count_the_gap() -> None:
    block = usable((pair(7, 9), pair(10, 11)), 4)
    assert block is not None
    assert (block.end, block.hours) == (at(11), 3.0)


def test_a_night_without_moonless_dark_has_no_block() -> None:
    assert usable((), 4) is None


def test_hours_count_by_the_weight_of_the_target() -> None:
    block = best(4, wanted(0.5, pair(7, 10)))
    assert block == Block(at(7), at(10), 1.5)


def test_an_instant_counts_once_at_the_greatest_weight_and_is_not_summed() -> None:
    block = best(4, wanted(0.4, pair(7, 11)), wanted(1, pair(8, 9)), wanted(0.7, pair(8, 10)))
    assert block is not None
    assert block.hours == pytest.approx(0.4 + 1 + 0.7 + 0.4)


def test_a_better_target_later_moves_the_block() -> None:
    block = best(2, wanted(0.3, pair(7, 12)), wanted(1, pair(10.5, 11.5)))
    assert block is not None
    assert block.start == at(9.5)
    assert block.hours == pytest.approx(1.3)


def test_a_target_of_no_weight_counts_nothing() -> None:
    assert best(4, wanted(0, pair(7, 10))) is None


def test_a_list_without_targets_counts_nothing() -> None:
    assert best(4) is None


def test_what_stands_right_when_nobody_is_out_does_not_count() -> None:
    assert best(4, wanted(1, pair(2, 5)), out=pair(7, 14)) is None


def test_all_that_counts_in_the_hours_out_is_told_besides_the_block() -> None:
    found = weigh([wanted(0.5, pair(7, 15))], np.array([pair(7, 14)]), 4)
    assert (found.hours[0], found.hours_out[0]) == (2.0, 3.5)


def test_each_night_is_weighed_by_its_own_hours() -> None:
    day = 24.0
    out = np.array([pair(7, 14), pair(day + 7, day + 14)])
    found = weigh([wanted(1, pair(12, 13), pair(day + 8, day + 10))], out, 4)
    assert found.hours.tolist() == [1, 2]
    assert found.night.tolist() == [0, 1]


quarter_hours = st.integers(0, 96).map(lambda quarters: quarters / 4)
some_spans = st.lists(st.tuples(quarter_hours, quarter_hours), max_size=4).map(
    lambda ends: union(Span(at(min(pair)), at(max(pair))) for pair in ends)
)


def pairs_of(spans: tuple[Span, ...]) -> Pairs:
    return tuple((span.start.timestamp(), span.end.timestamp()) for span in spans)


@given(moonless=some_spans, most=st.sampled_from([0.5, 2.0, 4.0, 8.0]))
def test_no_other_stretch_of_that_length_holds_more(
    moonless: tuple[Span, ...], most: float
) -> None:
    # Every stretch that begins on a quarter of an hour: the spans do too.
    stretches = [Span(at(quarter / 4), at(quarter / 4 + most)) for quarter in range(97)]
    best = max(hours(intersect(moonless, (stretch,))) for stretch in stretches)
    block = usable(pairs_of(moonless), most)
    assert (block.hours if block else 0) == pytest.approx(best, abs=1e-9)


some_wanted = st.lists(st.tuples(st.sampled_from([0.25, 0.5, 1.0]), some_spans), max_size=4)


@given(of=some_wanted, most=st.sampled_from([0.5, 2.0, 4.0]))
def test_no_other_stretch_is_worth_more_to_a_count_by_quarters(
    of: list[tuple[float, tuple[Span, ...]]], most: float
) -> None:
    quarters = np.zeros(97)
    for weight, spans in of:
        for start, end in pairs_of(spans):
            first, last = (round((each - NOON.timestamp()) / 900) for each in (start, end))
            quarters[first:last] = np.maximum(quarters[first:last], weight)
    count = round(most * 4)
    worth = max(quarters[first : first + count].sum() for first in range(97)) / 4
    block = best(most, *(wanted(weight, *pairs_of(spans)) for weight, spans in of))
    assert (block.hours if block else 0) == pytest.approx(worth, abs=1e-9)


@given(spans=some_spans, window=st.tuples(quarter_hours, quarter_hours))
def test_seconds_say_what_spans_say(spans: tuple[Span, ...], window: tuple[float, float]) -> None:
    first, last = min(window), max(window)
    inside = within(pairs_of(spans), pair(first, last))
    common = intersect(spans, (Span(at(first), at(last)),))
    assert inside == pairs_of(common)
    assert seconds(inside) / 3600 == pytest.approx(hours(common))
