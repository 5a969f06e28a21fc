"""Darkness against drive: dots in their places, names where there is room."""

from __future__ import annotations

import pytest

from tests.trips.labels import box_of
from trips.charts import dot_names, dots
from trips.charts.dots import Dot, DotPlot, Drawn, dot_plot

BOUNDS = (dots.LEFT, dots.RIGHT, dots.TOP, dots.BOTTOM)


def plotted(*found: Dot) -> DotPlot:
    plot = dot_plot(found)
    assert plot is not None
    return plot


def where(plot: DotPlot) -> dict[str, tuple[float, float]]:
    return {drawn.dot.name: (float(drawn.x), float(drawn.y)) for drawn in plot.dots}


def test_without_dots_there_is_no_plot() -> None:
    assert dot_plot([]) is None


def test_farther_is_to_the_right_and_darker_to_the_top() -> None:
    at = where(plotted(Dot("A", 30, 20.5, True), Dot("B", 90, 21.6, True)))
    assert at["A"][0] < at["B"][0]
    assert at["A"][1] > at["B"][1]


@pytest.mark.parametrize("minutes", [0, 1, 30, 119, 120, 600, 6000])
@pytest.mark.parametrize("darkness", [14, 20.97, 21, 21.5, 22.5])
def test_every_dot_lies_inside_the_plot(minutes: float, darkness: float) -> None:
    x, y = where(plotted(Dot("A", minutes, darkness, True)))["A"]
    left, right, top, bottom = BOUNDS
    assert left <= x < right
    assert top < y < bottom


@pytest.mark.parametrize("minutes", [0, 30, 119, 600, 6000])
def test_ticks_are_few_and_begin_at_no_drive(minutes: float) -> None:
    ticks = plotted(Dot("A", minutes, 21, True)).across
    assert ticks[0].minutes == 0
    assert 2 <= len(ticks) <= dots.MOST_TICKS + 1


def test_names_do_not_lie_on_each_other() -> None:
    crowd = [Dot(f"Name {n}", 60 + n % 3, 21 + n / 100, n < 4) for n in range(12)]
    placed = [boxed(drawn) for drawn in plotted(*crowd).dots if drawn.label]
    assert len(placed) > 1
    for at, one in enumerate(placed):
        assert not any(dot_names.touch(one, other) for other in placed[at + 1 :])


def test_a_name_without_room_is_counted() -> None:
    same = [Dot("The same place", 60, 21, True) for _ in range(12)]
    assert plotted(*same).unlabelled > 0


def test_among_many_only_those_worth_their_drive_are_named() -> None:
    many = [Dot(f"Site {n}", n, 20 + n / 200, n == 7) for n in range(200)]
    assert [drawn.dot.name for drawn in plotted(*many).dots if drawn.label] == ["Site 7"]


def test_a_long_name_is_shortened() -> None:
    (drawn,) = plotted(Dot("Ж" * 120, 10, 21, True)).dots
    assert drawn.label is not None
    assert drawn.label.text == "Ж" * 25 + "…"


def boxed(drawn: Drawn) -> dot_names.Box:
    assert drawn.label is not None
    return box_of(drawn.label)
