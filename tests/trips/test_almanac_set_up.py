"""How a tracker and a compass are set up, in words: at each latitude, by day, past the model."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of
from trips.almanac.needle import needle_at
from trips.almanac.set_up import SetUp, set_up_at

DAY = date(2027, 7, 2)
EVENING = datetime(2027, 7, 2, 21, tzinfo=UTC)
NORTH, SOUTH = Place(40.4, -1.1, 1600), Place(-44.0, 170.5, 700)
PAST = date(2030, 1, 1)


def found(place: Place, skyline: Skyline = LEVEL) -> SetUp:
    return set_up_at(place, skyline, DAY, EVENING)


def lines(place: Place) -> dict[str, str]:
    return dict(found(place).lines)


def notes(place: Place, skyline: Skyline = LEVEL) -> str:
    return " ".join(found(place, skyline).notes)


# The compass


def test_a_needle_that_points_east_is_taken_off_and_one_that_points_west_added() -> None:
    east, west = (needle_at(place, DAY) for place in (SOUTH, Place(47.0, -60.0)))
    assert "east of true north" in east.sentences[0]
    assert "off a true direction" in east.sentences[0]
    assert "west of true north" in west.sentences[0]
    assert "to a true direction" in west.sentences[0]


def test_a_direction_by_compass_is_less_by_what_the_needle_points_east() -> None:
    needle = needle_at(SOUTH, DAY)
    assert needle.declination_degrees is not None
    assert needle.declination_degrees > 20
    assert needle.by_compass(180) == pytest.approx(180 - needle.declination_degrees)
    assert needle.by_compass(5) == pytest.approx(365 - needle.declination_degrees)


def test_the_model_is_named_with_its_last_day_and_its_error() -> None:
    model = needle_at(NORTH, DAY).sentences[1]
    assert model.startswith("World Magnetic Model WMM2025, valid through 31 December 2029;")
    assert "standard error is 0." in model


def test_past_the_model_there_is_one_sentence_and_no_number() -> None:
    needle = needle_at(NORTH, PAST)
    assert needle.sentences == (
        "The magnetic model WMM2025 holds until 2029-12-31: for 2030-01-01 nobody can say yet"
        " where a needle will point.",
    )
    assert needle.by_compass(180) is None
    assert "by compass" not in dict(set_up_at(NORTH, LEVEL, PAST, EVENING).lines)["Direction"]


def test_before_the_first_model_there_is_none_either() -> None:
    (only,) = needle_at(NORTH, date(1999, 1, 1)).sentences
    assert only == "There is no magnetic model at hand for days before 2010-01-01."


def test_beside_a_magnetic_pole_no_compass_is_followed() -> None:
    needle = needle_at(Place(86, 140), DAY)
    assert needle.caution.startswith("Follow no compass here")
    assert needle.by_compass(0) is None
    assert "needle points" not in " ".join(needle.sentences)


def test_around_it_the_number_comes_with_a_warning_and_elsewhere_without() -> None:
    slow, usual = needle_at(Place(80, -80), DAY), needle_at(NORTH, DAY)
    assert "slow" in slow.caution
    assert slow.declination_degrees is not None
    assert usual.caution == ""


# The tracker


def test_in_the_north_the_axis_is_set_by_polaris() -> None:
    said = lines(NORTH)
    assert said["Height of the axis"].startswith("40.42° as seen through the air (apparent), 40.40")
    assert said["Direction"].startswith("true north, 0°; ")
    assert said["Pole star"].startswith("Polaris, 0.6")
    assert "facing north" in notes(NORTH)
    assert "against the clock" in notes(NORTH)


def test_in_the_south_by_sigma_octantis_which_is_faint() -> None:
    said = lines(SOUTH)
    assert said["Direction"].startswith("true south, 180°; 15")
    assert said["Pole star"].startswith("σ Octantis, 1.")
    assert "goes with the clock" in notes(SOUTH)
    assert "It is faint" in notes(SOUTH)
    assert "It is faint" not in notes(NORTH)


def test_the_face_of_the_clock_is_by_eye_and_a_polar_scope_may_turn_it_over() -> None:
    for place in (NORTH, SOUTH):
        assert "By eye" in notes(place)
        assert "polar scope may turn the picture over" in notes(place)
        assert found(place).pole is not None


def test_on_the_equator_there_is_no_star_to_set_by() -> None:
    said = lines(Place(0.3, 10.0))
    assert set(said) == {"Height of the axis", "Direction"}
    assert "there is no star to set by" in notes(Place(0.3, 10.0))
    assert found(Place(0.3, 10.0)).pole is None


def test_a_low_pole_has_its_star_and_a_warning_and_a_high_one_no_warning() -> None:
    low = Place(5.0, 10.0)
    assert "Pole star" in lines(low)
    assert "often hide the pole star" in notes(low)
    assert "often hide the pole star" not in notes(NORTH)


@pytest.mark.parametrize("latitude", [90.0, 87.0, -88.0])
def test_with_the_pole_overhead_no_clock_s_face_is_told(latitude: float) -> None:
    place = Place(latitude, 10.0)
    assert "From the pole" not in lines(place)
    assert "nearly overhead" in notes(place)
    assert found(place).pole is None


def test_straight_up_is_no_direction() -> None:
    assert "Direction" not in lines(Place(90.0, 0.0))
    assert "are less than 0.1° on the sky" in notes(Place(90.0, 0.0))
    assert "Direction" in lines(Place(89.0, 0.0))
    assert "are 0.2° on the sky" in notes(Place(89.0, 0.0))


def test_close_to_the_horizon_a_height_has_fewer_digits() -> None:
    assert lines(Place(1.5, 10.0))["Height of the axis"].startswith("1.8° as seen")
    assert lines(Place(5.0, 10.0))["Height of the axis"].startswith("5.16° as seen")


def test_land_that_hides_the_pole_is_said_and_lower_land_is_not() -> None:
    hidden, clear = (skyline_of([(0.0, top), (180.0, 0.0)]) for top in (50.0, 20.0))
    assert "The land hides the pole here: it stands 50° high there." in notes(NORTH, hidden)
    assert "The land hides" not in notes(NORTH, clear)


def test_in_daylight_the_compass_alone_is_told() -> None:
    by_day = set_up_at(NORTH, LEVEL, DAY, None)
    assert by_day.needle.sentences
    assert by_day.lines == ()
    assert by_day.notes == ("The Sun does not set: no pole star is to be seen.",)
