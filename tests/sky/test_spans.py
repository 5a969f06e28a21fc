"""Spans of time and their algebra."""

from __future__ import annotations

import itertools
from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.errors import SkyError
from sky.spans import Span, Spans, as_utc, hours, intersect, subtract, union

NOON = datetime(2027, 3, 1, 12, tzinfo=UTC)


def at(hour: float) -> datetime:
    return NOON + timedelta(hours=hour)


def span(start: float, end: float) -> Span:
    return Span(at(start), at(end))


lists_of_spans = st.lists(
    st.tuples(st.integers(0, 48), st.integers(0, 12)).map(lambda se: span(se[0], se[0] + se[1])),
    max_size=8,
)
disjoint = lists_of_spans.map(union)


def test_a_span_holds_its_start_and_not_its_end() -> None:
    evening = span(6, 8)
    assert at(6) in evening
    assert at(7.99) in evening
    assert at(8) not in evening


def test_a_span_knows_its_length() -> None:
    assert span(6, 8.5).hours == 2.5
    assert span(6, 8.5).seconds == 9000


def test_a_span_is_kept_in_utc_whatever_the_zone_given() -> None:
    tokyo = timezone(timedelta(hours=9))
    kept = Span(at(6).astimezone(tokyo), at(8).astimezone(tokyo))
    assert kept == span(6, 8)
    assert kept.start.tzinfo is UTC


def test_a_datetime_without_a_zone_is_refused() -> None:
    naive = datetime(2027, 3, 1, 12)  # noqa: DTZ001 (what is refused)
    with pytest.raises(SkyError) as refused:
        as_utc(naive)
    assert refused.value.code == "naive_datetime"
    with pytest.raises(SkyError):
        Span(naive, at(1))


def test_a_span_that_ends_before_it_starts_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        span(8, 6)
    assert refused.value.code == "span_reversed"


def test_a_span_may_be_empty() -> None:
    assert span(6, 6).seconds == 0
    assert at(6) not in span(6, 6)


def test_spans_that_touch_are_joined_and_those_apart_are_not() -> None:
    assert union([span(2, 4), span(0, 2)]) == (span(0, 4),)
    assert union([span(3, 4), span(0, 2)]) == (span(0, 2), span(3, 4))


def test_a_span_inside_another_does_not_shorten_it() -> None:
    assert union([span(0, 9), span(2, 3)]) == (span(0, 9),)


def test_an_empty_span_leaves_nothing() -> None:
    assert union([span(3, 3)]) == ()


def test_the_intersection_is_what_both_hold() -> None:
    assert intersect([span(0, 4), span(6, 9)], [span(3, 7)]) == (span(3, 4), span(6, 7))


def test_spans_that_only_touch_have_no_intersection() -> None:
    assert intersect([span(0, 4)], [span(4, 8)]) == ()


def test_taking_away_the_middle_leaves_both_ends() -> None:
    assert subtract([span(0, 9)], [span(3, 4)]) == (span(0, 3), span(4, 9))


def test_taking_away_more_than_there_is_leaves_nothing() -> None:
    assert subtract([span(3, 4)], [span(0, 9)]) == ()


def test_taking_away_what_lies_beside_changes_nothing() -> None:
    assert subtract([span(3, 4)], [span(0, 3), span(4, 9)]) == (span(3, 4),)


def test_hours_are_summed_over_spans() -> None:
    assert hours([span(0, 1), span(3, 4.5)]) == 2.5
    assert hours(()) == 0


@given(lists_of_spans)
def test_a_union_is_sorted_and_disjoint(spans: list[Span]) -> None:
    joined = union(spans)
    assert all(a.end < b.start for a, b in itertools.pairwise(joined))
    assert all(s.seconds > 0 for s in joined)


@given(lists_of_spans, st.integers(0, 59))
def test_an_instant_is_in_the_union_exactly_when_it_is_in_a_span(
    spans: list[Span], hour: int
) -> None:
    instant = at(hour)
    assert any(instant in s for s in union(spans)) == any(instant in s for s in spans)


@given(disjoint, disjoint)
def test_what_is_shared_and_what_is_left_make_the_whole(whole: Spans, away: Spans) -> None:
    shared, left = intersect(whole, away), subtract(whole, away)
    assert union([*shared, *left]) == whole
    assert intersect(shared, left) == ()
    assert hours(shared) + hours(left) == pytest.approx(hours(whole))


@given(disjoint, disjoint)
def test_the_order_of_an_intersection_does_not_matter(first: Spans, second: Spans) -> None:
    assert intersect(first, second) == intersect(second, first)
