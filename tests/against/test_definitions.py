"""Our conventional levels are the published ones (A19: USNO, Nautical Almanac, Meeus ch. 15)."""

from __future__ import annotations

import pytest

from sky import constants
from tests.against.published import row

PUBLISHED = row("definitions", "A19")
OURS = {
    "sun_rise_set_degrees": constants.SUN_RISE_SET_DEGREES,
    "star_rise_set_degrees": constants.POINT_RISE_SET_DEGREES,
    "refraction_horizon_arcminutes": constants.HORIZON_REFRACTION_DEGREES * 60,
    "sun_semidiameter_arcminutes": (
        constants.POINT_RISE_SET_DEGREES - constants.SUN_RISE_SET_DEGREES
    )
    * 60,
    "civil_degrees": constants.CIVIL_DEGREES,
    "nautical_degrees": constants.NAUTICAL_DEGREES,
    "astronomical_degrees": constants.ASTRONOMICAL_DEGREES,
}


@pytest.mark.parametrize("name", sorted(PUBLISHED["expected"]))
def test_a_level_is_the_published_one(name: str) -> None:
    assert OURS[name] == pytest.approx(PUBLISHED["expected"][name], abs=PUBLISHED["tolerance"])


def test_dark_is_offered_at_astronomical_and_nautical_twilight_and_between() -> None:
    assert constants.ASTRONOMICAL_DEGREES < constants.DEEP_TWILIGHT_DEGREES
    assert constants.DEEP_TWILIGHT_DEGREES < constants.NAUTICAL_DEGREES
