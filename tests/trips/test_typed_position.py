"""A pasted position is read in the ways people write it, and never guessed at."""

from __future__ import annotations

import pytest

from trips.typed_position import read_position

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
    "40 24 00 1 06 00",
    "40.4, -1.1, 1600",
    "40.4, -1.1" + " " * 60 + "40.4, -1.1",
    "9" * 5000,
]


@pytest.mark.parametrize("text", NOT_READ)
def test_what_is_no_pair_of_degrees_is_not_read(text: str) -> None:
    assert read_position(text) is None
