"""The strip of the horizon with a target in it: the sentence in fists, drawn."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from sky.camera.sketch import Landmark
from sky.dome import NamedStanding, Standing
from sky.finding import Counted, Finding
from sky.skyline import Skyline
from tests.trips.skies import made_sky, made_stars, made_wanted
from trips.charts.finder import ARCH_SPAN_DEGREES, SPAN_DEGREES, TALLEST, WIDTH, Finder, finder

NUMBERS = re.compile(r"-?\d+")
SCALE = WIDTH / SPAN_DEGREES  # units of a degree
TOWER = Landmark("the tower", 200.0, 6.0, 0.0)
HILLS = Skyline(tuple((float(azimuth), 3.0) for azimuth in range(0, 360, 10)))


def strip(
    altitude: float, azimuth: float, counted: Counted, *landmarks: Landmark, **sky: Any
) -> Finder:
    found = made_sky(**{"wanted": (made_wanted("Core", altitude, azimuth),)} | sky)
    return finder(Finding(found, counted, landmarks), title="Core", description="Where it is.")


def left_of_tower(altitude: float = 30.0, **sky: Any) -> Finder:
    """Give a target 20° left of the tower, as the sentence says it."""
    counted = Counted("the tower", 200.0, is_landmark=True, aside=-2.0, up=altitude / 10)
    return strip(altitude, 180.0, counted, TOWER, **sky)


def ahead(altitude: float, azimuth: float = 180.0, **sky: Any) -> Finder:
    counted = Counted("south", 180.0, is_landmark=False, aside=0.0, up=altitude / 10)
    return strip(altitude, azimuth, counted, **sky)


def dots(picture: Finder) -> list[tuple[int, int]]:
    found = re.findall(r"M(-?\d+) (-?\d+)h0", "".join(one.d for one in picture.dots))
    return [(int(x), int(y)) for x, y in found]


def strokes(path: str) -> list[list[int]]:
    return [[int(number) for number in NUMBERS.findall(part)] for part in path.split("M")[1:]]


def words(picture: Finder) -> set[str]:
    return {name.words for name in (*picture.names, *picture.below)}


# The ring and the ruler


def test_a_target_20_degrees_left_of_a_landmark_is_drawn_two_fists_left_of_it() -> None:
    picture = left_of_tower()
    ((x, _y, _radius),) = picture.rings
    pillar = strokes(picture.landmarks)[0]
    middle = (min(pillar[::2]) + max(pillar[::2])) / 2
    assert middle - x == pytest.approx(20 * SCALE, abs=2)
    assert {"2 fists", "3 up", "the tower"} <= words(picture)


def test_the_target_and_what_it_is_counted_from_stand_around_the_middle() -> None:
    ((x, _y, _radius),) = left_of_tower().rings
    assert x == pytest.approx(WIDTH / 2 - 10 * SCALE, abs=1)


def test_the_ring_stands_as_high_over_level_as_the_target() -> None:
    picture = left_of_tower(32.0)
    ((_x, y, _radius),) = picture.rings
    assert picture.sky_height - y == pytest.approx(32 * SCALE, abs=1)


def test_the_ruler_has_a_tick_each_fist_up_and_one_each_fist_aside() -> None:
    picture = left_of_tower(35.0)
    up = [one for one in strokes(picture.ruler) if len(one) == 3 and one[1] < picture.sky_height]
    assert [picture.sky_height - one[1] for one in up[1:]] == pytest.approx(
        [10 * SCALE, 20 * SCALE, 30 * SCALE], abs=1
    )
    aside = sorted({one[0] for one in strokes(picture.ruler) if one[1] > picture.sky_height})
    assert np.diff(aside) == pytest.approx([10 * SCALE, 10 * SCALE], abs=1)


def test_without_a_landmark_the_point_of_the_compass_is_named_and_nothing_counted_aside() -> None:
    picture = ahead(30.0, 184.0)
    assert {"south", "3 up"} <= words(picture)
    assert not any("fist" in word for word in words(picture))
    assert picture.landmarks == ""


def test_every_point_of_a_target_has_a_ring() -> None:
    pair = replace(
        made_wanted("Pair", 20.0, 180.0), standings=(Standing(20.0, 180.0), Standing(22.0, 184.0))
    )
    assert len(ahead(20.0, wanted=(pair,)).rings) == 2


# One scale


@pytest.mark.parametrize("altitude", [5.0, 20.0, 40.0])
def test_strips_have_one_scale(altitude: float) -> None:
    picture = ahead(altitude)
    ((_x, y, _radius),) = picture.rings
    assert picture.sky_height - y == pytest.approx(altitude * SCALE, abs=1)


def test_a_high_target_takes_more_sky_in_and_no_more_room() -> None:
    picture = ahead(80.0)
    assert picture.sky_height <= TALLEST
    assert picture.rings[0][1] > 0


def test_an_arch_shows_210_degrees_and_its_curve() -> None:
    arch = made_wanted("Arch", 60.0, 180.0, is_arch=True)
    picture = ahead(60.0, wanted=(arch,))
    ((_x, y, _radius),) = picture.rings
    assert picture.sky_height - y == pytest.approx(60 * WIDTH / ARCH_SPAN_DEGREES, abs=1)
    assert picture.arch
    assert not ahead(60.0).arch


# Around it


def test_a_strip_across_north_holds_its_land_and_stars_on_both_sides() -> None:
    stars = made_stars(("", 1.5, 20.0, 350.0), ("", 1.6, 20.0, 20.0))
    picture = ahead(30.0, 5.0, stars=stars, skyline=HILLS)
    x = [at for at, _y in dots(picture)]
    assert [at - WIDTH / 2 for at in x] == pytest.approx([-15 * SCALE, 15 * SCALE], abs=1)
    across = [point[0] for point in strokes(picture.land.replace("L", "M").replace("V", "M"))]
    assert min(across) == 0
    assert max(across) == WIDTH


def test_stars_behind_the_land_are_not_drawn_and_those_above_it_are() -> None:
    stars = made_stars(("", 1.5, 2.0, 170.0), ("", 1.6, 12.0, 170.0))
    assert len(dots(ahead(30.0, stars=stars, skyline=HILLS))) == 1
    assert len(dots(ahead(30.0, stars=stars))) == 2


def test_no_star_is_drawn_under_a_label() -> None:
    picture = ahead(30.0)
    label = next(name for name in picture.names if name.words == "3 up")
    azimuth = 180.0 + (label.x + 60 - WIDTH / 2) / SCALE
    under = made_stars(("", 1.5, (picture.sky_height - label.y + 20) / SCALE, azimuth))
    beside = made_stars(("", 1.5, 15.0, 170.0))
    assert not dots(ahead(30.0, stars=under))
    assert dots(ahead(30.0, stars=beside))


def test_in_twilight_there_is_no_milky_way_and_by_half_a_moon_only_its_shade() -> None:
    assert ahead(30.0).faint
    assert ahead(30.0).bright
    assert not ahead(30.0, sun=Standing(-8.0, 300.0)).faint
    moonlit = ahead(30.0, moon=Standing(30.0, 60.0), moon_lit=0.8)
    assert moonlit.faint
    assert not moonlit.bright


def test_a_planet_in_the_strip_is_named_unless_it_is_the_target() -> None:
    jupiter = (NamedStanding("Jupiter", Standing(30.0, 200.0)),)
    assert "Jupiter" in words(ahead(30.0, planets=jupiter))
    assert "Jupiter" not in words(ahead(30.0, 200.0, planets=jupiter))


def test_level_land_is_said_and_measured_land_drawn() -> None:
    assert "no skyline measured" in words(ahead(30.0))
    measured = ahead(30.0, skyline=HILLS)
    assert "no skyline measured" not in words(measured)
    assert measured.land


def test_a_skyline_of_3600_points_takes_no_more_than_a_page_bears() -> None:
    rough = Skyline(tuple((at / 10, 5.0 + (at * 37 % 11) / 4) for at in range(3600)))
    assert len(ahead(30.0, skyline=rough).land) < 4_500


def test_names_of_the_land_do_not_lie_over_one_another() -> None:
    names = [Landmark(f"the old chapel {number}", 190.0 + number, 5.0, 0.0) for number in range(8)]
    counted = Counted(names[0].name, 190.0, is_landmark=True, aside=-1.0, up=3.0)
    picture = strip(30.0, 180.0, counted, *names)
    rows = [name.y for name in picture.below if name.kind == "landmark"]
    assert len(rows) == len(set(rows))
    assert names[0].name in words(picture)
