"""Deep-sky objects stand where others have them: SIMBAD's places, and the stars in them."""

from __future__ import annotations

from typing import Any

import astropy.units as u
import pytest
from astropy.coordinates import SkyCoord

from sky.targets import deep_sky
from sky.targets.target import FixedPoint
from tests.against.published import rows


@pytest.mark.parametrize("case", rows("deep_sky"), ids=lambda case: str(case["inputs"]["name"]))
def test_an_object_stands_where_others_have_it(case: dict[str, Any]) -> None:
    (point,) = deep_sky.target(case["inputs"]["key"]).points
    assert isinstance(point, FixedPoint)
    ours = SkyCoord(point.ra_degrees * u.deg, point.dec_degrees * u.deg)
    theirs = SkyCoord(*case["expected"], unit=u.deg)
    assert ours.separation(theirs).deg < case["tolerance"]
