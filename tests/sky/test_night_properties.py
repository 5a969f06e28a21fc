"""What holds for every place and every season."""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import fields
from datetime import date, timedelta

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from sky.night import DARK_LEVELS, Night
from sky.nights import compute_season
from sky.place import Place
from sky.spans import Span, Spans, hours, intersect
from tests.nights import nights_of

# Two years, so that the tables are made once.
DAYS = st.dates(date(2027, 1, 1), date(2028, 12, 20))
LATITUDES = st.floats(-90, 90)
LONGITUDES = st.floats(-180, 179.999)
ZONES = st.sampled_from(["UTC", "Europe/Madrid", "Pacific/Kiritimati", "Pacific/Pago_Pago"])
PLACES = st.builds(Place, LATITUDES, LONGITUDES, st.floats(-400, 8000), ZONES)

# The table is read from disk or made at the first example.
unhurried = settings(deadline=None, max_examples=60)


def week(place: Place, first: date) -> list[Night]:
    return nights_of(place, first, first + timedelta(days=6))


def is_within(inner: Spans, outer: Spans) -> bool:
    return intersect(inner, outer) == inner


@given(PLACES, DAYS)
@unhurried
def test_moonless_is_within_dark_and_dark_within_the_night(place: Place, first: date) -> None:
    for night in week(place, first):
        for level in DARK_LEVELS:
            assert is_within(night.moonless[level], night.dark[level])
            assert is_within(night.dark[level], (night.span,))


@given(PLACES, DAYS)
@example(Place(-83.875, 145.0), date(2027, 7, 20))  # an extremum beside the first sample
@unhurried
def test_a_darker_level_is_within_a_lighter_one(place: Place, first: date) -> None:
    for night in week(place, first):
        for darker, lighter in ((-18, -15), (-15, -12)):
            assert is_within(night.dark[darker], night.dark[lighter])
            assert is_within(night.moonless[darker], night.moonless[lighter])


@given(PLACES, DAYS)
@unhurried
def test_hours_are_the_sum_of_spans(place: Place, first: date) -> None:
    """The table's hours come from sums over arrays, a night's spans from its crossings."""
    table = compute_season([place], first, first + timedelta(days=6))
    for number, night in enumerate(week(place, first)):
        for at, level in enumerate(DARK_LEVELS):
            assert night.dark_hours[level] == hours(night.dark[level])
            assert night.moonless_hours[level] == hours(night.moonless[level])
            dark, moonless = table.dark_hours[at, 0, number], table.moonless_hours[at, 0, number]
            assert dark == pytest.approx(night.dark_hours[level], abs=1e-6)
            assert moonless == pytest.approx(night.moonless_hours[level], abs=1e-6)


@given(PLACES, DAYS)
@unhurried
def test_spans_are_sorted_apart_and_never_empty(place: Place, first: date) -> None:
    for night in week(place, first):
        for level in DARK_LEVELS:
            for spans in (night.dark[level], night.moonless[level]):
                assert list(spans) == sorted(spans)
                assert all(span.seconds > 0 for span in spans)


@given(PLACES, DAYS)
@unhurried
def test_what_does_not_happen_has_a_word_and_what_happens_has_none(
    place: Place, first: date
) -> None:
    for night in week(place, first):
        for event in (
            "sunset",
            "civil_dusk",
            "nautical_dusk",
            "astronomical_dusk",
            "astronomical_dawn",
            "nautical_dawn",
            "civil_dawn",
            "sunrise",
        ):
            assert (getattr(night, event) is None) == (event in night.absent), event
        assert (not night.moonrises) == ("moonrise" in night.absent)
        assert (not night.moonsets) == ("moonset" in night.absent)
        assert (not night.dark[-18]) == ("dark" in night.absent)
        assert (not night.moonless[-12]) == ("moonless_12" in night.absent)


@given(LATITUDES, st.floats(-180, -0.001), DAYS)
@unhurried
def test_a_turn_of_360_degrees_changes_nothing(
    latitude: float, longitude: float, first: date
) -> None:
    # The folded longitude may differ in its last digits: a microsecond of time at most.
    here = week(Place(latitude, longitude), first)
    turned = week(Place(latitude, longitude + 360), first)
    for night, same in zip(here, turned, strict=True):
        assert_same(night, same)


@given(PLACES, DAYS)
@unhurried
def test_two_stretches_give_the_nights_of_the_whole(place: Place, first: date) -> None:
    whole = week(place, first)
    parts = [
        *nights_of(place, first, first + timedelta(days=2)),
        *nights_of(place, first + timedelta(days=3), first + timedelta(days=6)),
    ]
    for night, same in zip(whole, parts, strict=True):
        assert_same(night, same)


@pytest.mark.parametrize("latitude", [-67.0, 0.0, 40.4, 78.0])
def test_a_year_equals_its_months(latitude: float) -> None:
    place = Place(latitude, 18.0, 300, "Europe/Madrid")
    months = [date(2027, month, 1) for month in range(1, 13)] + [date(2028, 1, 1)]
    in_months = [
        night
        for first, after in itertools.pairwise(months)
        for night in nights_of(place, first, after - timedelta(days=1))
    ]
    for night, same in zip(nights_of(place, months[0], date(2027, 12, 31)), in_months, strict=True):
        assert_same(night, same)


def assert_same(night: Night, other: Night) -> None:
    """Compare two nights: instants to a second, the accuracy that is claimed.

    They agree to milliseconds but at the poles, where the Sun takes an hour for an arcminute.
    """
    for field in fields(Night):
        ours, theirs = getattr(night, field.name), getattr(other, field.name)
        allowed = 0.001 if is_plain(ours) else 1
        assert flattened(ours) == pytest.approx(flattened(theirs), abs=allowed), field.name


def is_plain(value: object) -> bool:
    """Tell whether a field holds a number or hours by level, and no instants."""
    held = value[-18] if isinstance(value, Mapping) and -18 in value else value
    return isinstance(held, float)


def flattened(value: object) -> list[float] | object:
    """Give a field as plain numbers, so that it can be compared with a tolerance."""
    if isinstance(value, tuple):
        return [number for part in value for number in numbers(part)]
    if isinstance(value, Span):
        return numbers(value)
    if hasattr(value, "timestamp"):
        return [float(value.timestamp())]
    if isinstance(value, Mapping) and -18 in value:
        return [number for level in DARK_LEVELS for number in numbers(value[level])]
    return value


def numbers(part: object) -> list[float]:
    if isinstance(part, Span):
        return [part.start.timestamp(), part.end.timestamp()]
    if isinstance(part, tuple):
        return [number for inner in part for number in numbers(inner)]
    if isinstance(part, float):
        return [part]
    return [float(part.timestamp())]  # type: ignore[attr-defined]
