"""Sky brightness against what is published: airmass, units, moonlight, twilight.

Another model of the airmass is allowed what both differ; the Moon's equations are theirs to the
last digit, while skies differ by 0.25 mag; twilight is held to an independent fit of measurements.
"""

from __future__ import annotations

import numpy as np
import pytest

from sky.directions import refraction_degrees
from sky.light.airmass import airmass
from sky.light.brightness import EXTINCTION, Bodies, LocalSky, sky_toward
from sky.light.moonlight import moon_illuminance, moonlight, scattering
from sky.light.twilight import sunlight
from sky.light.units import luminance, magnitude, naked_eye_limit, nanolamberts
from tests.against.published import row


def test_airmass_is_near_pickering_s() -> None:
    """C06."""
    published = row("light", "C06")
    ours = airmass(np.array(published["inputs"]["altitude_apparent_degrees"]))
    assert ours == pytest.approx(published["expected"], rel=published["tolerance"])


def test_airmass_is_near_young_s_of_the_true_altitude() -> None:
    """C07: our refraction goes from the true altitude to the apparent one."""
    published = row("light", "C07")
    true = np.array(published["inputs"]["altitude_true_degrees"], dtype=float)
    ours = airmass(true + refraction_degrees(true, 0.0))
    assert ours == pytest.approx(published["expected"], rel=published["tolerance"])


def test_nanolamberts_are_garstang_s_and_lead_back() -> None:
    """D01."""
    published = row("light", "D01")
    given = np.array(published["inputs"]["magnitude"])
    assert nanolamberts(given) == pytest.approx(published["expected"], abs=published["tolerance"])
    assert magnitude(nanolamberts(given)) == pytest.approx(given, abs=1e-12)


@pytest.mark.parametrize("identity", ["D06", "D07"])
def test_luminance_is_that_of_the_page_and_of_the_natural_sky(identity: str) -> None:
    published = row("light", identity)
    ours = luminance(np.array(published["inputs"]["magnitude"]))
    is_exact = identity == "D06"
    near = {"rel" if is_exact else "abs": published["tolerance"]}
    assert ours == pytest.approx(np.array(published["expected"]), **near)


def test_nanolamberts_and_candelas_agree_to_half_a_percent() -> None:
    """One lambert is 10⁴/π cd/m² by definition."""
    given = np.linspace(16, 22, 7)
    assert nanolamberts(given) * 1e-5 / np.pi == pytest.approx(luminance(given), rel=0.005)


def test_the_faintest_star_is_as_converters_have_it() -> None:
    """D09."""
    published = row("light", "D09")
    ours = naked_eye_limit(np.array(published["inputs"]["magnitude"]))
    assert ours == pytest.approx(published["expected"], abs=published["tolerance"])


def test_the_terms_of_moonlight_are_those_of_the_paper() -> None:
    """D02, D05, D08."""
    published = row("light", "D02")
    given, expected = published["inputs"], published["expected"]
    shining = moon_illuminance(np.array(given["phase_angle_degrees"]))
    assert shining == pytest.approx(expected["moon_illuminance"], rel=1e-5)
    turned = scattering(np.array(given["apart_degrees"]))
    assert turned == pytest.approx(expected["scattering"], rel=published["tolerance"])
    half = row("light", "D05")
    assert shining[1] / shining[0] == pytest.approx(half["expected"], abs=half["tolerance"])
    assert row("light", "D08")["expected"] == EXTINCTION


def test_moonlight_of_the_worked_example() -> None:
    """D03."""
    published = row("light", "D03")
    given = published["inputs"]
    light = moonlight(
        90.0 - given["zenith_degrees"],
        90.0 - given["moon_zenith_degrees"],
        given["phase_angle_degrees"],
        given["apart_degrees"],
        extinction=given["extinction"],
    )
    assert magnitude(light) == pytest.approx(published["expected"], abs=published["tolerance"])


def test_a_full_and_a_half_moon_over_a_dark_zenith() -> None:
    """D04: through the whole of `sky_toward`, the Sun far below."""
    published = row("light", "D04")
    given, expected = published["inputs"], published["expected"]
    sky = LocalSky(natural_mag=given["dark_zenith_mag"], extinction=given["extinction"])
    two = np.ones(2)
    bodies = Bodies(
        sun_altitude=-60 * two,
        sun_azimuth=0 * two,
        moon_altitude=(90.0 - given["moon_zenith_degrees"]) * two,
        moon_azimuth=140 * two,
        moon_phase_angle=np.array(given["phase_angle_degrees"], dtype=float),
    )
    light = sky_toward(sky, 90.0 - given["zenith_degrees"], 20.0, bodies)
    near = published["tolerance"]
    assert light.moonlight == pytest.approx(expected["moonlight_nl"], abs=0.01)
    assert magnitude(light.moonlight) == pytest.approx(expected["moonlight_mag"], abs=near)
    assert light.magnitude == pytest.approx(expected["total_mag"], abs=near)
    assert light.loss_mag == pytest.approx(expected["loss_mag"], abs=near)


def test_twilight_is_the_formula_s() -> None:
    """T02."""
    published = row("light", "T02")
    given = published["inputs"]
    light = sunlight(
        given["altitude_degrees"],
        given["sun_altitude_degrees"],
        given["apart_degrees"],
        extinction=given["extinction"],
    )
    assert light == pytest.approx(published["expected"], abs=published["tolerance"])


def test_twilight_at_the_zenith_is_near_what_was_measured_on_paranal() -> None:
    """T01: Schaefer's model with the night sky of the site, against a fit of 2 000 frames."""
    published = row("light", "T01")
    given = published["inputs"]
    sun = 90.0 - np.array(given["sun_zenith_degrees"], dtype=float)
    none = np.zeros_like(sun)
    bodies = Bodies(sun, none, none - 60, none, none + 180)
    sky = LocalSky(natural_mag=given["night_mag"], extinction=given["extinction"])
    ours = sky_toward(sky, 90.0, 0.0, bodies).magnitude
    assert (np.abs(ours - published["expected"]) <= published["tolerance"]).all()
