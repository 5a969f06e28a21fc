"""The sky's brightness drawn: the lower the darker, cut where nothing is, names clear of it all."""

from __future__ import annotations

import math
import re
from datetime import date
from itertools import pairwise

import pytest

from trips.almanac.nights import compute_nights
from trips.charts.brightness import BRIGHTEST, LEFT, MAG_PX, TOP, Drawn, Line, brightness_chart
from trips.charts.brightness_names import NamedLine, placed_names
from trips.charts.course import Course, course_of
from trips.charts.panorama import Point
from trips.charts.picture import width_of
from trips.models import Site

TERUEL = Site(latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
POLAR = Site(latitude=78.2, longitude=15.6, elevation_m=0, zone="Arctic/Longyearbyen")
JULY, HALF_MOON = date(2027, 7, 3), date(2027, 7, 13)
NOTHING = math.nan


def course(site: Site = TERUEL, evening: date = JULY) -> Course:
    (row,) = compute_nights(site, evening, evening)
    return course_of(row, site.zone, dark_level=-18)


def flat(mag: float, *, name: str = "overhead", kind: str = "overhead", **fields: object) -> Line:
    points = [(minute, mag) for minute in range(580, 1120, 5)]
    return Line(name, kind, points, **fields)  # type: ignore[arg-type]


def drawn(*lines: Line, width: int = 1152, at: Course | None = None) -> Drawn:
    return brightness_chart(at or course(), lines, (), width=width)


def places(d: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", d)]


def test_the_darker_the_lower_on_a_scale_that_is_always_the_same() -> None:
    (shape,) = drawn(flat(21.5)).lines
    assert {y for _, y in places(shape.d)} == {(21.5 - BRIGHTEST) * MAG_PX}
    assert [text.words for text in drawn(flat(19.0)).texts if "t-end" in text.kind] == [
        text.words for text in drawn(flat(21.5)).texts if "t-end" in text.kind
    ]


def test_a_line_is_thick_where_its_target_stands_right() -> None:
    shapes = drawn(flat(21.0, name="Core", kind="asked", stands=((700.0, 800.0),))).lines
    thin, thick = shapes
    assert (thin.name, thick.name) == ("asked", "asked stands")
    assert places(thick.d)[0][0] > places(thin.d)[0][0]
    assert places(thick.d)[-1][0] < places(thin.d)[-1][0]


def test_of_other_targets_only_that_part_is_drawn() -> None:
    shapes = drawn(flat(21.0, name="M 31", kind="other", stands=((700.0, 800.0),))).lines
    assert [shape.name for shape in shapes] == ["other stands"]
    assert drawn(flat(21.0, name="M 31", kind="other")).lines == ()


def test_a_stretch_between_two_points_is_cut_at_its_ends() -> None:
    line = Line("Core", "other", [(700.0, 20.0), (720.0, 22.0)], ((705.0, 710.0),))
    (shape,) = drawn(line).lines
    top, bottom = (y / MAG_PX + BRIGHTEST for _, y in places(shape.d))
    assert (top, bottom) == pytest.approx((20.5, 21.0), abs=0.01)


def test_where_nothing_is_the_line_is_broken() -> None:
    points = [(700.0, 21.0), (705.0, 21.1), (710.0, NOTHING), (715.0, 21.1), (720.0, 21.0)]
    (shape,) = drawn(Line("overhead", "overhead", points)).lines
    assert shape.d.count("M") == 2
    assert "nan" not in shape.d


def test_what_is_asked_for_is_drawn_last() -> None:
    shapes = drawn(flat(21.0, name="Core", kind="asked"), flat(21.5)).lines
    assert [shape.name for shape in shapes] == ["overhead", "asked"]


def test_the_strip_below_has_the_bands_of_the_night_from_sunset_to_sunrise() -> None:
    chart = drawn(flat(21.0), at=course(evening=HALF_MOON))
    assert [band.name for band in chart.bands] == [
        "b-civil", "b-nautical", "b-astronomical", "b-dark",
    ]  # fmt: skip
    assert chart.bands[0].d == chart.ground
    assert chart.veil
    assert chart.strip_veil
    assert not drawn(flat(21.0)).veil


def test_usable_dark_is_a_bar_as_long_as_it_lasts() -> None:
    chart = brightness_chart(course(), [flat(21.0)], ((700.0, 1900.0),), width=1152)
    start, end = re.findall(r"[MH]([\d.]+)", chart.usable)[:2]
    assert float(start) > LEFT
    assert float(end) == chart.width
    assert not drawn(flat(21.0)).usable


@pytest.mark.parametrize("width", [1152, 360])
@pytest.mark.parametrize("site", [TERUEL, POLAR])
def test_hours_do_not_touch_and_stay_in_the_picture(width: int, site: Site) -> None:
    at = course(site, date(2027, 12, 10))
    texts = drawn(flat(21.0), width=width, at=at).texts
    hours = [text.x for text in texts if ":" in text.words]
    assert len(hours) >= 4
    assert min(b - a for a, b in pairwise(hours)) >= 36
    assert hours[-1] + 18 <= width


# Names


def named(*heights: float, must: bool = False) -> list[NamedLine]:
    return [
        NamedLine(f"line {number}", [level(y)], [level(y)], must=must)
        for number, y in enumerate(heights)
    ]


def level(y: float) -> list[Point]:
    return [(float(x), y) for x in range(0, 600, 10)]


def boxes(lines: list[NamedLine]) -> list[tuple[float, float, float, float]]:
    found = []
    for number, x, y in placed_names(lines, 600, 240):
        half = width_of(lines[number].name) / 2
        found.append((x - half, y - 10, x + half, y + 3))
    return found


def test_names_touch_neither_each_other_nor_a_line() -> None:
    lines = named(100, 104, 108, 150, 154)
    found = boxes(lines)
    assert len(found) >= 3
    for number, (left, top, right, bottom) in enumerate(found):
        for here, high, there, low in found[number + 1 :]:
            assert right <= here or there <= left or bottom <= high or low <= top
        assert not any(top <= line.at[0][0][1] <= bottom for line in lines)


def test_a_name_without_room_is_left_out_unless_it_must_stand() -> None:
    crowd = [float(y) for y in range(0, 240, 8)]
    assert boxes(named(*crowd)) == []
    assert boxes(named(*crowd, must=True))


def test_names_stand_in_the_picture() -> None:
    chart = drawn(flat(17.05, name="Core", kind="asked"), flat(22.45))
    for text in chart.texts:
        if "n-" in text.kind:
            assert TOP < text.y < TOP + chart.plot_height
