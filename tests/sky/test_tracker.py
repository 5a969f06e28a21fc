"""Setting up a tracker: which pole, how high, and where its star stands on the clock's face."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from sky.errors import SkyError
from sky.place import Place
from sky.tracker import PoleSetUp, pole_set_up

EVENING = datetime(2027, 7, 2, 21, tzinfo=UTC)
HOURS = [EVENING + timedelta(hours=n) for n in range(24)]
NORTH, SOUTH = Place(40.4, -1.1, 1600), Place(-44.0, 170.5, 700)


def at(latitude: float) -> PoleSetUp:
    return pole_set_up(Place(latitude, 10.0), [EVENING])[0]


def test_the_pole_stands_as_high_as_the_latitude_and_is_seen_a_little_higher() -> None:
    found = pole_set_up(NORTH, [EVENING])[0]
    assert found.pole_altitude_geometric_degrees == 40.4
    assert 0.01 < found.pole_altitude_degrees - 40.4 < 0.02


def test_each_hemisphere_has_its_own_pole_and_star() -> None:
    north, south = (pole_set_up(place, [EVENING])[0] for place in (NORTH, SOUTH))
    assert (north.star, north.pole_azimuth_degrees) == ("Polaris", 0.0)
    assert (south.star, south.pole_azimuth_degrees) == ("σ Octantis", 180.0)


def test_facing_north_the_star_goes_against_the_clock() -> None:
    faces = [found.face_hours for found in pole_set_up(NORTH, HOURS[:2])]
    assert (faces[0] - faces[1]) % 12 == pytest.approx(0.501, abs=0.001)


def test_facing_south_the_star_goes_with_the_clock() -> None:
    faces = [found.face_hours for found in pole_set_up(SOUTH, HOURS[:2])]
    assert (faces[1] - faces[0]) % 12 == pytest.approx(0.501, abs=0.001)


def test_a_star_on_the_meridian_above_the_pole_is_at_twelve() -> None:
    for found in pole_set_up(NORTH, HOURS):
        above = found.hour_angle_degrees < 90 or found.hour_angle_degrees > 270
        upper_half = found.face_hours < 3 or found.face_hours > 9
        assert above == upper_half
        west = found.hour_angle_degrees < 180
        assert west == (found.face_hours > 6)


@pytest.mark.parametrize(
    ("latitude", "reach"),
    [(0.0, "none"), (0.9, "none"), (-0.9, "none"), (1.1, "low"), (-9.0, "low"), (10.0, "usual")],
)
def test_near_the_equator_neither_pole_is_high_enough(latitude: float, reach: str) -> None:
    assert at(latitude).reach == reach


def test_at_the_pole_itself_the_axis_points_straight_up() -> None:
    assert at(90.0).pole_altitude_degrees == pytest.approx(90.0, abs=0.001)


def test_no_instants_have_no_set_up() -> None:
    assert pole_set_up(NORTH, []) == []


def test_a_naive_instant_is_refused() -> None:
    with pytest.raises(SkyError, match="naive_datetime"):
        pole_set_up(NORTH, [datetime(2027, 7, 2, 21)])  # noqa: DTZ001
