"""The light of towns along a skyline: in steps over the land, in every direction once."""

from __future__ import annotations

import re

import pytest

from sky.skyline import LEVEL, skyline_of
from trips.charts.glow import STEPS, Sector, glow_layers, glow_top, steps_of
from trips.charts.panorama import Panorama

ROUND = Panorama(0, 360, 0, 60, 360, 60)  # a pixel a degree
SOUTH = Panorama(90, 180, 0, 60, 180, 60)


def blocks(layer: str) -> list[tuple[int, float, int]]:
    """Give left edge, top and right edge of each."""
    found = re.findall(r"M(-?\d+) 60V(-?[\d.]+)H(-?\d+)V60z", layer)
    return [(int(left), float(top), int(right)) for left, top, right in found]


@pytest.mark.parametrize(
    ("share", "steps"), [(0.0, 0), (0.0029, 0), (0.003, 1), (0.05, 3), (0.3, 5), (40.0, 5)]
)
def test_three_times_the_light_is_a_step_more(share: float, steps: int) -> None:
    assert steps_of(share) == steps


def test_steps_lie_one_over_another_and_all_on_the_ground() -> None:
    layers = glow_layers(ROUND, LEVEL, [Sector(90, 10, 3)])
    assert [blocks(layer) for layer in layers] == [
        [(85, 48, 95)], [(85, 52, 95)], [(85, 56, 95)]
    ]  # fmt: skip


def test_light_stands_over_the_highest_land_of_its_sector() -> None:
    hills = skyline_of([(0, 0), (88, 12), (92, 0), (180, 0)])
    assert glow_top(hills, Sector(90, 10, 2)) == pytest.approx(12 + 8, abs=0.5)
    assert glow_top(LEVEL, Sector(90, 10, 2)) == 8


def test_light_over_a_valley_stands_on_the_level() -> None:
    assert glow_top(skyline_of([(0, -6), (180, -6)]), Sector(90, 10, 1)) == 4


def test_a_sector_across_the_cut_is_drawn_on_both_sides() -> None:
    (layer,) = glow_layers(ROUND, LEVEL, [Sector(0, 10, 1)])
    assert blocks(layer) == [(-5, 56, 5), (355, 56, 365)]


def test_what_lies_behind_is_not_drawn_in_the_other_half() -> None:
    assert glow_layers(SOUTH, LEVEL, [Sector(0, 10, 5)]) == []
    assert len(glow_layers(SOUTH, LEVEL, [Sector(180, 10, 5)])) == len(STEPS)


def test_without_light_nothing_is_drawn() -> None:
    assert glow_layers(ROUND, LEVEL, [Sector(n, 10, 0) for n in range(0, 360, 10)]) == []
