"""Where places among the stars stand: shapes and signs, what moves them, and what is refused."""

from __future__ import annotations

from datetime import UTC, date, datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sky.apparent import directions_toward, places_of_date, unit_vectors
from sky.directions import directions_of
from sky.ephemeris import frames_between, tt_from_utc
from sky.errors import SkyError
from sky.place import Place
from sky.targets.target import Body, FixedPoint

Floats = NDArray[np.float64]

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
TEKAPO = Place(-44.0, 170.5, 700, "Pacific/Auckland")
POLE = FixedPoint(0.0, 90.0)
ORION = FixedPoint(83.82, -5.39)
EVENING = datetime(2027, 3, 5, 20, tzinfo=UTC)
SIDEREAL_DAY = 86_164.1
YEAR = date(2027, 1, 1), date(2027, 12, 31)

# One year, so that the tables are made once.
INSTANTS = st.floats(
    datetime(2027, 1, 2, tzinfo=UTC).timestamp(), datetime(2027, 12, 30, tzinfo=UTC).timestamp()
)
POINTS = st.builds(FixedPoint, st.floats(0, 360), st.floats(-90, 90))
PLACES = st.builds(Place, st.floats(-90, 90), st.floats(-180, 180), st.floats(-400, 8000))

unhurried = settings(deadline=None, max_examples=60)


def around_the_clock(count: int = 96) -> Floats:
    return EVENING.timestamp() + np.linspace(0, SIDEREAL_DAY, count)


def test_unit_vectors_point_where_right_ascension_and_declination_say() -> None:
    found = unit_vectors([FixedPoint(0, 0), FixedPoint(90, 0), FixedPoint(180, 0), POLE])
    assert found == pytest.approx(np.array([[1, 0, 0], [0, 1, 0], [-1, 0, 0], [0, 0, 1]]), abs=1e-9)


def test_places_of_date_are_unit_vectors_by_instant_and_point() -> None:
    tt = tt_from_utc(around_the_clock(5))
    found = places_of_date(unit_vectors([POLE, ORION]), frames_between(*YEAR), tt)
    assert found.shape == (5, 2, 3)
    assert np.linalg.norm(found, axis=2) == pytest.approx(1)


def test_a_star_beside_the_pole_of_the_ecliptic_goes_round_by_aberration() -> None:
    """20.5″ (the constant of aberration, IAU 1976: 20.49552″) around its mean place in a year."""
    pole_of_ecliptic = FixedPoint(270.0, 90 - 23.43928)
    tt = tt_from_utc(around_the_clock(1) + np.arange(0, 290, 5)[:, None].ravel() * 86_400.0)
    frames = frames_between(*YEAR)
    seen = places_of_date(unit_vectors([pole_of_ecliptic]), frames, tt)[:, 0]
    at = np.clip(np.searchsorted(frames.tt, tt) - 1, 0, len(frames.tt) - 2)
    in_icrs = np.einsum("nji,nj->ni", frames.equator[at], seen)
    apart = np.degrees(np.linalg.norm(in_icrs - unit_vectors([pole_of_ecliptic]), axis=1)) * 3600
    assert apart == pytest.approx(20.5, abs=0.6)


def test_the_pole_stands_as_high_as_the_latitude_toward_north() -> None:
    """Precession has moved it by 0.15° since 2000."""
    seen = directions_toward(POLE, TERUEL, around_the_clock())
    assert seen.altitude_geometric_degrees == pytest.approx(40.4, abs=0.16)
    assert np.cos(np.radians(seen.azimuth_degrees)) == pytest.approx(1, abs=1e-4)


def test_in_the_south_the_same_pole_is_as_far_below() -> None:
    seen = directions_toward(POLE, TEKAPO, around_the_clock())
    assert seen.altitude_geometric_degrees == pytest.approx(-44, abs=0.16)
    assert (seen.altitude_degrees < 0).all()


@pytest.mark.parametrize(("place", "culminates"), [(TERUEL, 180.0), (TEKAPO, 0.0)])
def test_what_rises_in_the_east_culminates_toward_the_equator_and_sets_in_the_west(
    place: Place, culminates: float
) -> None:
    unix = around_the_clock(1441)
    seen = directions_toward(ORION, place, unix)
    height, azimuth = seen.altitude_geometric_degrees, seen.azimuth_degrees
    rises = np.diff(height) > 0
    assert (azimuth[:-1][rises & (height[:-1] > 0)] % 360 < 180).all()
    assert (azimuth[:-1][~rises & (height[:-1] > 0)][1:] > 180).all()
    at_top = azimuth[np.argmax(height)]
    assert abs((at_top - culminates + 180) % 360 - 180) < 1
    assert height.max() == pytest.approx(90 - abs(place.latitude - ORION.dec_degrees), abs=0.1)


def test_a_sidereal_day_later_it_stands_there_again_and_a_day_later_it_does_not() -> None:
    late = EVENING.timestamp() + 3 * 3600
    seen = directions_toward(ORION, TERUEL, late + np.array([0, SIDEREAL_DAY, 86_400.0]))
    altitude = seen.altitude_geometric_degrees
    assert altitude[1] == pytest.approx(altitude[0], abs=0.001)
    assert abs(altitude[2] - altitude[0]) > 0.5


@given(POINTS, PLACES, INSTANTS)
@unhurried
def test_every_direction_is_one_of_the_sky(point: FixedPoint, place: Place, unix: float) -> None:
    seen = directions_toward(point, place, np.array([unix]))
    assert -90 <= seen.altitude_geometric_degrees[0] <= seen.altitude_degrees[0] <= 90.001
    assert 0 <= seen.azimuth_degrees[0] < 360


@given(POINTS, PLACES, INSTANTS)
@unhurried
def test_an_instant_alone_is_as_among_others(point: FixedPoint, place: Place, unix: float) -> None:
    among = directions_toward(point, place, unix + np.array([-86_400.0, 0.0, 7.0]))
    alone = directions_toward(point, place, np.array([unix]))
    assert alone.altitude_degrees[0] == pytest.approx(among.altitude_degrees[1], abs=1e-6)


def test_a_body_is_sent_on_to_its_own_tables() -> None:
    unix = np.array([EVENING.timestamp()])
    ours = directions_toward(Body("jupiter"), TERUEL, unix)
    theirs = directions_of("jupiter", TERUEL, [EVENING])
    assert ours.altitude_degrees.tolist() == theirs.altitude_degrees.tolist()
    assert ours.azimuth_degrees.tolist() == theirs.azimuth_degrees.tolist()


@pytest.mark.parametrize("point", [ORION, Body("moon")])
def test_no_instants_give_no_directions(point: FixedPoint | Body) -> None:
    seen = directions_toward(point, TERUEL, np.empty(0))
    assert seen.altitude_degrees.shape == seen.azimuth_degrees.shape == (0,)


def test_an_unknown_body_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        directions_toward(Body("vulcan"), TERUEL, np.array([EVENING.timestamp()]))
    assert refused.value.code == "body_unknown"


@pytest.mark.parametrize("year", [1971, 2052])
@pytest.mark.parametrize("point", [ORION, Body("moon")])
def test_a_year_that_cannot_be_computed_is_refused(point: FixedPoint | Body, year: int) -> None:
    with pytest.raises(SkyError) as refused:
        directions_toward(point, TERUEL, np.array([datetime(year, 6, 1, tzinfo=UTC).timestamp()]))
    assert refused.value.code == "instant_outside"


@pytest.mark.parametrize(
    "instant", [datetime(1971, 12, 31, 10, tzinfo=UTC), datetime(2051, 1, 2, 0, tzinfo=UTC)]
)
def test_the_edges_of_the_first_and_the_last_night_are_not(instant: datetime) -> None:
    seen = directions_toward(ORION, TERUEL, np.array([instant.timestamp()]))
    assert np.isfinite(seen.altitude_degrees).all()
