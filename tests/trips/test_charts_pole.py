"""The pole star on a clock's face: where it stands and which way it goes."""

from __future__ import annotations

import re

import pytest

from trips.charts.pole import RING, PolePicture, pole_picture


def drawn(hours: float, *, clockwise: bool = False) -> PolePicture:
    return pole_picture("Polaris", hours, clockwise=clockwise, title="t", description="d")


def tip(picture: PolePicture) -> tuple[int, int]:
    """Give where the arrow ends."""
    x, y = re.findall(r"L(-?\d+) (-?\d+)", picture.way)[0]
    return int(x), int(y)


@pytest.mark.parametrize(
    ("hours", "place"),
    [(0, (0, -RING)), (3, (RING, 0)), (6, (0, RING)), (9, (-RING, 0)), (12, (0, -RING))],
)
def test_twelve_is_straight_above_and_three_to_the_right(
    hours: float, place: tuple[int, int]
) -> None:
    assert (drawn(hours).x, drawn(hours).y) == place


def test_the_arrow_goes_against_the_clock_or_with_it() -> None:
    assert tip(drawn(0))[0] < 0
    assert tip(drawn(0, clockwise=True))[0] > 0


def test_names_stand_on_either_side_of_the_middle() -> None:
    assert drawn(0).name_y < drawn(0).y < 0 < drawn(0).pole_y
    assert drawn(6).name_y > drawn(6).y > 0 > drawn(6).pole_y
