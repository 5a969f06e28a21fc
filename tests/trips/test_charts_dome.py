"""The whole sky as a picture: where things stand on it, and what is left out."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from django.template.loader import render_to_string

from sky.dome import Standing, WantedStanding
from sky.skyline import Skyline
from tests.trips.drawing import Elements
from tests.trips.skies import DOWN, drawn, made_band, made_sky, made_stars, made_wanted
from trips.charts.dome import PAPER
from trips.charts.dome_names import MOST_NAMES

NUMBERS = re.compile(r"-?\d+")


def places(path: str) -> list[tuple[int, int]]:
    """Give the points of a path of dots."""
    found = re.findall(r"M(-?\d+) (-?\d+)h0", path)
    return [(int(x), int(y)) for x, y in found]


def points(path: str) -> list[tuple[int, int]]:
    numbers = [int(number) for number in NUMBERS.findall(path)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


# Where things stand


@pytest.mark.parametrize(
    ("altitude", "azimuth", "place"),
    [
        (90, 123, (0, 0)),
        (0, 0, (0, -900)),
        (0, 90, (-900, 0)),
        (0, 180, (0, 900)),
        (0, 270, (900, 0)),
        (60, 90, (-300, 0)),
    ],
)
def test_north_is_up_and_east_is_left(
    altitude: float, azimuth: float, place: tuple[int, int]
) -> None:
    found = PAPER.projected(np.array([(altitude, azimuth)], dtype=float))
    assert tuple(found[0].tolist()) == place


def test_stars_are_drawn_where_they_stand_the_brighter_the_wider() -> None:
    found = drawn(made_sky()).dots
    assert [places(dots.d) for dots in found] == [[(-100, 0)], [(0, -500)], [(137, 376)]]
    widths = [float(dots.width) for dots in found]
    assert widths == sorted(widths, reverse=True)


def test_a_planet_that_is_up_is_drawn_and_one_that_is_down_is_not() -> None:
    sky = made_sky()
    down = replace(sky.planets[0], standing=DOWN)
    assert places(drawn(sky).planets) == [(0, 550)]
    assert drawn(replace(sky, planets=(down,))).planets == ""


def test_the_moon_turns_its_lit_side_to_the_sun() -> None:
    """A Moon in the south, the Sun down in the west: the lit side is to the right."""
    sky = made_sky(moon=Standing(30.0, 180.0), sun=Standing(-15.0, 270.0))
    moon = drawn(sky).moon
    assert moon is not None
    assert (moon.x, moon.y) == (0, 600)
    assert abs(moon.turned) < 45
    other = drawn(replace(sky, sun=Standing(-15.0, 90.0))).moon
    assert other is not None
    assert abs(other.turned) > 135


def test_a_moon_that_is_down_is_not_drawn() -> None:
    assert drawn(made_sky()).moon is None


# What the light leaves


def test_twilight_and_moonlight_take_the_faint_stars() -> None:
    dark = made_sky()
    dusk = replace(dark, sun=Standing(-9.0, 300.0))
    moonlit = replace(dark, moon=Standing(40.0, 120.0), moon_lit=1.0)
    assert dark.faintest == 5.0
    assert dusk.faintest < moonlit.faintest < dark.faintest
    assert len(drawn(dusk).dots) == 2


def test_the_band_has_two_tones_in_the_dark_one_by_moonlight_and_none_in_twilight() -> None:
    dark = made_sky()
    moonlit = replace(dark, moon=Standing(40.0, 120.0), moon_lit=0.9)
    dusk = replace(dark, sun=Standing(-9.0, 300.0))
    assert [
        (bool(each.faint), bool(each.bright)) for each in map(drawn, (dark, moonlit, dusk))
    ] == [
        (True, True),
        (True, False),
        (False, False),
    ]


def test_twilight_glows_toward_the_sun_and_the_dark_does_not() -> None:
    assert drawn(made_sky()).glow == ""
    glow = points(drawn(made_sky(sun=Standing(-9.0, 270.0))).glow)
    assert sum(x for x, _ in glow) / len(glow) > 600  # in the west
    assert min(math.hypot(x, y) for x, y in glow) == pytest.approx(900 - 10 * 26 / 2, abs=5)


# The band


def test_the_band_is_one_patch_whose_feet_reach_below_the_horizon() -> None:
    faint = drawn(made_sky()).faint
    assert faint.count("M") == 1
    found = points(faint)
    assert max(math.hypot(x, y) for x, y in found) > PAPER.horizon
    assert (0, 180) in found  # 72° high in the south
    assert (0, 420) in found  # and 48°


def test_a_band_that_is_below_the_horizon_is_not_drawn() -> None:
    low = np.stack((np.full(37, -20.0), np.linspace(0, 360, 37)), axis=-1)
    lower = low - np.array((3.0, 0.0))
    band = replace(made_band(), faint=(low, lower), bright=(low, low), equator=low)
    assert drawn(made_sky(milky_way=band)).faint == ""


def test_a_band_that_goes_all_around_is_closed() -> None:
    ring = np.stack((np.full(37, 10.0), np.linspace(0, 360, 37)), axis=-1)
    band = replace(made_band(), faint=(ring, ring + np.array((8.0, 0.0))))
    outer, inner = drawn(made_sky(milky_way=band)).faint.removesuffix("z").split("z")
    assert {round(math.hypot(x, y), -1) for x, y in points(outer)} == {800}
    assert {round(math.hypot(x, y), -1) for x, y in points(inner)} == {720}


# The land


def test_the_land_is_filled_up_to_the_skyline() -> None:
    land = drawn(made_sky(skyline=Skyline(((0.0, 10.0), (180.0, 20.0))))).skyline
    found = points(land)
    assert (0, -800) in found
    assert (0, 700) in found


def test_a_level_horizon_has_no_land() -> None:
    assert drawn(made_sky()).land == ""


def test_a_skyline_below_the_level_is_drawn_at_the_rim() -> None:
    found = points(drawn(made_sky(skyline=Skyline(((0.0, -2.0), (90.0, 5.0))))).skyline)
    assert max(math.hypot(x, y) for x, y in found) == pytest.approx(PAPER.horizon, abs=1)


# What is wanted


def test_a_wanted_target_is_ringed_with_its_path() -> None:
    found = drawn(made_sky(wanted=(made_wanted("Core", 20.0, 180.0),)))
    assert found.rings == ((0, 700, 26),)
    assert found.paths.startswith("M")
    assert points(found.paths)[-1] == (0, 700)


def test_a_wanted_target_that_is_down_is_neither_ringed_nor_named() -> None:
    found = drawn(made_sky(wanted=(made_wanted("Core", -20.0, 180.0),)))
    assert found.rings == ()
    assert found.paths == ""
    assert "Core" not in [name.words for name in found.names]


def test_the_arch_is_the_line_along_the_band_and_has_no_ring() -> None:
    arch = made_wanted("Arch", 60.0, 180.0, is_arch=True, path=np.empty((0, 2)))
    found = drawn(made_sky(wanted=(arch,)))
    assert found.rings == ()
    assert (0, 300) in points(found.arch)
    assert drawn(made_sky()).arch == ""


# Names


def test_names_go_to_what_is_wanted_first() -> None:
    found = drawn(made_sky(wanted=(made_wanted("Core", 20.0, 180.0),))).names
    assert [(name.words, name.kind) for name in found][:3] == [
        ("Core", "wanted"),
        ("Jupiter", "body"),
        ("Milky Way", "body"),
    ]


def test_there_are_ten_names_at_most() -> None:
    stars = made_stars(*((f"S{n}", 1.0, 20.0 + 50 * (n % 2), 18.0 * n) for n in range(20)))
    found = [name for name in drawn(made_sky(stars=stars)).names if name.kind != "degrees"]
    assert len(found) == MOST_NAMES


def test_no_name_lies_over_another() -> None:
    """Twelve stars in one place: those without room have no name."""
    stars = made_stars(*((f"Star {n}", 1.0, 60.0 + n / 10, 120.0) for n in range(12)))
    found = [name for name in drawn(made_sky(stars=stars)).names if name.kind == "star"]
    assert 1 <= len(found) < 10
    assert len({(name.x, name.y, name.anchor) for name in found}) == len(found)


def test_what_is_wanted_is_named_even_a_degree_above_the_horizon() -> None:
    for azimuth in range(0, 360, 15):
        low = made_wanted("Cygnus star cloud", 1.0, azimuth, path=np.empty((0, 2)))
        assert "Cygnus star cloud" in [name.words for name in drawn(made_sky(wanted=(low,))).names]


def crowd(count: int, *, apart: float = 3.0) -> tuple[WantedStanding, ...]:
    """Give targets in a row, nearer to each other than their names are wide."""
    nothing = np.empty((0, 2))
    return tuple(
        made_wanted(f"Target {n}", 25.0, 170.0 + apart * n, path=nothing) for n in range(count)
    )


def test_targets_that_stand_close_together_are_all_named_some_at_the_end_of_a_line() -> None:
    found = drawn(made_sky(wanted=crowd(5)))
    named = [name for name in found.names if name.kind == "wanted"]
    assert sorted(name.words for name in named) == [f"Target {n}" for n in range(5)]
    led = [name for name in named if name.leader]
    assert 1 <= len(led) < 5
    assert found.leaders == "".join(name.leader for name in led)


def test_a_line_leads_from_the_ring_to_the_name() -> None:
    found = drawn(made_sky(wanted=crowd(5)))
    for name in (name for name in found.names if name.leader):
        (x1, y1), (x2, y2) = points(name.leader)
        assert min(abs(math.hypot(x1 - x, y1 - y) - r) for x, y, r in found.rings) < 2
        assert math.hypot(x2 - name.x, y2 - name.y) < 80


def test_a_target_with_room_beside_it_has_no_line() -> None:
    found = drawn(made_sky(wanted=crowd(1)))
    assert found.leaders == ""
    assert 'class="leader"' not in render_to_string("trips/_dome.html", {"dome": found})


def test_more_than_ten_targets_are_named_and_then_nothing_else() -> None:
    found = drawn(made_sky(wanted=crowd(12, apart=30.0))).names
    assert sum(name.kind == "wanted" for name in found) == 12
    assert not [name for name in found if name.kind in ("star", "body")]


def test_a_long_name_is_shortened_in_the_picture() -> None:
    for given, shown in [
        ("Lagoon Nebula, with the Trifid", "Lagoon Nebula"),
        ("Where the old road meets the new one", "Where the old road meets …"),
        ("North America Nebula", "North America Nebula"),
    ]:
        names = drawn(made_sky(wanted=(made_wanted(given, 40.0, 180.0),))).names
        assert shown in [name.words for name in names]


def test_wide_letters_are_given_more_room_than_narrow_ones() -> None:
    """A star in the west, on the right: there is room before the rim for narrow letters alone."""
    found = {}
    for name in ("iiiiiiii", "WWWWWWWW", "日本日本日本日本"):
        stars = made_stars((name, 1.0, 35.0, 270.0))
        (one,) = (one for one in drawn(made_sky(stars=stars)).names if one.kind == "star")
        found[name] = one.anchor
    assert found == {"iiiiiiii": "start", "WWWWWWWW": "end", "日本日本日本日本": "end"}


def test_a_name_rather_lies_beside_a_dashed_line_than_on_it() -> None:
    wanted = made_wanted("Core", 20.0, 180.0)
    level = np.stack((np.full(40, 20.0), np.linspace(150, 210, 40)), axis=-1)
    free, crossed = (
        drawn(made_sky(wanted=(replace(wanted, path=path),))).names[0]
        for path in (np.empty((0, 2)), level)
    )
    assert (free.anchor, free.y) == ("start", 717)
    assert crossed.anchor == "middle"


def test_the_milky_way_is_named_where_it_is_highest_and_not_in_twilight() -> None:
    (name,) = (one for one in drawn(made_sky()).names if one.words == "Milky Way")
    assert (name.x, name.y) == (0, 317)  # 60° high in the south
    dusk = drawn(made_sky(sun=Standing(-9.0, 300.0)))
    assert "Milky Way" not in [one.words for one in dusk.names]
    assert dusk.is_twilight


def test_a_wanted_arch_is_what_the_band_is_called() -> None:
    arch = made_wanted("Arch", 60.0, 180.0, is_arch=True, path=np.empty((0, 2)))
    found = {name.words: name.kind for name in drawn(made_sky(wanted=(arch,))).names}
    assert found["Arch"] == "wanted"
    assert "Milky Way" not in found


def test_the_degrees_of_the_rings_are_written_where_they_are_free() -> None:
    usual = {name.words: (name.x, name.y) for name in drawn(made_sky()).names}
    there = replace(made_sky().planets[0], standing=Standing(30.0, 118.0))
    other = {name.words: (name.x, name.y) for name in drawn(made_sky(planets=(there,))).names}
    assert math.hypot(usual["30°"][0], usual["30°"][1] - 17) == pytest.approx(600, abs=1)
    assert math.hypot(other["30°"][0], other["30°"][1] - 17) == pytest.approx(600, abs=1)
    assert usual["30°"] != other["30°"]


def test_what_the_land_hides_has_no_name() -> None:
    hidden = made_sky(skyline=Skyline(((0.0, 45.0),)))
    assert "Polaris" in [name.words for name in drawn(made_sky()).names]
    assert "Polaris" not in [name.words for name in drawn(hidden).names]


# The template


def test_the_picture_says_what_it_shows_and_names_no_colour() -> None:
    sky = made_sky(moon=Standing(30.0, 120.0), skyline=Skyline(((0.0, 10.0), (90.0, 3.0))))
    html = render_to_string("trips/_dome.html", {"dome": drawn(sky)})
    found = Elements(html)
    (picture,) = found.of("svg")
    assert picture["role"] == "img"
    assert picture["aria-labelledby"] == "dome-title dome-said"
    assert '<desc id="dome-said">It is up.</desc>' in html
    assert "style=" not in html
    assert re.search(r"(fill|stroke)=\"(?!none|url)#?\w*\"", html) is None
    assert not re.search(r"\d,\d", html)


def test_a_name_with_signs_of_markup_stays_a_name() -> None:
    wanted = made_wanted("<b>M 31</b>", 50.0, 90.0)
    html = render_to_string("trips/_dome.html", {"dome": drawn(made_sky(wanted=(wanted,)))})
    assert "<b>" not in html
    assert "&lt;b&gt;M 31" in html
