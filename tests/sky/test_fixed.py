"""Places among the stars over a season: where they stand, when they culminate, when they are clear.

What they stand clear of, and to the second, is held by tests/against/test_windows.py.
"""

from __future__ import annotations

from datetime import date
from functools import cache

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sky.apparent import directions_toward
from sky.clock import local_noons
from sky.fixed import FixedSky, FixedSpans, fixed_spans
from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of
from sky.targets.target import FixedPoint

Floats = NDArray[np.float64]

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
TEKAPO = Place(-44.0, 170.5, 700, "Pacific/Auckland")
FIRST, LAST = date(2027, 3, 1), date(2027, 3, 31)
SIDEREAL_DAY = 86_164.1

CORE = FixedPoint(266.41667, -29.00778)
ORION = FixedPoint(83.82, -5.39)
POLARIS = FixedPoint(37.95456, 89.26411)
FAR_SOUTH = FixedPoint(10.0, -70.0)
POINTS = (CORE, FAR_SOUTH, POLARIS, ORION)
WALL = skyline_of([(0, 5), (160, 5), (175, 30), (190, 5), (300, 12)])


@cache
def sky_of(points: tuple[FixedPoint, ...], place: Place = TERUEL) -> FixedSky:
    noons = local_noons(place.zone, FIRST, LAST)
    return FixedSky.over(points, place, (FIRST, LAST), float(noons[0]), float(noons[-1]))


def spans_of(point: FixedPoint, line: Skyline, place: Place = TERUEL) -> Floats:
    return fixed_spans(sky_of((point,), place), line).spans


def of_row(found: FixedSpans, row: int) -> Floats:
    spans: Floats = found.spans[found.row == row]
    return spans


def clearance(point: FixedPoint, line: Skyline, unix: Floats, place: Place = TERUEL) -> Floats:
    seen = directions_toward(point, place, unix)
    room: Floats = seen.altitude_degrees - line.at(seen.azimuth_degrees)
    return room


def inside(spans: Floats, unix: Floats) -> NDArray[np.bool_]:
    held = np.zeros(len(unix), np.bool_)
    for start, end in spans:
        held |= (unix >= start) & (unix < end)
    return held


@pytest.mark.parametrize("place", [TERUEL, TEKAPO])
def test_they_stand_where_their_apparent_places_put_them(place: Place) -> None:
    sky = sky_of(POINTS, place)
    unix = np.linspace(sky.start, sky.end, 500)
    for number, point in enumerate(POINTS):
        ours, theirs = sky.directions(number, unix), directions_toward(point, place, unix)
        assert ours.altitude_degrees == pytest.approx(theirs.altitude_degrees, abs=0.2 / 3600)
        aside = (ours.azimuth_degrees - theirs.azimuth_degrees + 180) % 360 - 180
        on_sky = aside * np.cos(np.radians(theirs.altitude_geometric_degrees))
        assert np.abs(on_sky).max() < 0.2 / 3600


def test_several_points_may_be_asked_for_at_once_each_at_its_instant() -> None:
    sky, unix = sky_of(POINTS), np.array([1.805e9, 1.806e9])
    both = sky.directions(np.array([3, 0]), unix)
    alone = [sky.directions(number, unix[n : n + 1]) for n, number in enumerate((3, 0))]
    assert both.altitude_degrees.tolist() == [one.altitude_degrees[0] for one in alone]


@pytest.mark.parametrize(("place", "azimuth"), [(TERUEL, 180.0), (TEKAPO, 0.0)])
def test_a_transit_is_the_highest_moment_and_on_the_meridian(place: Place, azimuth: float) -> None:
    transits = sky_of((ORION,), place).transits()[0, :-1]
    seen = directions_toward(ORION, place, transits)
    assert (seen.azimuth_degrees - azimuth + 180) % 360 - 180 == pytest.approx(0, abs=0.001)
    for aside in (-60.0, 60.0):
        beside = directions_toward(ORION, place, transits + aside)
        assert (beside.altitude_degrees < seen.altitude_degrees).all()


def test_transits_follow_each_other_by_a_sidereal_day_to_a_day_beyond_the_season() -> None:
    sky = sky_of(POINTS)
    for transits in sky.transits():
        assert transits[0] < sky.start
        within = transits[transits < sky.end + 86_400]
        # A star beside the pole goes round it in seconds of its own, by aberration.
        assert np.diff(within) == pytest.approx(SIDEREAL_DAY, abs=3)
        assert within[-1] > sky.end


@pytest.mark.parametrize("line", [LEVEL.raised_to(10), WALL, WALL.raised_to(8)])
@pytest.mark.parametrize("point", [CORE, ORION])
def test_edges_lie_on_the_line(point: FixedPoint, line: Skyline) -> None:
    spans = spans_of(point, line)
    sky = sky_of((point,))
    edges = spans[(spans > sky.start) & (spans < sky.end)]
    assert len(edges) > 50
    assert clearance(point, line, edges) == pytest.approx(0, abs=0.5 / 3600)


@pytest.mark.parametrize("point", [CORE, ORION])
def test_a_minute_inside_it_is_clear_and_a_minute_outside_it_is_not(point: FixedPoint) -> None:
    spans, sky = spans_of(point, WALL), sky_of((point,))
    assert (clearance(point, WALL, spans[:, 0] + 60) > 0).all()
    assert (clearance(point, WALL, spans[:, 1] - 60) > 0).all()
    before, after = spans[:, 0] - 60, spans[:, 1] + 60
    outside = np.concatenate((before[before > sky.start], after[after < sky.end]))
    assert (clearance(point, WALL, outside) < 0).all()


def test_a_peak_on_the_meridian_makes_two_spans_of_each_passage() -> None:
    without, behind = spans_of(CORE, LEVEL.raised_to(5)), spans_of(CORE, WALL.raised_to(5))
    assert len(without) == pytest.approx(31, abs=1)
    assert len(behind) == pytest.approx(2 * len(without), abs=1)
    assert inside(without, behind.mean(axis=1)).all()


def test_what_never_sets_is_clear_from_the_first_noon_to_the_last() -> None:
    sky = sky_of((POLARIS,))
    assert spans_of(POLARIS, LEVEL.raised_to(25)).tolist() == [[sky.start, sky.end]]


def test_what_never_rises_has_no_spans() -> None:
    assert spans_of(FAR_SOUTH, LEVEL).shape == (0, 2)


def test_what_never_rises_here_does_in_the_south() -> None:
    assert len(spans_of(FAR_SOUTH, LEVEL, TEKAPO))


def test_rows_are_sorted_and_each_is_as_it_is_alone() -> None:
    found = fixed_spans(sky_of(POINTS), WALL)
    assert (np.diff(found.row) >= 0).all()
    assert set(found.row) == {0, 2, 3}
    for number, point in enumerate(POINTS):
        assert of_row(found, number) == pytest.approx(spans_of(point, WALL), abs=0.001)


def test_spans_are_sorted_apart_and_inside_the_season() -> None:
    sky = sky_of(POINTS)
    found = fixed_spans(sky, WALL)
    for row in set(found.row):
        ends = of_row(found, row).ravel()
        assert (np.diff(ends) > 0).all()
        assert sky.start <= ends[0] <= ends[-1] <= sky.end


@pytest.mark.parametrize(("above_top", "grazing"), [(0.005, [0]), (0.5, []), (-0.5, [])])
def test_what_turns_back_at_the_line_is_named_as_grazing_and_nothing_else(
    above_top: float, grazing: list[int]
) -> None:
    """The core culminates below the line, far below it, and above it, where its edges are slow."""
    at_top = sky_of((CORE,)).transits()[0, 15:16]
    top = float(directions_toward(CORE, TERUEL, at_top).altitude_degrees[0])
    found = fixed_spans(sky_of(POINTS), LEVEL.raised_to(top + above_top))
    assert found.grazing.tolist() == grazing


def test_no_points_have_no_spans() -> None:
    found = fixed_spans(sky_of(()), LEVEL)
    assert len(found.spans) == len(found.row) == len(found.grazing) == 0


RIDGES = st.dictionaries(
    st.integers(0, 359).map(float), st.floats(0, 40), min_size=1, max_size=12
).map(lambda points: skyline_of(list(points.items())))


@given(st.floats(0, 359.9), st.floats(-89, 89), st.floats(-85, 85), st.floats(-180, 179), RIDGES)
@example(266.4, -29.0, 40.4, -1.1, LEVEL)
@settings(deadline=None, max_examples=40)
def test_whatever_the_place_the_point_and_the_ridge_it_is_clear_inside_and_only_there(
    ra: float, dec: float, latitude: float, longitude: float, line: Skyline
) -> None:
    """Every ten minutes; beside an edge, and near the line, both may be right."""
    point, place = FixedPoint(ra, dec), Place(latitude, longitude)
    noons = local_noons("UTC", FIRST, LAST)
    sky = FixedSky.over((point,), place, (FIRST, LAST), float(noons[0]), float(noons[-1]))
    found = fixed_spans(sky, line)
    assume(not found.grazing.size)
    unix = np.arange(sky.start + 1, sky.end, 600.0)
    room = clearance(point, line, unix, place)
    sure = np.abs(room) > 0.001 + steepness(line)
    assert (inside(found.spans, unix) == (room > 0))[sure].all()


def steepness(line: Skyline) -> float:
    """Give degrees that a steep line's height changes while the azimuth moves by an arcsecond."""
    around, height = line.azimuths, line.altitudes
    return float(np.abs(np.diff(height) / np.diff(around)).max()) / 3600
