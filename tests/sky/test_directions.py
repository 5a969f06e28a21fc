"""Directions: which way is which, what the air does, and what is refused."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from sky.directions import direction_of, directions_of, highest, lowest, refraction_degrees
from sky.errors import SkyError
from sky.place import Place
from sky.spans import Span

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
TEKAPO = Place(-44.0, 170.5, 700, "Pacific/Auckland")
TROMSO = Place(69.6, 18.9, 0, "Europe/Oslo")
EQUINOX_NOON = datetime(2027, 3, 20, 12, 12, tzinfo=UTC)
DAY = Span(datetime(2027, 3, 20, tzinfo=UTC), datetime(2027, 3, 21, tzinfo=UTC))


def test_the_noon_sun_is_due_south_in_the_north_and_due_north_in_the_south() -> None:
    assert highest("sun", TERUEL, DAY).azimuth_degrees == pytest.approx(180, abs=0.5)
    north = highest("sun", TEKAPO, DAY).azimuth_degrees
    assert min(north, 360 - north) == pytest.approx(0, abs=0.5)


def test_the_equinox_sun_rises_in_the_east_and_sets_in_the_west() -> None:
    day = Span(EQUINOX_NOON - timedelta(hours=6), EQUINOX_NOON + timedelta(hours=6))
    found = directions_of("sun", TERUEL, [day.start, day.end])
    assert found.azimuth_degrees == pytest.approx([90, 270], abs=1.5)


def test_the_highest_of_a_span_after_culmination_is_its_start() -> None:
    afternoon = Span(EQUINOX_NOON + timedelta(hours=2), EQUINOX_NOON + timedelta(hours=5))
    assert highest("sun", TERUEL, afternoon).instant == afternoon.start
    assert lowest("sun", TERUEL, afternoon).instant == afternoon.end


def test_the_highest_of_an_empty_span_is_its_instant() -> None:
    assert highest("sun", TERUEL, Span(EQUINOX_NOON, EQUINOX_NOON)).instant == EQUINOX_NOON


def test_the_midnight_sun_has_a_lowest_above_the_horizon() -> None:
    june = Span(datetime(2027, 6, 21, 10, tzinfo=UTC), datetime(2027, 6, 22, 10, tzinfo=UTC))
    low = lowest("sun", TROMSO, june)
    assert low.altitude_geometric_degrees == pytest.approx(69.6 + 23.44 - 90, abs=0.02)
    assert min(low.azimuth_degrees, 360 - low.azimuth_degrees) < 0.5


def test_a_body_that_stays_down_has_a_negative_highest() -> None:
    december = Span(datetime(2027, 12, 21, tzinfo=UTC), datetime(2027, 12, 22, tzinfo=UTC))
    assert highest("sun", TROMSO, december).altitude_degrees < 0


def test_the_air_lifts_what_is_up_and_nothing_that_is_down() -> None:
    height = np.array([-20.0, -5.11, -2.0, -0.5, 0.0, 45.0, 90.0])
    lift = refraction_degrees(height, 0.0)
    assert lift[:3] == pytest.approx(0)
    assert (np.diff(lift[3:]) < 0).all()
    assert lift[-1] == 0


def test_what_comes_up_never_jumps() -> None:
    height = np.arange(-3.0, 1.0, 0.01)
    apparent = height + refraction_degrees(height, 0.0)
    assert (np.diff(apparent) > 0).all()
    assert np.diff(apparent).max() < 0.02


def test_no_instants_give_no_directions() -> None:
    assert directions_of("moon", TERUEL, []).azimuth_degrees.shape == (0,)


def test_an_unknown_body_is_refused() -> None:
    with pytest.raises(SkyError, match="body_unknown"):
        direction_of("vulcan", TERUEL, EQUINOX_NOON)


def test_a_naive_instant_is_refused() -> None:
    with pytest.raises(SkyError, match="naive_datetime"):
        direction_of("sun", TERUEL, datetime(2027, 3, 20, 12))  # noqa: DTZ001


@pytest.mark.parametrize("year", [1971, 2052])
def test_a_year_that_cannot_be_computed_is_refused(year: int) -> None:
    with pytest.raises(SkyError, match="instant_outside"):
        direction_of("sun", TERUEL, datetime(year, 6, 1, tzinfo=UTC))


@pytest.mark.parametrize(
    "instant",
    [datetime(1971, 12, 31, 10, tzinfo=UTC), datetime(2051, 1, 2, 0, tzinfo=UTC)],
)
def test_the_edges_of_the_first_and_the_last_night_are_not(instant: datetime) -> None:
    assert -90 <= direction_of("moon", TERUEL, instant).altitude_degrees <= 90
