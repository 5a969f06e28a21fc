"""What my gear says to set, recomputed by hand from the formulas of the camera's checks.

Drift: f ω cos δ with 360° in 86 164.0905 s (Explanatory Supplement; from memory). ISO: reflected
light, K = 12.5 (ISO 2720:1974), L = 10.8e4 · 10^(−0.4 m) cd/m², 1.5 stops below mid-grey (common
practice). Field: 2 atan(s / 2f).
"""

from __future__ import annotations

import math

import pytest

from trips.almanac.camera import Tracker as TrackerErrors
from trips.almanac.lens_tonight import lens_tonight, standing_shot, tracked_shot
from trips.planning.gear import Camera, Gear, Lens, Tracker
from trips.services.gear_rigs import rigs_of

CAMERA = Camera(
    sensor_width_mm=36, sensor_height_mm=24, pixels_wide=6000, pixels_high=4000, top_iso=102_400
)
OMEGA = 2 * math.pi / 86_164.0905
SHUTTER = (1, 2, 2.5, 3.2, 4, 5, 6, 8, 10, 13, 15, 20, 25, 30)


@pytest.mark.parametrize(
    ("focal", "f_number", "declination", "mag"),
    [(14, 2.8, 0, 21.8), (24, 1.8, -29, 21.0), (50, 1.8, 41, 20.0), (85, 2.8, 45, 18.0)],
)
def test_time_and_iso_follow_from_the_formulas(
    focal: float, f_number: float, declination: float, mag: float
) -> None:
    [own] = rigs_of(Gear((CAMERA, Lens(focal_mm=focal, widest_f_number=f_number))))
    limit = 5 * 0.006 / (focal * OMEGA * math.cos(math.radians(declination)))
    seconds = max(step for step in SHUTTER if step <= limit)
    iso = 12.5 * f_number**2 / (10.8e4 * 10 ** (-0.4 * mag) * seconds) * 2**-1.5
    shot = standing_shot(own.rig, declination, mag)
    assert shot.iso is not None
    assert shot.limit_seconds == pytest.approx(limit, rel=1e-6)
    assert shot.seconds == seconds
    assert shot.iso.exact == pytest.approx(iso, rel=1e-3)


def test_a_lens_sees_what_the_formula_gives() -> None:
    [own] = rigs_of(Gear((CAMERA, Lens(focal_mm=24, widest_f_number=1.8))))
    seen = lens_tonight(own.rig, []).fields
    assert seen.horizontal == pytest.approx(2 * math.degrees(math.atan(36 / 48)))
    assert seen.vertical == pytest.approx(2 * math.degrees(math.atan(24 / 48)))


@pytest.mark.parametrize(("polar", "stated"), [(5.0, 0.0), (5.0, 4.0)])
def test_a_tracker_holds_as_long_as_the_worse_of_its_errors_allows(
    polar: float, stated: float
) -> None:
    """0.2625″ a minute for each arcminute that the axis misses the pole."""
    tracker = Tracker(
        payload_kg=5, stated_error_arcseconds_per_minute=stated, polar_error_arcminutes=polar
    )
    [own] = rigs_of(Gear((CAMERA, Lens(focal_mm=135, widest_f_number=2), tracker)))
    shot = tracked_shot(own.rig, 21.0)
    pixel = math.degrees(0.006 / 135) * 3600
    assert shot is not None
    assert own.rig.tracker == TrackerErrors(stated, polar)
    limit = 5 * pixel / max(0.2625 * polar, stated) * 60
    assert shot.limit_seconds == pytest.approx(limit, rel=5e-3)
