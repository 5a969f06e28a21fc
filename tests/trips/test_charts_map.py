"""A map of sites and towns: true to scale, north up, names off each other."""

from __future__ import annotations

import re

import pytest

from tests.trips.labels import box_of
from trips.charts import dot_names, map
from trips.charts.map import OnMap, SiteMap, site_map

HILL, WALL = OnMap("Hill", 40.0, -1.0), OnMap("Wall", 41.0, -1.0)
CITY, VILLAGE = OnMap("City", 40.0, 0.0, 4_000_000), OnMap("Village", 40.5, -0.5, 1_000)


def drawn(sites: list[OnMap], towns: list[OnMap] | None = None) -> SiteMap:
    chart = site_map(sites, towns or [])
    assert chart is not None
    return chart


def at(chart: SiteMap, name: str) -> tuple[float, float]:
    (mark,) = (one for one in (*chart.sites, *chart.towns) if one.name == name)
    return float(mark.x), float(mark.y)


def km_of_scale(chart: SiteMap) -> tuple[float, float]:
    """Give the length of the scale in pixels, and what it stands for."""
    long = re.search(r"v6h([\d.]+)v-6", chart.scale)
    assert long is not None
    return float(long[1]), float(chart.scale_words.split()[0])


def test_without_a_site_there_is_no_map() -> None:
    assert site_map([], [CITY]) is None


def test_north_is_up_and_east_to_the_right() -> None:
    chart = drawn([HILL, WALL], [CITY])
    assert at(chart, "Wall")[1] < at(chart, "Hill")[1]
    assert at(chart, "City")[0] > at(chart, "Hill")[0]
    assert at(chart, "City")[1] == at(chart, "Hill")[1]


def test_both_ways_have_the_scale_that_is_drawn() -> None:
    chart = drawn([HILL, WALL], [CITY])
    pixels, km = km_of_scale(chart)
    north = at(chart, "Hill")[1] - at(chart, "Wall")[1]
    east = at(chart, "City")[0] - at(chart, "Hill")[0]
    # A degree along the meridian and along the parallel of 40.5°.
    assert north * km / pixels == pytest.approx(111.2, rel=0.01)
    assert east * km / pixels == pytest.approx(111.32 * 0.7604, rel=0.01)


@pytest.mark.parametrize("latitude", [-78.0, 0.0, 40.0, 89.0])
@pytest.mark.parametrize("spread", [0.0, 0.001, 1.0, 8.0])
def test_everything_lies_inside_the_sheet(latitude: float, spread: float) -> None:
    chart = drawn([OnMap("A", latitude, 0.0), OnMap("B", latitude - spread, spread)], [])
    for mark in chart.sites:
        assert chart.left < float(mark.x) < chart.right
        assert chart.top < float(mark.y) < chart.bottom
    assert map.LEAST_HEIGHT <= chart.bottom - chart.top <= map.MOST_HEIGHT


def test_squares_grow_by_people_and_stay_within_bounds() -> None:
    sides = {mark.name: float(mark.side) for mark in drawn([HILL], [CITY, VILLAGE]).towns}
    assert sides == {"City": 24.0, "Village": 4.0}
    (huge,) = drawn([HILL], [OnMap("Huge", 40.2, -1.0, 30_000_000)]).towns
    assert float(huge.side) == map.MOST_SIDE


def test_lines_are_named_by_their_degrees() -> None:
    chart = drawn([HILL, WALL], [CITY])
    assert "0°" in [line.words for line in chart.across]
    assert "1° W" in [line.words for line in chart.across]
    assert "40.5° N" in [line.words for line in chart.up]
    assert 2 <= len(chart.up) <= map.MOST_LINES + 1


def test_beyond_the_date_line_longitudes_turn_back() -> None:
    chart = drawn([OnMap("A", -17.0, 179.0), OnMap("B", -17.0, 181.0)])
    words = [line.words for line in chart.across]
    assert "179° E" in words
    assert "179° W" in words
    assert at(chart, "A")[0] < at(chart, "B")[0]


def test_names_do_not_lie_on_each_other_and_sites_come_first() -> None:
    crowd = [OnMap(f"Site number {n}", 40 + n % 7 / 50, n % 5 / 50) for n in range(30)]
    chart = drawn(crowd, [OnMap("Town", 40.05, 0.03, 50_000)])
    boxes = [box_of(mark.label) for mark in (*chart.sites, *chart.towns) if mark.label]
    assert len(boxes) > 5
    for n, one in enumerate(boxes):
        assert not any(dot_names.touch(one, other) for other in boxes[n + 1 :])
    assert chart.unlabelled == sum(mark.label is None for mark in chart.sites) > 0
