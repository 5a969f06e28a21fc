"""Usable hours: what counts of a night, and what does not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.spans import Span, hours, intersect, union
from trips.planning.nights import StayOut
from trips.planning.usable import stay_out_span, usable

MADRID = "Europe/Madrid"
NOON = datetime(2027, 2, 5, 11, tzinfo=UTC)  # 12:00 in Madrid


@dataclass(frozen=True)
class Row:
    date: date = date(2027, 2, 5)
    start: datetime = NOON
    end: datetime = NOON + timedelta(days=1)
    civil_dusk: datetime | None = NOON + timedelta(hours=7)
    moon_illuminated: float = 0.0


def span(start: float, end: float) -> Span:
    """Make a span of hours after noon."""
    return Span(NOON + timedelta(hours=start), NOON + timedelta(hours=end))


def test_stay_out_hours_begin_at_civil_dusk_and_end_at_two_in_the_morning() -> None:
    assert stay_out_span(Row(), StayOut(), MADRID) == span(7, 14)


def test_stay_out_hours_may_begin_at_an_hour_of_the_clock() -> None:
    assert stay_out_span(Row(), StayOut(out_from=time(21)), MADRID) == span(9, 14)


def test_an_hour_before_noon_is_the_next_morning_for_both_ends() -> None:
    before_dawn = StayOut(out_from=time(4), out_until=time(7))
    assert stay_out_span(Row(), before_dawn, MADRID) == span(16, 19)


def test_an_hour_after_noon_is_the_same_evening() -> None:
    assert stay_out_span(Row(), StayOut(out_until=time(23)), MADRID) == span(7, 11)


def test_hours_that_end_before_they_begin_are_empty_and_not_an_error() -> None:
    assert stay_out_span(Row(), StayOut(out_until=time(18)), MADRID).hours == 0


def test_without_a_civil_dusk_the_hours_begin_with_the_night() -> None:
    assert stay_out_span(Row(civil_dusk=None), StayOut(), MADRID) == span(0, 14)


def test_the_end_follows_the_clock_when_it_changes_in_the_night() -> None:
    # 2027-03-28 02:00 does not exist in Madrid; an hour later the clock shows 04:00.
    night = Row(
        date=date(2027, 3, 27),
        start=datetime(2027, 3, 27, 11, tzinfo=UTC),
        end=datetime(2027, 3, 28, 10, tzinfo=UTC),
        civil_dusk=datetime(2027, 3, 27, 18, tzinfo=UTC),
    )
    assert stay_out_span(night, StayOut(out_until=time(4)), MADRID).end == datetime(
        2027, 3, 28, 2, tzinfo=UTC
    )


def test_a_night_counts_at_most_the_hours_out() -> None:
    block = usable((span(7, 14),), span(0, 24), 4)
    assert block is not None
    assert (block.start, block.hours) == (span(7, 8).start, 4.0)


def test_dark_outside_the_stay_out_hours_does_not_count() -> None:
    block = usable((span(12, 18),), span(7, 14), 4)
    assert block is not None
    assert block.hours == 2.0


def test_evening_and_morning_compete_and_the_longer_wins() -> None:
    block = usable((span(7, 9), span(15, 18)), span(0, 24), 4)
    assert block is not None
    assert (block.start, block.end, block.hours) == (span(15, 18).start, span(15, 18).end, 3.0)


def test_the_earliest_wins_between_equals() -> None:
    block = usable((span(7, 9), span(15, 17)), span(0, 24), 4)
    assert block is not None
    assert block.start == span(7, 9).start


def test_a_block_may_bridge_a_gap_and_does_not_count_the_gap() -> None:
    block = usable((span(7, 9), span(10, 11)), span(0, 24), 4)
    assert block is not None
    assert (block.end, block.hours) == (span(10, 11).end, 3.0)


def test_a_night_without_moonless_dark_has_no_block() -> None:
    assert usable((), span(7, 14), 4) is None
    assert usable((span(15, 16),), span(7, 14), 4) is None


quarter_hours = st.integers(0, 96).map(lambda quarters: quarters / 4)
some_spans = st.lists(st.tuples(quarter_hours, quarter_hours), max_size=4).map(
    lambda pairs: union(span(min(pair), max(pair)) for pair in pairs)
)


@given(moonless=some_spans, most=st.sampled_from([0.5, 2.0, 4.0, 8.0]))
def test_no_other_stretch_of_that_length_holds_more(
    moonless: tuple[Span, ...], most: float
) -> None:
    out = span(6, 20)
    inside = intersect(moonless, (out,))
    # Every stretch that begins on a quarter of an hour: the spans do too.
    stretches = [span(quarter / 4, quarter / 4 + most) for quarter in range(97)]
    best = max(hours(intersect(inside, (stretch,))) for stretch in stretches)
    block = usable(moonless, out, most)
    assert (block.hours if block else 0) == pytest.approx(best, abs=1e-9)
