"""The night of a brief, to scale: its bands, hours, and the windows below them."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from tests.trips.drawing import made_night
from trips.charts.brief_night import WIDTH, NightStrip, Window, night_strip
from trips.charts.course import Course, Mark

NUMBERS = re.compile(r"-?\d+")
# From 18:00 to 06:00: a hundred units are an hour.
SHOWN = (360.0, 1080.0)


def course(**bands: Any) -> Course:
    hours = tuple(
        Mark(60.0 * hour, f"{(12 + hour) % 24:02d}:00", "", (12 + hour) % 24) for hour in range(25)
    )
    return Course(
        minutes=1440.0, bands=made_night(**bands), moonless=(), dusks=(), dawns=(), darks=(),
        moonrises=(), moonsets=(), hours=hours, change=None,
    )  # fmt: skip


def drawn(*windows: Window, shown: tuple[float, float] = SHOWN, **bands: Any) -> NightStrip:
    return night_strip(
        course(**bands), windows, shown=shown, noon=1_000_000.0, title="Night", description="Dark."
    )


def bars(picture: NightStrip) -> list[tuple[int, int, int]]:
    """Give left, right and upper edge of each bar."""
    parts = (NUMBERS.findall(part) for part in picture.windows.split("M")[1:])
    return [(int(left), int(right), int(top)) for left, top, right, *_rest in parts]


def test_bands_and_windows_have_one_scale() -> None:
    picture = drawn(Window(1, 720.0, 840.0))
    dark = next(band.d for band in picture.bands if band.name == "b-dark")
    assert NUMBERS.findall(dark)[:3] == ["250", "0", "1100"]  # 20:30 to 05:00
    ((left, right, _top),) = bars(picture)
    assert (left, right) == pytest.approx((600, 800), abs=3)  # midnight to 02:00


def test_windows_that_touch_share_a_row_and_those_that_overlap_do_not() -> None:
    touching = bars(drawn(Window(1, 600.0, 700.0), Window(2, 700.0, 800.0)))
    assert touching[0][2] == touching[1][2]
    assert touching[0][1] < touching[1][0]
    overlapping = bars(drawn(Window(1, 600.0, 720.0), Window(2, 700.0, 800.0)))
    assert overlapping[0][2] != overlapping[1][2]


def test_a_window_is_cut_at_the_strips_ends_and_one_outside_left_out() -> None:
    ((left, _right, _top),) = bars(drawn(Window(1, 100.0, 480.0), Window(2, 1100.0, 1200.0)))
    assert left == pytest.approx(0, abs=3)


def test_a_window_of_a_minute_is_seen() -> None:
    ((left, right, _top),) = bars(drawn(Window(1, 1079.5, 1080.0)))
    assert right - left >= 8
    assert right <= WIDTH


@pytest.mark.parametrize(
    ("shown", "hours"),
    [
        ((360.0, 1080.0), ["18:00", "21:00", "00:00", "03:00", "06:00"]),
        ((540.0, 780.0), ["21:00", "22:00", "23:00", "00:00", "01:00"]),
        ((0.0, 1440.0), ["12:00", "18:00", "00:00", "06:00", "12:00"]),
    ],
)
def test_as_many_hours_are_written_as_have_room(
    shown: tuple[float, float], hours: list[str]
) -> None:
    found = drawn(shown=shown)
    assert [text.words for text in found.texts if text.kind == "hour"] == hours


def test_a_page_can_find_its_own_minute_on_the_strip() -> None:
    picture = drawn()
    assert (picture.starts, picture.ends) == (1_000_000 + 360 * 60, 1_000_000 + 1080 * 60)


def test_moonlight_lies_over_the_bands_where_the_moon_is_up() -> None:
    assert drawn(veil=((400.0, 600.0),), lit=0.5).veil
    assert not drawn().veil


def test_a_night_without_windows_keeps_no_room_for_them() -> None:
    assert drawn().height < drawn(Window(1, 600.0, 700.0)).height


def test_a_polar_day_is_one_band_of_light() -> None:
    nothing: Any = dict.fromkeys(("civil", "nautical", "astronomical", "dark"), ())
    light = replace(course(**nothing))
    picture = night_strip(light, [], shown=SHOWN, noon=0.0, title="Day", description="Light.")
    assert picture.bands == ()
    assert picture.ground
