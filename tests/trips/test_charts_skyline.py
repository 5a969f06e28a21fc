"""The skyline of a spot as a picture: the land, landmarks on it, tracks and their names over it."""

from __future__ import annotations

import re
from itertools import pairwise

import numpy as np
import pytest

from sky.skyline import LEVEL, Skyline, skyline_of
from trips.charts.panorama import Panorama, drawn_line
from trips.charts.skyline import (
    LONGEST_NAME,
    LYING_WIDTH,
    MOST_ROWS,
    Panel,
    Path,
    Seen,
    SkylinePicture,
    skyline_picture,
)

COMPASS = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")
HILLS = skyline_of([(0, 3), (90, 10), (180, 1), (270, 20)])
# Rises in the east, is highest in the south, sets in the west.
BOW = Path("Bow", [(90.0 + n, 40 * float(np.sin(np.radians(n)))) for n in range(181)])


def drawn(
    skyline: Skyline = HILLS,
    *,
    landmarks: list[Seen] | None = None,
    paths: list[Path] | None = None,
    south: bool = False,
    note: str = "",
) -> SkylinePicture:
    return skyline_picture(
        skyline, landmarks=landmarks or [], paths=paths or [], compass=COMPASS, south=south,
        title="The skyline", description="Hills.", note=note,
    )  # fmt: skip


def lying(found: SkylinePicture) -> Panel:
    (panel,) = found.lying.panels
    return panel


def numbers(path: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", path)]


def names(panel: Panel, kind: str) -> list[str]:
    return [text.words for text in (*panel.around, *panel.inside) if text.kind == kind]


# A plan of a stretch of the horizon


@pytest.mark.parametrize(("azimuth", "x"), [(0, 0), (90, 90), (359.9, 359.9)])
def test_a_round_is_cut_where_it_begins(azimuth: float, x: float) -> None:
    assert Panorama(0, 360, 0, 90, 360, 90).x(azimuth) == pytest.approx(x)


def test_what_stands_outside_a_half_lies_beyond_the_nearer_edge() -> None:
    half = Panorama(90, 180, 0, 90, 180, 90)
    assert half.x(80) == pytest.approx(-10)
    assert half.x(280) == pytest.approx(190)


def test_a_path_across_the_cut_goes_on_beyond_both_edges() -> None:
    plan = Panorama(0, 360, 0, 90, 360, 90)
    first, second = plan.path([(350, 10), (10, 10)])
    assert first == [(350, 80), (370, 80)]
    assert second == [(-10, 80), (10, 80)]


def test_a_path_that_is_nowhere_in_the_stretch_is_not_drawn() -> None:
    assert Panorama(90, 180, 0, 90, 180, 90).path([(0, 10), (5, 20)]) == []


def test_a_path_of_many_points_is_drawn_with_few_and_stays_where_it_is() -> None:
    plan = Panorama(0, 360, 0, 90, 1080, 280)
    fine = [(30 + n / 3, 80 * float(np.sin(np.radians(n / 5)))) for n in range(901)]
    (piece,) = plan.path(fine)
    assert len(piece) < 80
    places, heights = zip(*piece, strict=True)
    for azimuth, altitude in fine:
        drawn_at = np.interp(plan.x(azimuth), places, heights)
        assert drawn_at == pytest.approx(plan.y(altitude), abs=0.5)


def test_a_corner_of_a_path_is_kept() -> None:
    plan = Panorama(0, 360, 0, 90, 360, 90)
    tent = [(100.0 + n, 40.0 - abs(n - 33)) for n in range(67)]
    assert [one for one in plan.path(tent)[0] if one[1] == 50] == [(133, 50)]


def test_a_land_of_many_points_keeps_its_highest_and_its_lowest() -> None:
    rough = skyline_of([(n / 10, 30.0 if n == 1234 else (n % 7)) for n in range(3600)])
    land = Panorama(0, 360, 0, 90, 360, 90).land(rough)
    assert len(land) <= 4 * 361
    assert min(y for _x, y in land) == 60
    assert all(before[0] <= after[0] for before, after in pairwise(land))


def test_numbers_of_a_path_have_one_decimal_and_a_point() -> None:
    assert drawn_line([(0.04, 1.26), (1000.0, 2.0)]) == "M0 1.3L1000 2"


# The land


def test_the_land_is_as_high_as_it_was_measured() -> None:
    edge = dict(numbers(lying(drawn()).edge))
    heights = [edge[LYING_WIDTH * azimuth / 360] for azimuth in (90, 180, 270)]
    assert sorted(heights) == [heights[2], heights[0], heights[1]]  # 20°, 10°, 1°, from the top


def test_north_is_the_middle_south_of_the_equator() -> None:
    compass = [text.words for text in lying(drawn(south=True)).around if text.words in COMPASS]
    assert (compass[0], compass[4], compass[-1]) == ("south", "north", "south")


def test_a_narrow_screen_sees_first_what_is_looked_at_first() -> None:
    first, second = drawn().standing.panels
    assert (first.heading, second.heading) == ("looking south", "looking north")
    first, second = drawn(south=True).standing.panels
    assert (first.heading, second.heading) == ("looking north", "looking south")


def test_a_level_horizon_says_so_in_the_picture_and_a_measured_one_does_not() -> None:
    assert drawn(LEVEL, note="not measured").note == "not measured"
    assert drawn(note="not measured").note == ""


@pytest.mark.parametrize("skyline", [LEVEL, HILLS, skyline_of([(0, 90), (180, -90)])])
def test_land_and_tracks_have_room(skyline: Skyline) -> None:
    panel = lying(drawn(skyline, paths=[BOW]))
    places = numbers(panel.edge) + [one for path in panel.paths for one in numbers(path.d)]
    assert all(0 <= y <= panel.height for _x, y in numbers(panel.edge))
    assert min(y for _x, y in places) >= 0


# Landmarks


def a_landmark(azimuth: float, name: str = "Tower", top: float = 8.0) -> Seen:
    return Seen(name, azimuth, top, 1.0)


def test_a_landmark_is_named_above_its_direction() -> None:
    (text,) = (t for t in lying(drawn(landmarks=[a_landmark(180)])).around if t.words == "Tower")
    assert text.x - lying(drawn()).x == pytest.approx(LYING_WIDTH / 2, abs=1)


def test_neighbours_are_named_in_rows_of_their_own() -> None:
    panel = lying(drawn(landmarks=[a_landmark(180, "Tower"), a_landmark(181, "Chapel")]))
    places = {text.words: text.y for text in panel.around if text.words in ("Tower", "Chapel")}
    assert places["Tower"] != places["Chapel"]


def test_of_a_crowd_only_those_are_named_that_there_is_room_for() -> None:
    crowd = [a_landmark(180 + n / 10, f"Landmark {n}") for n in range(40)]
    panel = lying(drawn(landmarks=crowd))
    assert len([text for text in panel.around if text.words.startswith("Landmark")]) <= MOST_ROWS
    assert panel.blocks.count("z") == 40  # and all are drawn


def test_a_name_that_is_too_long_is_shortened() -> None:
    panel = lying(drawn(landmarks=[a_landmark(180, "x" * 120)]))
    (name,) = (text.words for text in panel.around if text.words.startswith("x"))
    assert name == "x" * (LONGEST_NAME - 1) + "…"


# Tracks


def test_what_was_asked_for_is_drawn_last_and_as_such() -> None:
    asked = Path("Asked", BOW.points, is_asked=True)
    panel = lying(drawn(paths=[asked, BOW]))
    assert [path.kind for path in panel.paths] == ["other", "asked"]
    assert names(panel, "t-asked") == ["Asked"]


def test_a_track_near_the_top_is_named_below_itself() -> None:
    high = Path("High", [(170.0, 85.0), (180.0, 88.0), (190.0, 85.0)])
    panel = lying(drawn(paths=[high]))
    (name,) = (text for text in panel.inside if text.words == "High")
    top = min(y for path in panel.paths for _x, y in numbers(path.d))
    assert name.y > top + 12


def test_full_hours_are_marked_above_the_land_and_not_behind_it() -> None:
    path = Path("Bow", BOW.points, hours=[(180.0, 40.0, "23"), (91.0, 0.7, "20")])
    panel = lying(drawn(paths=[path]))
    assert panel.dots.count("h0") == 1
    assert names(panel, "t-hour") == ["23"]


def test_words_in_the_plot_touch_neither_each_other_nor_other_dots() -> None:
    crowd = [
        Path(f"Track {n}", [(x, y + n) for x, y in BOW.points],
             hours=[(x, y + n, "23") for x, y in BOW.points[20::8]])
        for n in range(4)
    ]  # fmt: skip
    panel = lying(drawn(paths=crowd))
    dots = [(float(x), float(y)) for x, y in re.findall(r"M([\d.]+) ([\d.]+)h0", panel.dots)]
    hours = [text for text in panel.inside if text.kind == "t-hour"]
    assert hours
    for text in hours:
        assert not [(x, y) for x, y in dots if abs(x - text.x) < 7 and text.y - 12 < y < text.y]
