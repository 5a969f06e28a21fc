"""Directions counted in fists, from what is seen against the night sky."""

from __future__ import annotations

import pytest

from sky.dome import Standing
from trips.almanac.fists import fists_to
from trips.models import Landmark


def landmark(name: str, azimuth: float, *, is_seen: bool = True) -> Landmark:
    return Landmark(name=name, azimuth_degrees=azimuth, is_seen_at_night=is_seen)


TOWER, PINE = landmark("the tower", 200.0), landmark("the pine", 350.0)


@pytest.mark.parametrize(
    ("altitude", "azimuth", "words"),
    [
        (30.0, 180.0, "two fists left of the tower, three up"),
        (45.0, 215.0, "one and a half fists right of the tower, four and a half up"),
        (20.0, 196.0, "half a fist left of the tower, two up"),
        (34.0, 201.9, "straight above the tower, three and a half fists up"),
        (9.0, 190.0, "one fist left of the tower, one up"),
        (4.0, 190.0, "one fist left of the tower, half a fist up"),
        (2.0, 198.0, "straight above the tower, half a fist up"),
        (26.0, 10.0, "two fists right of the pine, two and a half up"),
        (60.0, 150.0, "five fists left of the tower, six up"),
        (60.0, 148.0, "south-south-east, six fists up"),
        (10.0, 90.0, "east, one fist up"),
    ],
)
def test_a_direction_is_counted_from_the_nearest(
    altitude: float, azimuth: float, words: str
) -> None:
    assert fists_to(Standing(altitude, azimuth), [TOWER, PINE]) == words


def test_what_is_not_seen_at_night_is_not_counted_from() -> None:
    barn = landmark("the barn", 182.0, is_seen=False)
    assert fists_to(Standing(30.0, 180.0), [barn, TOWER]).startswith("two fists left of the tower")
    assert fists_to(Standing(30.0, 180.0), [barn]) == "south, three fists up"


def test_north_is_no_wall() -> None:
    assert fists_to(Standing(40.0, 355.0), [landmark("the mast", 5.0)]) == (
        "one fist left of the mast, four up"
    )
