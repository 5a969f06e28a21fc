"""The sketch of a frame: where things stand on it, how stars trail, what the land covers."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from django.template.loader import render_to_string

from sky.camera.lens import Lens
from sky.camera.sketch import Landmark, Sketch
from sky.dome import Standing
from sky.skyline import Skyline
from tests.trips.drawing import Elements
from tests.trips.frames import FULL_FRAME, drawn, is_filled, made_sketch
from tests.trips.skies import made_sky, made_stars, made_wanted
from trips.charts.frame_land import grid
from trips.charts.frame_paper import Paper
from trips.charts.name_places import LINE

RIDGE = Skyline(((0.0, 4.0), (80.0, 21.0), (100.0, 2.0), (179.0, 12.0), (185.0, 1.0), (300.0, 8.0)))
HOLLOW = Skyline(((0.0, -8.0), (120.0, -2.0), (240.0, 5.0)))
FISHEYE = Lens(8.0, None, "equidistant")
# Azimuth, altitude, lens: level, up, straight up, down, beside the pole of the azimuths, turned
# around, in a circle, narrow.
VIEWS = [
    (180.0, 0.0, Lens(24.0)),
    (0.0, 0.0, Lens(14.0)),
    (90.0, 33.0, Lens(14.0)),
    (45.0, 90.0, Lens(20.0)),
    (270.0, -40.0, Lens(20.0)),
    (359.0, 85.0, Lens(12.0)),
    (182.0, 9.0, Lens(400.0)),
    (180.0, 90.0, FISHEYE),
    (180.0, 5.0, FISHEYE),
    (10.0, -60.0, FISHEYE),
    (200.0, 20.0, Lens(16.0, None, "equisolid")),
]
# So many units beside a line, a place may be on either side of it.
HAIR = 6.0


def sketch_html(sketch: Sketch) -> Elements:
    return Elements(render_to_string("trips/_frame_picture.html", {"picture": drawn(sketch)}))


def test_the_picture_has_the_sides_of_the_sensor_as_it_is_held() -> None:
    lying, upright = drawn(made_sketch()), drawn(made_sketch(sensor=FULL_FRAME.turned()))
    assert (lying.width, lying.height, lying.is_upright) == (2000, 1333, False)
    assert (upright.width, upright.height, upright.is_upright) == (1333, 2000, True)


def test_a_star_in_the_middle_is_drawn_there_and_one_ten_degrees_up_above_it() -> None:
    sky = made_sky(stars=made_stars(("", 1.0, 20.0, 180.0), ("", 3.0, 30.0, 180.0)))
    first, second = drawn(made_sketch(altitude=20.0, sky=sky)).dots
    rise = 24 * np.tan(np.radians(10)) * 2000 / 36
    assert first.d == "M1000 667h0"
    assert second.d == f"M1000 {round(2000 / 3 - rise)}h0"
    assert float(first.width) > float(second.width)


# The land


@pytest.mark.parametrize("skyline", [RIDGE, HOLLOW, Skyline()])
@pytest.mark.parametrize(("azimuth", "altitude", "lens"), VIEWS)
def test_the_land_is_filled_up_to_the_skyline_and_no_further(
    azimuth: float, altitude: float, lens: Lens, skyline: Skyline
) -> None:
    sketch = made_sketch(azimuth, altitude, lens=lens, sky=made_sky(skyline=skyline))
    places = grid(sketch.frame) * 0.98
    altitudes, azimuths = sketch.frame.toward(places)
    over = altitudes - skyline.at(azimuths)
    units = Paper(sketch.frame).exact(places)
    filled = is_filled(drawn(sketch).land, units)
    hair = HAIR * sketch.frame.reach_degrees / 1000
    sure = np.abs(over) > hair
    assert sure.sum() > 60
    np.testing.assert_array_equal(filled[sure], over[sure] < 0)


def test_a_turned_camera_sees_the_level_aslant() -> None:
    sketch = made_sketch(roll_degrees=10.0)
    fill = is_filled(drawn(sketch).land, np.array([(10.0, 800.0), (1990.0, 800.0)]))
    assert fill.tolist() == [False, True], "clockwise: the level rises to the right"


# The Milky Way


@pytest.mark.parametrize(("azimuth", "altitude", "lens"), VIEWS)
def test_the_band_is_filled_between_its_edges_and_nowhere_else(
    azimuth: float, altitude: float, lens: Lens
) -> None:
    """The made band has its edges 48° and 72° high in the south and meets the horizon in the east
    and west: how steep the plane through those and a place is says where it lies."""
    sketch = made_sketch(azimuth, altitude, lens=lens)
    places = grid(sketch.frame) * 0.98
    altitudes, azimuths = (np.radians(each) for each in sketch.frame.toward(places))
    south, up = -np.cos(altitudes) * np.cos(azimuths), np.sin(altitudes)
    tilt = np.degrees(np.arctan2(up, south)) % 360
    inside = np.abs(tilt % 180 - 60)
    far_from_feet = np.hypot(south, up) > 0.3
    sure = (np.abs(inside - 12) > 1.5) & far_from_feet
    filled = is_filled(drawn(sketch).faint, Paper(sketch.frame).exact(places))
    np.testing.assert_array_equal(filled[sure], inside[sure] < 12)


def test_the_band_is_left_out_by_twilight_and_its_bright_tone_by_moonlight() -> None:
    moonlit = made_sky(moon=Standing(40.0, 90.0), moon_lit=0.9)
    dusk = made_sky(sun=Standing(-9.0, 300.0))
    pictures = [drawn(made_sketch(altitude=60.0, sky=sky)) for sky in (made_sky(), moonlit, dusk)]
    told = [(bool(one.faint), bool(one.bright)) for one in pictures]
    assert told == [(True, True), (True, False), (False, False)]


# What trails


def test_trails_are_drawn_so_many_times_as_long_that_the_longest_is_seen() -> None:
    sky = made_sky(stars=made_stars(("", 1.0, 0.0, 180.0), ("", 3.0, 0.0, 190.0)))
    short = drawn(made_sketch(sky=sky, moved_degrees=0.083))
    assert short.times == 20, "20 s on the equator: 2 units"
    assert re.match(r"M1000 667l39 0", short.trails)
    long = drawn(made_sketch(sky=sky, moved_degrees=5.0))
    assert long.times == 1, "of true length where that is seen"


def test_a_sky_that_does_not_move_has_no_trails() -> None:
    assert drawn(made_sketch()).trails == ""


# Bodies and targets


def test_the_moon_is_as_large_as_it_is_and_turns_its_light_to_the_sun() -> None:
    sky = made_sky(moon=Standing(10.0, 180.0), moon_lit=0.4, sun=Standing(-15.0, 270.0))
    near = drawn(made_sketch(altitude=10.0, lens=Lens(400.0), sky=sky)).moon
    assert near is not None
    assert float(near.radius) == pytest.approx(400 * np.radians(0.2591) * 2000 / 36, rel=1e-3)
    assert abs(near.turned) < 60, "the Sun is to the right"
    assert not near.is_enlarged
    wide = drawn(made_sketch(altitude=10.0, lens=Lens(8.0, None, "equisolid"), sky=sky)).moon
    assert wide is not None
    assert wide.is_enlarged


def test_what_is_outside_the_frame_or_below_the_horizon_is_not_drawn() -> None:
    sky = made_sky(moon=Standing(10.0, 20.0), planets=())
    assert drawn(made_sketch(sky=sky)).moon is None
    assert drawn(made_sketch(sky=made_sky(moon=Standing(-1.0, 180.0)))).moon is None
    assert drawn(made_sketch(altitude=-10.0)).planets == ""


def test_a_wanted_target_is_ringed_and_named_and_a_body_is_not_ringed() -> None:
    wanted = (made_wanted("M 31, the Andromeda Galaxy", 20.0, 180.0),)
    picture = drawn(made_sketch(altitude=25.0, sky=made_sky(wanted=wanted)))
    assert [(x, y > 667) for x, y, _radius in picture.rings] == [(1000, True)]
    kinds = {name.words: name.kind for name in picture.names}
    assert kinds["M 31"] == "wanted"
    assert kinds["Jupiter"] == "body"
    assert drawn(made_sketch(altitude=25.0)).rings == ()


def test_a_landmark_stands_from_the_land_to_its_top_where_the_frame_holds_it() -> None:
    tower = Landmark("Tower", 185.0, 9.0, 2.0)
    picture = drawn(made_sketch(landmarks=(tower,)))
    assert "Tower" in [name.words for name in picture.names]
    top = 24 * np.tan(np.radians(9)) / np.cos(np.radians(5)) * 2000 / 36
    under_and_over = np.array([(1117.0, 667 - top + 8), (1117.0, 667 - top - 8)])
    assert is_filled(picture.blocks, under_and_over).tolist() == [True, False]
    assert drawn(made_sketch(0.0, landmarks=(tower,))).blocks == ""


# Names


def test_no_name_lies_over_another() -> None:
    names = [(f"Star {number}", 1.0, 18.0 + number, 178.0 + 3 * number) for number in range(6)]
    wanted = tuple(made_wanted(f"Target {n}", 22.0 + n, 180.0 + n) for n in range(4))
    sky = made_sky(stars=made_stars(*names), wanted=wanted, moon=Standing(30.0, 182.0))
    found = drawn(made_sketch(altitude=22.0, sky=sky)).names
    assert {f"Target {n}" for n in range(4)} <= {name.words for name in found}
    for one, other in combinations(found, 2):
        assert (abs(one.y - other.y), one.x) != (0, other.x)
        if abs(one.y - other.y) < LINE - 8:
            assert abs(one.x - other.x) > LINE, (one, other)


def test_lines_of_altitude_carry_their_degrees_every_ten_and_closer_in_a_narrow_frame() -> None:
    def degrees(sketch: Sketch) -> set[str]:
        return {name.words for name in drawn(sketch).names if name.kind == "degrees"}

    assert degrees(made_sketch(altitude=20.0)) == {"10°", "20°", "30°", "40°"}
    assert degrees(made_sketch(altitude=20.0, lens=Lens(135.0))) >= {"18°", "20°", "22°"}
    assert degrees(made_sketch(altitude=-40.0)) == set()


# As it is put into the page


def test_the_picture_says_what_it_shows_and_holds_no_colours() -> None:
    html = sketch_html(made_sketch(altitude=20.0))
    (svg,) = html.of("svg")
    assert svg["role"] == "img"
    assert svg["aria-labelledby"] == "frame-title frame-said"
    for path in html.of("path"):
        assert not {"style", "fill", "stroke"} & set(path)


def test_a_fisheye_is_cut_at_its_circle() -> None:
    circle = drawn(made_sketch(altitude=90.0, lens=FISHEYE)).circle
    assert float(circle) == pytest.approx(8 * np.pi / 2 * 2000 / 36, abs=1)
    assert drawn(made_sketch()).circle == ""


def test_names_of_what_is_behind_the_land_are_left_out() -> None:
    walled = replace(made_sky(), skyline=Skyline(((0.0, 40.0),)))
    assert "Jupiter" not in [name.words for name in drawn(made_sketch(sky=walled)).names]
    assert "Jupiter" in [name.words for name in drawn(made_sketch(altitude=20.0)).names]
