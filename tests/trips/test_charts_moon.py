"""The Moon's disc: its lit part has the right area and lies on the right side."""

from __future__ import annotations

import math
import re

import pytest
from django.template import Context, Template

from trips.charts.moon import RADIUS, lit_path, moon_disc

ARC = re.compile(r"a([\d.]+) ([\d.]+) 0 0 ([01]) 0 ?(-?)11")


def outline(path: str) -> list[tuple[float, float]]:
    """Walk the two arcs of the path by the rules of SVG: half an ellipse each, pole to pole."""
    assert path.startswith("M0-5.5")
    arcs = ARC.findall(path)
    assert len(arcs) == 2
    points = []
    for across, tall, sweep, upward in arcs:
        # In a picture y grows downwards: sweep 1 turns like the hands of a clock.
        down = not upward
        side = 1 if (sweep == "1") == down else -1
        for step in range(200):
            angle = math.pi * step / 200
            x = side * float(across) * math.sin(angle)
            y = -float(tall) * math.cos(angle)
            points.append((x, y if down else -y))
    return points


def area(points: list[tuple[float, float]]) -> float:
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)) / 2


@pytest.mark.parametrize("percent", [1, 11, 25, 49, 50, 51, 75, 99, 100])
@pytest.mark.parametrize("lit_right", [True, False])
def test_the_lit_area_is_the_lit_fraction_of_the_disc(percent: int, lit_right: bool) -> None:
    lit = area(outline(lit_path(percent, lit_right)))
    # Geometry, no source needed: the terminator is a circle seen from the side.
    assert lit / (math.pi * RADIUS**2) == pytest.approx(percent / 100, abs=0.001)


def test_a_new_moon_has_no_lit_part() -> None:
    assert lit_path(0, lit_right=True) == ""
    assert "<path" not in moon_disc(0.004, waxing=True)


def test_a_full_moon_is_a_whole_disc() -> None:
    assert lit_path(100, lit_right=True) == "M0-5.5a5.5 5.5 0 0 1 0 11a5.5 5.5 0 0 1 0-11"


def test_a_half_moon_ends_at_a_straight_line() -> None:
    assert "a0 5.5" in lit_path(50, lit_right=True)


def test_a_crescent_is_hollow_and_a_gibbous_moon_is_not() -> None:
    crescent = outline(lit_path(20, lit_right=True))
    gibbous = outline(lit_path(80, lit_right=True))
    assert min(x for x, _ in crescent) >= 0
    assert min(x for x, _ in gibbous) == pytest.approx(-0.6 * RADIUS, abs=0.01)


def test_a_waxing_moon_is_lit_on_the_right_in_the_north() -> None:
    assert max(x for x, _ in outline(_path(moon_disc(0.3, waxing=True)))) == pytest.approx(RADIUS)
    assert min(x for x, _ in outline(_path(moon_disc(0.3, waxing=False)))) == pytest.approx(-RADIUS)


def test_the_south_sees_it_the_other_way_round() -> None:
    for lit in (0.1, 0.5, 0.9):
        south = moon_disc(lit, waxing=True, south=True)
        assert south == moon_disc(lit, waxing=False)
        assert south != moon_disc(lit, waxing=True)


def test_a_moon_is_drawn_in_whole_percents() -> None:
    assert moon_disc(0.112, waxing=True) == moon_disc(0.108, waxing=True)


def test_a_disc_is_silent_beside_words_and_speaks_without_them() -> None:
    assert 'aria-hidden="true"' in moon_disc(0.5, waxing=True)
    spoken = moon_disc(0.5, waxing=True, label='50 % "half" <lit>')
    assert 'role="img" aria-label="50 % &quot;half&quot; &lt;lit&gt;"' in spoken
    assert "aria-hidden" not in spoken


def test_a_template_draws_it_unescaped() -> None:
    shown = Template("{% load pictures %}{% moon_disc 0.11 True size=16 %}").render(Context())
    assert shown.startswith('<svg class="disc" width="16" height="16"')


def _path(disc: str) -> str:
    found = re.search(r'<path d="([^"]+)"', disc)
    assert found
    return found[1]
