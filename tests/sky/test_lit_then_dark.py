"""Which lit and which dark span of a night make a pair, and which walls can be asked about.

Times of the spans are invented; against Astropy: tests/against/test_lit_then_dark.py.
"""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from numpy.typing import NDArray

from sky.errors import SkyError
from sky.lit_then_dark import LitAndDark, SideLight, lit_and_dark, side_lit_spans
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, Skyline

Floats = NDArray[np.float64]

PLACE = Place(40.4, -1.1, 1600, "Europe/Madrid")
TABLE = compute_season([PLACE], date(2027, 7, 1), date(2027, 7, 31))
HOUR = 3600.0
WALL = 290.0


def spans(*hours: tuple[float, float]) -> Floats:
    """Give spans by hours after the first noon."""
    found: Floats = np.array(hours).reshape(-1, 2) * HOUR + TABLE.noons[0, 0]
    return found


def pairs(
    lit: list[tuple[float, float]], dark: list[tuple[float, float]]
) -> list[tuple[int, tuple[float, float], tuple[float, float]]]:
    def hours(span: tuple[float, float]) -> tuple[float, float]:
        start, end = ((at - TABLE.noons[0, 0]) / HOUR for at in span)
        return round(float(start), 3), round(float(end), 3)

    found = lit_and_dark(TABLE, 0, PLACE, WALL, lit=spans(*lit), dark=spans(*dark))
    return [(one.night, hours(one.lit), hours(one.dark)) for one in found]


def lit_by(wall: float, **options: tuple[float, float]) -> Floats:
    return side_lit_spans(TABLE, 0, PLACE, LEVEL, wall, light=SideLight(**options))


def test_a_lit_span_and_a_dark_one_after_it_make_a_night() -> None:
    assert pairs([(8, 10)], [(11, 13)]) == [(0, (8, 10), (11, 13))]


def test_so_do_they_the_other_way_round() -> None:
    assert pairs([(15, 16)], [(11, 13)]) == [(0, (15, 16), (11, 13))]


def test_the_middle_of_a_night_may_have_both_orders() -> None:
    assert pairs([(8, 9), (15, 16)], [(11, 13)]) == [
        (0, (8, 9), (11, 13)),
        (0, (15, 16), (11, 13)),
    ]


def test_spans_of_two_nights_make_none() -> None:
    assert pairs([(8, 10)], [(35, 37)]) == []


@pytest.mark.parametrize(
    ("lit", "dark", "count"),
    [
        ((8, 8.26), (11, 12.01), 1),
        ((8, 8.24), (11, 12.01), 0),  # under a quarter of an hour
        ((8, 8.26), (11, 11.99), 0),  # under an hour
    ],
)
def test_short_spans_do_not_count(
    lit: tuple[float, float], dark: tuple[float, float], count: int
) -> None:
    assert len(pairs([lit], [dark])) == count


def test_the_longest_dark_counts_with_the_lit_span_next_to_it() -> None:
    found = pairs([(6, 7), (7.5, 8)], [(8, 9.5), (10, 12), (13, 15)])
    assert found == [(0, (7.5, 8), (10, 12))]


def test_no_spans_make_no_night() -> None:
    assert pairs([], [(11, 13)]) == []
    assert pairs([(8, 10)], []) == []


def test_the_other_end_of_a_wall_is_lit_from_the_other_side() -> None:
    """A wall that looks a right angle further round has the same Moon at the other hand."""
    lit = spans((9.5, 10.5))
    one, other = (
        lit_and_dark(TABLE, 0, PLACE, wall, lit=lit, dark=spans((11, 13)))[0]
        for wall in (WALL, WALL - 270)
    )
    assert one.is_from_left != other.is_from_left
    assert one.angle_degrees + other.angle_degrees == pytest.approx(90.0)


def test_a_wall_that_looks_north_by_two_names_is_one() -> None:
    assert np.allclose(lit_by(0.0), lit_by(360.0), atol=0.1)


def test_land_takes_its_share_of_the_light() -> None:
    high = Skyline(((0.0, 20.0),))
    cut = side_lit_spans(TABLE, 0, PLACE, high, WALL)
    assert 0 < np.diff(cut).sum() < np.diff(lit_by(WALL)).sum()


@pytest.mark.parametrize(
    "narrower",
    [{"angles": (40.0, 60.0)}, {"altitudes": (15.0, 30.0)}, {"illuminated": (0.2, 0.5)}],
)
def test_what_is_asked_more_narrowly_leaves_less(narrower: dict[str, tuple[float, float]]) -> None:
    assert 0 < np.diff(lit_by(WALL, **narrower)).sum() < np.diff(lit_by(WALL)).sum()


@pytest.mark.parametrize("wall", [-1.0, 400.0, float("nan")])
def test_a_wall_looks_somewhere(wall: float) -> None:
    with pytest.raises(SkyError, match="face_outside"):
        lit_by(wall)


@pytest.mark.parametrize("angles", [(80.0, 30.0), (-5.0, 30.0), (30.0, 91.0)])
def test_angles_from_the_normal_go_from_none_to_along_the_wall(
    angles: tuple[float, float],
) -> None:
    with pytest.raises(SkyError, match="side_angles_outside"):
        lit_by(WALL, angles=angles)


@pytest.mark.parametrize(
    ("options", "code"),
    [
        ({"altitudes": (45.0, 10.0)}, "moon_altitudes_outside"),
        ({"altitudes": (10.0, 61.0)}, "moon_altitudes_outside"),
        ({"illuminated": (0.1, 1.1)}, "moon_lit_outside"),
        ({"illuminated": (0.5, 0.5)}, "moon_lit_outside"),
    ],
)
def test_a_moon_that_cannot_be_is_refused(
    options: dict[str, tuple[float, float]], code: str
) -> None:
    with pytest.raises(SkyError, match=code):
        lit_by(WALL, **options)


def test_a_season_without_a_dark_night_has_none() -> None:
    far_north = Place(69.6, 18.9, 0, "Europe/Oslo")
    summer = compute_season([far_north], date(2027, 6, 1), date(2027, 6, 30))
    assert not len(side_lit_spans(summer, 0, far_north, LEVEL, WALL))


def test_an_hour_is_told_in_the_middle_of_the_light() -> None:
    found: list[LitAndDark] = lit_and_dark(
        TABLE, 0, PLACE, WALL, lit=spans((9.5, 10.5)), dark=spans((11, 13))
    )
    middle = lit_and_dark(TABLE, 0, PLACE, WALL, lit=spans((9.8, 10.2)), dark=spans((11, 13)))
    assert found[0].altitude_degrees == middle[0].altitude_degrees
