"""Paths of columns: what is joined, what is not, and that they are short."""

from __future__ import annotations

import re

import pytest

from trips.charts.steps import CLOSES, OPENS, Column, bars, columns, outline


def covered(path: str) -> set[tuple[float, float]]:
    """Follow an outline, and give its corners."""
    corners = set()
    x = y = 0.0
    for letter, numbers in re.findall(r"([MhvVz])([-\d. ]*)", path):
        values = [float(number) for number in numbers.split()]
        match letter:
            case "M":
                x, y = values
            case "h":
                x += values[0]
            case "v":
                y += values[0]
            case "V":
                y = values[0]
        corners.add((x, y))
    return corners


def test_a_night_is_a_column_one_unit_wide() -> None:
    assert outline([(3, 300, 400)]) == "M3 300h1V400h-1z"


def test_neighbours_that_overlap_are_one_area_with_a_step() -> None:
    path = outline([(0, 300, 400), (1, 310, 420)])
    assert path == "M0 300h1v10h1V420h-1v-20h-1z"


def test_neighbours_at_one_level_make_no_step() -> None:
    assert outline([(0, 300, 400), (1, 300, 400), (2, 300, 400)]) == "M0 300h3V400h-3z"


@pytest.mark.parametrize(
    "apart",
    [
        [(0, 300, 400), (1, 500, 600)],  # neighbours without a common hour
        [(0, 300, 400), (2, 300, 400)],  # a night is missing between them
    ],
)
def test_what_has_no_common_side_is_not_joined(apart: list[Column]) -> None:
    assert outline(apart).count("M") == 2


def test_a_step_back_never_leaves_the_columns() -> None:
    shape = [(0, 300, 900), (1, 360, 960), (2, 360, 960)]
    corners = covered(outline(shape))
    assert {y for _, y in corners} == {300, 360, 900, 960}
    assert {x for x, _ in corners} == {0, 1, 3}


def test_two_stretches_of_one_night_are_two_areas_that_each_go_on() -> None:
    shape = [(0, 300, 400), (0, 500, 600), (1, 300, 400), (1, 500, 600)]
    assert outline(shape) == "M0 300h2V400h-2zM0 500h2V600h-2z"


def test_nothing_makes_no_path() -> None:
    assert outline([]) == bars([]) == ""


def test_columns_are_cut_to_what_the_picture_shows() -> None:
    assert columns([(0, ((0, 1440),))]) == [(0, OPENS, CLOSES)]


@pytest.mark.parametrize("outside", [(0, 200), (1300, 1440), (600, 600.2)])
def test_what_is_not_shown_makes_no_column(outside: tuple[float, float]) -> None:
    assert columns([(0, (outside,))]) == []


def test_columns_are_whole_minutes() -> None:
    assert columns([(0, ((299.6, 400.4),))]) == [(0, 300, 400)]


def test_bars_stand_on_their_minutes() -> None:
    assert bars([(0, 300, 400), (1, 350, 450)]) == "M0 300V400M1 350V450"
