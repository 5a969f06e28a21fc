"""Ways to a target from bright stars: which are chosen, and their words."""

from __future__ import annotations

import pytest

from sky.camera.sketch import Landmark
from sky.dome import NamedStanding, Standing, WholeSky
from sky.finding import Pointer
from sky.skyline import Skyline
from tests.trips.skies import made_sky, made_stars, made_wanted
from trips.almanac.pointers import how_to_hold, pointer_words, pointers_in

TARGET = made_wanted("Core", 20.0, 180.0)


def sky(*stars: tuple[str, float, float, float], **changed: object) -> WholeSky:
    return made_sky(stars=made_stars(*stars), wanted=(TARGET,), **changed)


def chosen(found: WholeSky) -> list[list[str]]:
    ways = pointers_in(found, found.wanted[0])
    return [[star.name for star in way.stars] for way in ways]


def words(star: Standing, target: Standing = TARGET.standings[0]) -> str:
    return pointer_words(Pointer((NamedStanding("Antares", star),), target))


# Words, by hand: a fist is 10° on the sky, so that aside counts × cos(mean altitude)


@pytest.mark.parametrize(
    ("altitude", "azimuth", "said"),
    [
        # 16 × cos 22.5° = 14.8° left; 5° down.
        (25.0, 196.0, "From Antares: one and a half fists left, half a fist down."),
        (10.0, 160.0, "From Antares: two fists right, one fist up."),  # 20 × cos 15° = 19.3°
        (20.5, 190.0, "From Antares: one fist left."),  # 0.5° is level
        (40.0, 181.0, "From Antares: two fists down."),  # 1 × cos 30° is straight below
    ],
)
def test_a_star_points_by_fists_aside_and_up_or_down(
    altitude: float, azimuth: float, said: str
) -> None:
    assert words(Standing(altitude, azimuth)) == said


def test_high_up_the_same_difference_of_azimuth_is_less_on_the_sky() -> None:
    high = Standing(60.0, 180.0)  # 40 × cos 60° = 20°
    assert words(Standing(60.0, 140.0), high) == "From Antares: two fists right."


def test_across_north_left_and_right_are_the_short_way() -> None:
    north = Standing(20.0, 355.0)
    assert words(Standing(20.0, 5.0), north) == "From Antares: one fist left."


def test_two_stars_in_a_row_point_on_beyond_the_last() -> None:
    row = (
        NamedStanding("Deneb", Standing(60.0, 180.0)),
        NamedStanding("Altair", Standing(45.0, 180.0)),
    )
    way = Pointer(row, TARGET.standings[0])
    assert pointer_words(way) == "From Deneb past Altair, two and a half fists on."


# Which stars


def test_the_nearest_bright_star_points_first_then_a_row_that_leads_there() -> None:
    found = sky(
        ("Deneb", 1.25, 60.0, 180.0), ("Altair", 0.8, 45.0, 180.0), ("Antares", 1.1, 25.0, 196.0)
    )
    assert chosen(found) == [["Antares"], ["Deneb", "Altair"]]


def test_two_that_lead_past_the_target_or_away_from_it_are_no_row() -> None:
    away = sky(("Antares", 1.0, 22.0, 196.0), ("Spica", 1.0, 24.0, 212.0))
    assert chosen(away) == [["Antares"]]
    past = sky(("Deneb", 1.2, 60.0, 150.0), ("Altair", 0.8, 45.0, 150.0))
    assert ["Deneb", "Altair"] not in chosen(past)


def test_without_a_row_a_second_star_points_from_another_side() -> None:
    found = sky(
        ("Antares", 1.0, 20.0, 195.0), ("Spica", 1.1, 22.0, 200.0), ("Altair", 0.8, 40.0, 165.0)
    )
    assert chosen(found) == [["Antares"], ["Altair"]]


@pytest.mark.parametrize(
    "star",
    [
        ("Faint", 1.6, 25.0, 190.0),
        ("", 0.5, 25.0, 190.0),
        ("Close", 0.5, 20.0, 183.0),
        ("Far", 0.5, 20.0, 260.0),
        ("Overhead", 0.5, 80.0, 180.0),
        ("Behind the hill", 0.5, 9.0, 190.0),
    ],
)
def test_a_star_that_nobody_could_point_from_does_not(
    star: tuple[str, float, float, float],
) -> None:
    hill = Skyline(((100.0, 10.0), (260.0, 10.0)))
    assert chosen(sky(star, skyline=hill)) == []
    assert chosen(sky(("Antares", 1.0, 25.0, 190.0), skyline=hill)) == [["Antares"]]


def test_the_pole_star_points_although_it_is_of_the_second_magnitude() -> None:
    north = made_wanted("Cepheus", 50.0, 10.0)
    found = made_sky(stars=made_stars(("Polaris", 2.0, 40.0, 0.0)), wanted=(north,))
    assert chosen(found) == [["Polaris"]]


def test_the_moon_and_an_arch_find_themselves() -> None:
    star = made_stars(("Antares", 1.0, 25.0, 190.0))
    moon = made_sky(stars=star, wanted=(TARGET,), moon=TARGET.standings[0])
    arch = made_sky(stars=star, wanted=(made_wanted("Arch", 20.0, 180.0, is_arch=True),))
    assert chosen(moon) == chosen(arch) == []


def test_what_is_down_has_no_pointers() -> None:
    down = made_wanted("Down", -5.0, 180.0)
    assert chosen(made_sky(stars=made_stars(("Antares", 1.0, 5.0, 190.0)), wanted=(down,))) == []


# How it is held


def test_the_south_of_the_picture_goes_to_a_landmark_that_stands_there_or_to_the_south() -> None:
    tower, barn = Landmark("the tower", 186.0, 5.0, 0.0), Landmark("the barn", 192.0, 5.0, 0.0)
    assert how_to_hold([barn, tower]) == "Hold it overhead, S toward the tower."
    assert how_to_hold([barn]) == "Hold it overhead, S toward south."
