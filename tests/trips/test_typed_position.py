"""A pasted position is read in the ways people write it, and never guessed at."""

from __future__ import annotations

import pytest

from trips.forms.typed_position import read_angle, read_position

READ = [
    "40.4, −1.1",
    "40.4,-1.1",
    "40.4 -1.1",
    "40,4; -1,1",
    "40,4 -1,1",
    "40.4° N, 1.1° W",
    "40.4N 1.1W",
    "N 40.4 W 1.1",
    "1.1 W, 40.4 N",
    "40°24′ N, 1°06′ W",
    "40°24'00.0\"N 1°06'00.0\"W",
    "40°24'00\"N 1°06'00\"W",
    "40°24'0.0\"N, 1°06'0.0\"W",
    "40°24′00″N 1°06′00″W",
    "40°24’00”N 1°06’00”W",
    "40° 24' 00\" N  1° 06' 00\" W",
    "N 40° 24.000' W 001° 06.000'",
    "N40°24'00\" W1°06'00\"",
    "40° 24' 0'' N 1° 6' 0'' W",
    "1°06'00\"W 40°24'00\"N",
    "geo:40.4,-1.1",
    " 40.4 ,  -1.1 ",
]


@pytest.mark.parametrize("text", READ)
def test_a_pair_of_degrees_is_read(text: str) -> None:
    assert read_position(text) == pytest.approx((40.4, -1.1))


def test_south_and_west_are_negative() -> None:
    assert read_position("33.9 S, 18.4 E") == pytest.approx((-33.9, 18.4))


NOT_READ = [
    "",
    "40.4",
    "40,4",  # forty and four tenths
    "-40,4",
    "north",
    "-40.4 N, 1.1 W",  # a minus and a letter
    "1.1 E, 2.2 E",
    "40.4 N, 1.1",
    "40°60'00\"N 1°06'00\"W",  # sixty minutes are a degree
    "40°24'75\"N 1°06'00\"W",
    "40 24 00 1 06 00",
    "40.4, -1.1, 1600",
    "40.4, -1.1" + " " * 60 + "40.4, -1.1",
    "9" * 5000,
]


@pytest.mark.parametrize("text", NOT_READ)
def test_what_is_no_pair_of_degrees_is_not_read(text: str) -> None:
    assert read_position(text) is None


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("40°30'15\"N", 40.5041667),
        ("40° 30' 15\" N", 40.5041667),
        ("N 40°30.25'", 40.5041667),
        ("33°54′S", -33.9),
        ("-33°54′", -33.9),
        ("40.4° N", 40.4),
        ("40.4N", 40.4),
    ],
)
def test_one_angle_is_read_for_its_own_field(text: str, degrees: float) -> None:
    assert read_angle(text, "NS") == pytest.approx(degrees)


@pytest.mark.parametrize(
    "text",
    ["", "40.4", "−40,4", "north", "1°06'W", "N 40°30'N", "-40°30'S", "40°75'N", "9" * 5000],
)
def test_what_is_no_single_angle_of_that_field_is_not_read(text: str) -> None:
    assert read_angle(text, "NS") is None
