"""Named stars stand where others have them: SIMBAD's places, and PyEphem's own list."""

from __future__ import annotations

import math
from typing import Any

import astropy.units as u
import ephem
import ephem.stars
import pytest
from astropy.coordinates import SkyCoord

from sky.errors import SkyError
from sky.targets import named_stars
from sky.targets.target import FixedPoint
from tests.against.published import rows

ARCMINUTE = 1 / 60


def apart(key: str, ra_degrees: float, dec_degrees: float) -> float:
    (point,) = named_stars.target(key.removeprefix("star:")).points
    assert isinstance(point, FixedPoint)
    ours = SkyCoord(point.ra_degrees * u.deg, point.dec_degrees * u.deg)
    return float(ours.separation(SkyCoord(ra_degrees * u.deg, dec_degrees * u.deg)).deg)


@pytest.mark.parametrize("case", rows("stars"), ids=lambda case: str(case["inputs"]["name"]))
def test_a_star_stands_where_others_have_it(case: dict[str, Any]) -> None:
    assert apart(case["inputs"]["key"], *case["expected"]) < case["tolerance"]


def test_no_name_leads_to_another_star_than_in_pyephem_s_list() -> None:
    compared, differing = 0, {}
    for name in ephem.stars.stars:
        star = ephem.star(name)
        star.compute("2000", epoch="2000")
        try:
            distance = apart(name, math.degrees(star.a_ra), math.degrees(star.a_dec))
        except SkyError:
            continue  # a name that ours does not have
        compared += 1
        if distance > ARCMINUTE:
            differing[name] = distance
    assert compared > 60
    assert differing == {}


@pytest.mark.parametrize("name", ["Markab", "Gienah"])
def test_a_name_that_moved_leads_to_the_star_that_has_it_now(name: str) -> None:
    """α Pegasi and γ Corvi in PyEphem's list; Skyfield has κ Velorum and ε Cygni under them."""
    star = ephem.star(name)
    star.compute("2000", epoch="2000")
    assert apart(name, math.degrees(star.a_ra), math.degrees(star.a_dec)) < ARCMINUTE
