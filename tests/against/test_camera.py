"""Fields, drift and exposures against textbook optics, ISO 2720 and Astropy's projections.

G rows: optics. CA rows: worked exposures, and what photographers set. The drift has a referee: a
star is put on the sensor by Astropy 8 (TAN, ARC, ZEA, STG, SIN of the FITS standard) before and
after the sky has turned.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from astropy.wcs import WCS
from numpy.typing import NDArray

from sky.camera.drift import (
    SIDEREAL_ARCSECONDS_PER_SECOND,
    longest_exposure,
    reciprocal_rule,
    speed_mm,
)
from sky.camera.exposure import iso_for, seconds_for
from sky.camera.field import edge_mm, fields, pixel_scale
from sky.camera.lens import Lens
from sky.camera.practice import USUAL_ISO
from sky.camera.projection import PROJECTIONS, Projection, radius_mm
from sky.camera.sensor import COMMON_SENSORS, Sensor, sensor_of
from sky.camera.sharpness import hyperfocal
from sky.camera.subs import V0_PHOTONS, Detector, plan_subs
from sky.camera.tracking import error_per_minute
from tests.against.published import row

Floats = NDArray[np.float64]

FULL_FRAME = COMMON_SENSORS["full-frame"]
CODES: dict[Projection, str] = {
    "rectilinear": "TAN",
    "equidistant": "ARC",
    "equisolid": "ZEA",
    "stereographic": "STG",
    "orthographic": "SIN",
}


def full_frame(pixel_um: float) -> Sensor:
    return sensor_of(36, 24, pixel_um=pixel_um)


@pytest.mark.parametrize("side", ["horizontal", "vertical", "diagonal"])
def test_a_rectilinear_lens_has_the_field_of_the_textbook(side: str) -> None:
    case = row("camera", "G01")
    for focal, expected in zip(case["inputs"]["focal_mm"], case["expected"][side], strict=True):
        found = getattr(fields(Lens(focal), FULL_FRAME), side)
        assert found == pytest.approx(expected, abs=case["tolerance"])


def test_a_pixel_has_the_arcseconds_of_the_textbook() -> None:
    case = row("camera", "G02")
    for (pixel, focal), expected in zip(*cases(case, "pixel_um_and_focal_mm"), strict=True):
        found = pixel_scale(Lens(focal), full_frame(pixel))
        assert found == pytest.approx(expected, abs=case["tolerance"])


def test_the_sky_turns_at_the_sidereal_rate() -> None:
    case = row("camera", "G03")
    assert pytest.approx(case["expected"], abs=case["tolerance"]) == SIDEREAL_ARCSECONDS_PER_SECOND


def test_a_star_crosses_pixels_in_the_time_of_the_textbook() -> None:
    case = row("camera", "G04")
    asked, answers = cases(case, "pixel_um_focal_mm_declination_and_pixels")
    for (pixel, focal, declination, pixels), expected in zip(asked, answers, strict=True):
        found = longest_exposure(Lens(focal), full_frame(pixel), declination, pixels)
        assert found == pytest.approx(expected, abs=case["tolerance"])


def test_a_fisheye_draws_ninety_degrees_where_its_projection_has_them() -> None:
    case = row("camera", "G05")
    theta, focal = case["inputs"]["theta_degrees"], case["inputs"]["focal_mm"]
    for projection, expected in case["expected"].items():
        found = float(radius_mm(theta, focal, projection))
        assert found == pytest.approx(expected, abs=case["tolerance"])


def test_a_fisheye_that_fills_the_frame_has_the_diagonal_of_its_projection() -> None:
    case = row("camera", "G06")
    assert FULL_FRAME.diagonal_mm / 2 == pytest.approx(case["inputs"]["half_diagonal_mm"], abs=1e-3)
    for projection, expected in case["expected"].items():
        found = fields(Lens(case["inputs"]["focal_mm"], projection=projection), FULL_FRAME)
        assert found.diagonal == pytest.approx(expected, abs=case["tolerance"])
        assert not found.is_circle


def test_a_sky_at_mid_grey_is_metered_as_the_standard_says() -> None:
    """EV at ISO 100 for a second is N²; a luminance is asked for as the magnitude that has it."""
    case = row("camera", "G07")
    asked, expected = case["inputs"]["exposure_value"], case["expected"]
    for value, luminance in zip(asked, expected, strict=True):
        assert 12.5 * 2.0**value / 100 == luminance
    f_number, seconds = 4.0, 2.0**9  # N²/t = 2^(4 − 9): EV −5, 2^−5 · 0.125 cd/m²
    magnitude = -2.5 * math.log10(expected[0] * 2.0**-5 / 10.8e4)
    iso = iso_for(f_number=f_number, seconds=seconds, sky_mag=magnitude, stops_below=0)
    assert iso == pytest.approx(case["inputs"]["iso"], rel=1e-12)


def test_a_bare_sky_comes_to_mid_grey_in_the_time_of_the_meter() -> None:
    case = row("camera", "G08")
    asked, answers = cases(case, "sky_mag_f_number_and_iso")
    for (magnitude, f_number, iso), expected in zip(asked, answers, strict=True):
        found = seconds_for(f_number=f_number, iso=iso, sky_mag=magnitude, stops_below=0)
        assert found == pytest.approx(expected, abs=case["tolerance"])


def test_the_reciprocal_rule_takes_the_focal_length_as_on_full_frame() -> None:
    case = row("camera", "G09")
    asked, answers = cases(case, "focal_mm_and_crop_factor")
    for (focal, crop), expected in zip(asked, answers, strict=True):
        sensor = sensor_of(36 / crop, 24 / crop, pixel_um=4)
        found = reciprocal_rule(Lens(focal), sensor)
        assert found == pytest.approx(expected, abs=case["tolerance"])


def test_worked_exposures_have_their_iso() -> None:
    case = row("camera", "CA01")
    asked, answers = cases(case, "sky_mag_and_seconds")
    for (magnitude, seconds), expected in zip(asked, answers, strict=True):
        found = iso_for(f_number=case["inputs"]["f_number"], seconds=seconds, sky_mag=magnitude)
        assert found == pytest.approx(expected, rel=case["tolerance"])


def test_what_is_computed_is_what_photographers_set() -> None:
    case = row("camera", "CA02")
    third = 2 ** (1 / 3)
    for where, magnitude, seconds in case["inputs"]["surroundings_sky_mag_and_seconds"]:
        low, high = case["expected"][where]
        assert list(USUAL_ISO[where]) == [low, high]
        found = iso_for(f_number=case["inputs"]["f_number"], seconds=seconds, sky_mag=magnitude)
        assert low / third <= found <= high * third


def test_the_hyperfocal_distance_is_that_of_the_textbook() -> None:
    case = row("camera", "CA03")
    asked = case["inputs"]
    found = hyperfocal(Lens(asked["focal_mm"]), full_frame(asked["pixel_um"]), f_number=2.8)
    assert found.strict_m == pytest.approx(case["expected"]["strict"], abs=case["tolerance"])
    assert found.usual_m == pytest.approx(case["expected"]["usual"], abs=case["tolerance"])


def test_an_axis_beside_the_pole_drifts_as_geometry_says() -> None:
    case = row("camera", "CA04")
    found = error_per_minute(case["inputs"]["polar_error_arcminutes"])
    assert found == pytest.approx(case["expected"], abs=case["tolerance"])


def test_a_star_of_magnitude_nought_sends_the_photons_that_are_published() -> None:
    case = row("camera", "CA05")
    faint = V0_PHOTONS * 1e4 * 10 ** (-0.4 * case["inputs"]["v_mag"])
    assert faint == pytest.approx(case["expected"], abs=case["tolerance"])
    other = row("camera", "CA06")
    assert pytest.approx(other["expected"], rel=other["tolerance"]) == V0_PHOTONS


def test_subs_are_those_of_a_case_worked_by_hand() -> None:
    """An opening of 5 cm, 19.635 cm²; a pixel of 10.313″, 106.36 arcsec²; half of 0.8 is kept.

    Of 0 mag/arcsec² a pixel gets 879 424 · 19.635 · 106.36 · 0.4 = 7.346e8 electrons a second.
    Sky of 20 mag: 7.346 a second, 440.8 in 60 s. Target of 22.5 mag: a tenth, 44.08. Variance
    440.8 + 44.08 + 3² = 493.9, noise 22.22, S/N of a sub 1.983; for 10 (10 / 1.983)² = 25.4
    subs, so 26.
    """
    case = row("camera", "CA07")
    asked, expected, near = case["inputs"], case["expected"], case["tolerance"]
    detector = Detector(
        **{name: asked[name] for name in ("quantum_efficiency", "transmission", "read_noise")}
    )
    passed = ("f_number", "seconds", "target_mag", "sky_mag", "altitude", "extinction")
    plan = plan_subs(
        Lens(asked["focal_mm"]),
        full_frame(asked["pixel_um"]),
        signal_to_noise=asked["signal_to_noise"],
        detector=detector,
        **{name: asked[name] for name in passed},
    )
    assert plan.target_electrons == pytest.approx(expected["target_electrons"], rel=near)
    assert plan.sky_electrons == pytest.approx(expected["sky_electrons"], rel=near)
    assert plan.number == expected["number"]


@pytest.mark.parametrize("projection", PROJECTIONS)
def test_no_star_that_astropy_projects_is_faster_and_one_is_nearly_as_fast(
    projection: Projection,
) -> None:
    """The bound holds for every place of the frame and every turn of it, and is no wider."""
    for focal in (10.0, 24.0, 135.0):
        lens = Lens(focal, projection=projection)
        for declination in (0.0, -29.0, 60.0, 88.0):
            bound = speed_mm(lens, FULL_FRAME, declination, "corner")
            fastest = np.nanmax(speeds(lens, declination))
            assert 0.97 * bound < fastest < 1.0001 * bound


@pytest.mark.parametrize("projection", PROJECTIONS)
def test_a_star_in_the_centre_is_as_fast_as_astropy_has_it(projection: Projection) -> None:
    lens = Lens(24.0, projection=projection)
    for declination in (0.0, -29.0, 60.0, 88.0):
        found = moved(lens, declination, np.zeros((1, 2)))
        assert found[0] == pytest.approx(speed_mm(lens, FULL_FRAME, declination), rel=1e-5)


def cases(case: dict[str, Any], name: str) -> tuple[list[Any], list[Any]]:
    return case["inputs"][name], case["expected"]


def speeds(lens: Lens, declination: float) -> Floats:
    """Give mm a second of stars all over the frame, corners too, with the frame turned around."""
    x, y = np.meshgrid(np.linspace(-18, 18, 25), np.linspace(-12, 12, 17))
    places = np.stack((x.ravel(), y.ravel()), axis=-1)
    edge = edge_mm(lens, FULL_FRAME)
    places = np.vstack((places[np.hypot(*places.T) <= edge + 1e-9], (edge * 0.9999, 0.0)))
    turns = np.radians(np.arange(0, 360, 5))
    cos, sin = np.cos(turns), np.sin(turns)
    turned = np.einsum("ijt,pj->tpi", np.array(((cos, -sin), (sin, cos))), places)
    return moved(lens, declination, turned.reshape(-1, 2))


def moved(lens: Lens, declination: float, places: Floats, seconds: float = 1.0) -> Floats:
    """Let Astropy say where the stars at some places (n, 2) in mm are some seconds later."""
    sky = WCS(naxis=2)
    code = CODES[lens.projection]
    sky.wcs.ctype = [f"RA---{code}", f"DEC--{code}"]
    sky.wcs.crval = [180.0, declination]
    sky.wcs.crpix = [0.0, 0.0]
    sky.wcs.cdelt = [1.0, 1.0]
    per_mm = np.degrees(1 / lens.focal_mm)  # FITS has degrees for radians of r/f
    ra, dec = sky.wcs_pix2world(*(places * per_mm).T, 1)
    later = ra + SIDEREAL_ARCSECONDS_PER_SECOND / 3600 * seconds
    after = np.stack(sky.wcs_world2pix(later, dec, 1), axis=-1) / per_mm
    shift = places - np.stack(sky.wcs_world2pix(ra, dec, 1), axis=-1) / per_mm
    assert np.nanmax(np.abs(shift)) < 1e-6
    result: Floats = np.hypot(*(after - places).T) / seconds
    return result
