"""A skyline: what may be measured, in which order it stands, and what is between its points."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.errors import SkyError
from sky.skyline import LEVEL, MOST_POINTS, Skyline, skyline_of, widest_gaps

HILLS = skyline_of([(0, 10), (90, 30), (180, 10), (270, 0)])
ALL_ROUND = np.arange(0.0, 360.0, 0.25)

# Tenths of a degree, as a person measures; no two points at one azimuth.
MEASURED = st.dictionaries(
    st.integers(0, 3599).map(lambda tenths: tenths / 10),
    st.floats(-90, 90, allow_nan=False),
    min_size=1,
    max_size=40,
).map(lambda points: list(points.items()))
LEAST = st.floats(-90, 90, allow_nan=False)


def refused(*points: tuple[float, float]) -> SkyError:
    with pytest.raises(SkyError) as error:
        skyline_of(points)
    return error.value


def test_points_are_sorted_by_azimuth() -> None:
    assert skyline_of([(200, 4), (10, 7), (90, 1)]).points == ((10, 7), (90, 1), (200, 4))


@given(MEASURED)
def test_the_order_of_measuring_does_not_matter(points: list[tuple[float, float]]) -> None:
    assert skyline_of(points) == skyline_of(points[::-1])


@given(MEASURED)
def test_at_its_points_it_is_as_high_as_was_measured(points: list[tuple[float, float]]) -> None:
    azimuth, altitude = np.array(points).T
    assert skyline_of(points).at(azimuth) == pytest.approx(altitude)


def test_between_two_points_it_is_a_straight_line() -> None:
    assert HILLS.at(np.array([45.0, 135.0, 225.0])).tolist() == [20, 20, 5]


def test_it_closes_across_north() -> None:
    hills = skyline_of([(350, 10), (20, 40)])
    assert hills.at(np.array([350.0, 0.0, 10.0, 20.0])).tolist() == [10, 20, 30, 40]


def test_a_turn_more_or_less_is_the_same_direction() -> None:
    around = np.array([10.0, 100.0, 300.0])
    assert HILLS.at(around + 360).tolist() == HILLS.at(around - 360).tolist()
    assert HILLS.at(around + 360) == pytest.approx(HILLS.at(around))


def test_azimuth_360_is_north() -> None:
    assert skyline_of([(360, 5), (90, 2)]) == skyline_of([(0, 5), (90, 2)])


def test_one_point_is_a_level_ring() -> None:
    ring = skyline_of([(123.4, 7.5)])
    assert not ring.is_level
    assert set(ring.at(ALL_ROUND).tolist()) == {7.5}


def test_no_points_are_a_level_horizon() -> None:
    assert skyline_of([]) == LEVEL == Skyline()
    assert LEVEL.is_level
    assert not LEVEL.at(ALL_ROUND).any()


def test_a_point_repeated_with_the_same_altitude_counts_once() -> None:
    assert skyline_of([(10, 3), (20, 4), (10, 3)]).points == ((10, 3), (20, 4))
    assert skyline_of([(0, 3), (360, 3)]).points == ((0, 3),)


def test_two_altitudes_at_one_azimuth_are_refused() -> None:
    error = refused((10, 3), (20, 4), (10, 5))
    assert error.code == "skyline_azimuth_twice"
    assert error.fields == {"number": 3, "azimuth": 10, "altitude": 5, "before": 3}


def test_north_given_as_0_and_as_360_with_two_altitudes_is_refused() -> None:
    assert refused((0, 3), (360, 4)).code == "skyline_azimuth_twice"


@pytest.mark.parametrize("altitude", [90.1, -90.1, 3600.0])
def test_an_altitude_past_the_zenith_or_the_nadir_is_refused(altitude: float) -> None:
    error = refused((10, 3), (20, altitude))
    assert (error.code, error.fields["number"]) == ("skyline_altitude_outside", 2)


def test_the_zenith_and_the_nadir_are_not() -> None:
    assert skyline_of([(10, 90), (20, -90)]).points == ((10, 90), (20, -90))


@pytest.mark.parametrize("azimuth", [-0.1, 360.1])
def test_an_azimuth_outside_the_round_is_refused(azimuth: float) -> None:
    error = refused((azimuth, 3))
    assert (error.code, error.fields["number"]) == ("skyline_azimuth_outside", 1)


@pytest.mark.parametrize("point", [(math.nan, 3.0), (3.0, math.nan), (3.0, math.inf)])
def test_what_is_no_number_is_refused(point: tuple[float, float]) -> None:
    assert refused((1, 1), (2, 2), point).fields["number"] == 3


def test_a_point_every_tenth_of_a_degree_is_allowed_and_one_more_is_not() -> None:
    every = [(n / 10, 1.0) for n in range(MOST_POINTS)]
    assert len(skyline_of(every).points) == 3600
    error = refused(*every, (0.05, 1.0))
    assert error.code == "skyline_too_many"
    assert error.fields == {"points": 3601, "most": 3600}


@given(MEASURED, LEAST)
def test_raised_it_is_the_higher_of_both_everywhere(
    points: list[tuple[float, float]], least: float
) -> None:
    line = skyline_of(points)
    raised = line.raised_to(least).at(ALL_ROUND)
    assert raised == pytest.approx(np.maximum(line.at(ALL_ROUND), least), abs=1e-6)


@given(MEASURED, LEAST)
def test_raised_it_has_new_points_only_where_it_crosses_the_level(
    points: list[tuple[float, float]], least: float
) -> None:
    measured = dict(points)
    for azimuth, altitude in skyline_of(points).raised_to(least).points:
        assert altitude == pytest.approx(max(measured.get(azimuth, least), least), abs=1e-9)


def test_raised_it_has_a_corner_where_it_comes_out_of_the_level() -> None:
    raised = HILLS.raised_to(20)
    assert raised.points == ((0, 20), (45, 20), (90, 30), (135, 20), (180, 20), (270, 20))


def test_raised_above_its_top_it_is_a_ring() -> None:
    assert HILLS.raised_to(31).points == ((0, 31),)


def test_raised_to_less_than_its_lowest_it_stays_as_it_is() -> None:
    assert HILLS.raised_to(-90) == HILLS


@pytest.mark.parametrize(("least", "height"), [(8.0, 8.0), (-90.0, 0.0)])
def test_a_level_horizon_is_raised_and_never_lowered(least: float, height: float) -> None:
    assert set(LEVEL.raised_to(least).at(ALL_ROUND).tolist()) == {height}


def test_the_widest_gap_is_told_clockwise() -> None:
    assert widest_gaps(skyline_of([(10, 0), (100, 0), (250, 0)])) == ((100, 250),)


def test_every_gap_as_wide_as_the_widest_is_told_and_no_narrower_one() -> None:
    measured = skyline_of([(each, 0) for each in (0, 90, 150, 180, 210, 270)])
    assert widest_gaps(measured) == ((0, 90), (270, 360))


def test_gaps_are_equal_though_their_azimuths_are_not_round_numbers() -> None:
    assert len(widest_gaps(skyline_of([(each / 10, 0) for each in (1, 701, 1401, 2101)]))) == 1
    assert len(widest_gaps(skyline_of([(0.1, 0), (120.1, 0), (240.1, 0)]))) == 3


def test_a_gap_across_north_ends_beyond_the_round() -> None:
    assert widest_gaps(skyline_of([(80, 0), (160, 0), (250, 0)])) == ((250, 440),)


def test_the_gap_of_one_point_and_of_none_is_the_whole_round() -> None:
    assert widest_gaps(skyline_of([(30, 5)])) == ((30, 390),)
    assert widest_gaps(LEVEL) == ((0, 360),)
