"""What a personal plan says to set, by hand: time from G03's rate, ISO from G07's equation.

Drift: 15.041068″ a second times cos δ. ISO: K = 12.5 (ISO 2720:1974), L = 10.8e4 · 10^(−0.4 m)
cd/m², the sky 1.5 stops below mid-grey (common practice), the nearest third stop.
"""

from __future__ import annotations

import math

import pytest

from tests.against.published import row
from tests.trips.briefed import CAMERA, bring, draft, make_briefed, make_plans, publish_now
from tests.trips.joined import placed
from trips.models import PersonalPlan

SHUTTER = (1, 2, 2.5, 3.2, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30)
THIRDS = (800, 1000, 1250, 1600, 2000, 2500, 3200, 4000, 5000, 6400)
PIXEL_MM, TRAIL_PX, STOPS_BELOW = 0.006, 5, 1.5


@pytest.mark.django_db
@pytest.mark.parametrize(("focal", "f_number"), [(14.0, 2.8), (24.0, 1.8), (35.0, 2.0)])
def test_time_and_iso_of_a_plan_follow_from_the_formulas(focal: float, f_number: float) -> None:
    trip = make_briefed()
    ilse = placed(trip)
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=focal, widest_f_number=f_number)
    publish_now(trip)
    make_plans()
    first = PersonalPlan.objects.get().facts["first"]

    core = draft(trip).sky.placed[0].one
    assert core.declination is not None
    assert core.sky_mag is not None
    scale = math.degrees(PIXEL_MM / focal) * 3600
    rate = row("camera", "G03")["expected"] * math.cos(math.radians(core.declination))
    seconds = max(step for step in SHUTTER if step <= TRAIL_PX * scale / rate)
    light = 10.8e4 * 10 ** (-0.4 * core.sky_mag)
    iso = 12.5 * f_number**2 / (light * seconds) * 2**-STOPS_BELOW
    nearest = min(THIRDS, key=lambda step: abs(math.log2(step / iso)))
    assert first["shutter"] == f"{seconds:g} s"
    assert first["aperture"] == f"f/{f_number:g}"
    assert int("".join(filter(str.isdigit, first["iso"]))) == nearest
