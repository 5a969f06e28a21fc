"""The whole sky of a brief: rings, pointers and landmarks where they stand, labels that fit."""

from __future__ import annotations

import math
import re

import pytest

from sky.camera.sketch import Landmark
from sky.dome import NamedStanding, Standing, WholeSky
from sky.finding import PointedSky, Pointer
from sky.skyline import Skyline
from tests.trips.skies import made_sky, made_stars, made_wanted
from trips.charts.brief_sky import BriefSky, brief_sky
from trips.charts.name_places import box_of

NUMBERS = re.compile(r"-?\d+")
CORE = made_wanted("Galactic core", 16.0, 154.0)
ANTARES = NamedStanding("Antares", Standing(22.0, 170.0))


def drawn(sky: WholeSky, *landmarks: Landmark, pointers: tuple[Pointer, ...] = ()) -> BriefSky:
    return brief_sky(
        PointedSky(sky, pointers, landmarks),
        labels=[str(number + 1) for number in range(len(sky.wanted))],
        title="The sky",
        description="It is up.",
        holding="Hold it overhead.",
        pointer_words=(),
    )


def place(altitude: float, azimuth: float) -> tuple[float, float]:
    """Give a place by hand: 6 units a degree from the zenith, north up, east to the left."""
    turn = math.radians(azimuth)
    return -6 * (90 - altitude) * math.sin(turn), -6 * (90 - altitude) * math.cos(turn)


def points(path: str) -> list[tuple[int, int]]:
    numbers = [int(number) for number in NUMBERS.findall(path)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


@pytest.mark.parametrize(("altitude", "azimuth"), [(16, 154), (60, 90), (5, 270), (89, 10)])
def test_the_ring_is_where_azimuth_and_altitude_say(altitude: float, azimuth: float) -> None:
    picture = drawn(made_sky(wanted=(made_wanted("One", altitude, azimuth),)))
    ((x, y, _radius),) = picture.rings
    assert (x, y) == pytest.approx(place(altitude, azimuth), abs=1)


def test_a_pointer_leads_from_its_star_to_the_rim_of_the_ring() -> None:
    pointer = Pointer((ANTARES,), CORE.standings[0])
    picture = drawn(made_sky(wanted=(CORE,)), pointers=(pointer,))
    start, end = points(picture.pointers)
    ((x, y, radius),) = picture.rings
    assert start == pytest.approx(place(22.0, 170.0), abs=1)
    assert math.dist(end, (x, y)) == pytest.approx(radius, abs=1)


def test_the_stars_that_point_are_named_in_the_dark_too_and_others_by_day() -> None:
    pointer = Pointer((ANTARES,), CORE.standings[0])
    kinds = {
        name.words: name.kind for name in drawn(made_sky(wanted=(CORE,)), pointers=(pointer,)).names
    }
    assert kinds["Antares"] == "star"
    assert kinds["Vega"] == "star m"
    assert kinds["1"] == "wanted"


def test_the_land_and_the_landmarks_stand_on_the_horizon() -> None:
    hills = Skyline(((0.0, 5.0), (180.0, 10.0)))
    picture = drawn(made_sky(skyline=hills), Landmark("the tower", 180.0, 12.0, 0.0))
    assert picture.land
    below = [y for x, y in points(picture.landmarks) if abs(x) < 20]
    assert max(below) == 540
    assert min(below) == pytest.approx(6 * 78, abs=1)
    assert not drawn(made_sky()).land


def test_stars_to_the_third_magnitude_are_drawn_and_none_under_a_label() -> None:
    stars = made_stars(("Vega", 0.0, 80.0, 90.0), ("", 2.9, 40.0, 0.0), ("", 3.2, 40.0, 20.0))
    picture = drawn(made_sky(stars=stars))
    found = [point for dots in picture.dots for point in points(dots.d.replace("h0", ""))]
    assert len(found) == 2
    left, top, right, bottom = box_of(next(iter(picture.names)))
    assert not any(left < x < right and top < y < bottom for x, y in found)


def test_an_arch_is_a_curve_with_its_number_and_no_ring() -> None:
    arch = made_wanted("Arch", 60.0, 180.0, is_arch=True)
    picture = drawn(made_sky(wanted=(arch,)))
    assert picture.arch
    assert not picture.rings
    assert "1" in {name.words for name in picture.names}


def test_what_is_down_has_neither_ring_nor_number() -> None:
    picture = drawn(made_sky(wanted=(made_wanted("Down", -10.0, 180.0),)))
    assert not picture.rings
    assert "1" not in {name.words for name in picture.names}


def test_a_skyline_of_3600_points_takes_no_more_than_a_page_bears() -> None:
    rough = Skyline(tuple((at / 10, 5.0 + (at * 37 % 11) / 4) for at in range(3600)))
    assert len(drawn(made_sky(skyline=rough)).land) < 7_000
