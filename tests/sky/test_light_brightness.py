"""Sky brightness: what grows with what, what adds up, and what is refused."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray

from sky.altitude import moon_phase
from sky.directions import directions_at
from sky.ephemeris import tt_from_utc
from sky.errors import SkyError
from sky.light.apart import apart_degrees
from sky.light.brightness import Bodies, LocalSky, SkyLight, bodies_at, sky_at, sky_toward
from sky.light.measured import glow_between
from sky.light.moonlight import moonlight, scattering
from sky.light.natural import natural_sky
from sky.light.twilight import sunlight
from sky.light.units import magnitude, nanolamberts
from sky.place import Place

Floats = NDArray[np.float64]

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
# A Moon of 97 % stands 55° high toward 169°.
MOONLIT = datetime(2027, 3, 20, 22, 30, tzinfo=UTC)

heights = st.floats(0, 90)
azimuths = st.floats(0, 360)
airs = st.floats(0, 1)


def bodies(sun: float = -40.0, moon: float = -40.0, phase: float = 90.0) -> Bodies:
    """Put the Sun and the Moon over the north, so high, at that phase angle."""
    return Bodies(*(np.array([value]) for value in (sun, 0.0, moon, 0.0, phase)))


def light(sky: LocalSky, altitude: float, azimuth: float, there: Bodies) -> SkyLight:
    return sky_toward(sky, np.array([altitude]), np.array([azimuth]), there)


# Directions


@given(heights, azimuths, heights, azimuths)
def test_directions_are_as_far_apart_as_their_vectors(
    high: float, east: float, other: float, beside: float
) -> None:
    def vector(altitude: float, azimuth: float) -> Floats:
        up, around = math.radians(altitude), math.radians(azimuth)
        flat = math.cos(up)
        return np.array([flat * math.cos(around), flat * math.sin(around), math.sin(up)])

    chord = np.linalg.norm(vector(high, east) - vector(other, beside))
    angle = math.degrees(2 * math.asin(min(float(chord) / 2, 1.0)))
    assert apart_degrees(high, east, other, beside) == pytest.approx(angle, abs=1e-6)


# Natural sky and glow


def test_the_natural_sky_is_half_a_magnitude_brighter_at_60_degrees_from_the_zenith() -> None:
    sky = magnitude(natural_sky(np.array([90.0, 30.0]), zenith_mag=22.0, extinction=0.172))
    assert sky[0] == pytest.approx(22.0)
    assert sky[0] - sky[1] == pytest.approx(0.5, abs=0.1)


def test_without_measurement_the_towns_glow_the_same_everywhere() -> None:
    sky = LocalSky(towns_share=0.5)
    assert sky.glow(np.array([90.0, 10.0]), np.array([0.0, 200.0])) == pytest.approx(
        0.5 * nanolamberts(22.0)
    )
    assert LocalSky().glow(np.array([90.0]), 0.0) == pytest.approx(0)


@pytest.mark.parametrize(
    "sky",
    [
        LocalSky(zenith_mag=21.0, towns_share=9.0),
        LocalSky(zenith_mag=21.0, ring=((90.0, 19.5), (270.0, 20.8)), towns_share=9.0),
    ],
    ids=["zenith", "zenith and ring"],
)
def test_a_measured_sky_is_given_back_as_measured_and_towns_are_forgotten(sky: LocalSky) -> None:
    assert light(sky, 90.0, 0.0, bodies(sun=-90)).magnitude == pytest.approx(21.0, abs=1e-3)
    for azimuth, mag in sky.ring:
        assert light(sky, 30.0, azimuth, bodies(sun=-90)).magnitude == pytest.approx(mag, abs=1e-3)


def test_a_sky_measured_darker_than_natural_has_no_glow() -> None:
    assert LocalSky(zenith_mag=22.3).glow(90.0, 0.0) == 0


def test_between_measurements_glow_goes_straight_and_below_the_ring_it_stays() -> None:
    ring = [(300.0, 40.0), (60.0, 100.0)]

    def toward(altitude: float, azimuth: float) -> float:
        return float(glow_between(altitude, azimuth, zenith=10.0, ring=ring))

    assert toward(30.0, 0.0) == pytest.approx(70.0)  # across north
    assert toward(30.0, 180.0) == pytest.approx(70.0)
    assert toward(60.0, 60.0) == pytest.approx(55.0)
    assert toward(5.0, 60.0) == toward(30.0, 60.0) == pytest.approx(100.0)
    assert toward(90.0, 123.0) == pytest.approx(10.0)


def test_a_ring_without_a_zenith_has_its_least_there() -> None:
    assert glow_between(90.0, 0.0, zenith=None, ring=[(0.0, 40.0), (180.0, 20.0)]) == 20.0


# Moonlight


@given(heights, heights, st.floats(0.5, 180), airs)
def test_the_fuller_the_moon_the_brighter_the_sky(
    height: float, moon: float, apart: float, extinction: float
) -> None:
    phases = np.arange(0.0, 181.0, 10.0)
    shining = moonlight(height, moon, phases, apart, extinction=extinction)
    assert (np.diff(shining) <= 0).all()


@given(heights, st.floats(0, 180), st.floats(0.5, 180))
def test_the_higher_the_moon_the_brighter_the_sky_at_the_same_angle(
    height: float, phase: float, apart: float
) -> None:
    shining = moonlight(height, np.linspace(0, 90, 19), phase, apart, extinction=0.172)
    assert (np.diff(shining) >= 0).all()


def test_nearer_the_moon_more_light_is_scattered_without_a_jump() -> None:
    turned = scattering(np.arange(0.25, 30.0, 0.01))
    assert (np.diff(turned) < 0).all()
    past = turned[100:]
    assert (past[:-1] / past[1:]).max() < 1.02


def test_a_moon_below_the_horizon_gives_no_light_and_one_above_does() -> None:
    sky = LocalSky()
    assert light(sky, 45.0, 180.0, bodies(moon=-0.1)).moonlight == 0
    assert light(sky, 45.0, 180.0, bodies(moon=0.1)).moonlight > 0


def test_in_an_array_the_moon_itself_is_as_bright_as_the_edge_of_its_disc() -> None:
    there = bodies(moon=40.0, phase=0.0)
    on, edge = (light(LocalSky(), height, 0.0, there).moonlight for height in (40.0, 40.25))
    assert np.isfinite(on)
    assert on == pytest.approx(edge, rel=0.01)


# Sunlight


@given(heights, azimuths, st.floats(0.1, 0.5))
def test_the_lower_the_sun_the_darker_the_sky(
    height: float, azimuth: float, extinction: float
) -> None:
    sun = np.linspace(-0.8, -18.0, 40)
    shining = sunlight(height, sun, apart_degrees(height, azimuth, sun, 0.0), extinction=extinction)
    assert (np.diff(shining) < 0).all()


def test_after_nautical_twilight_the_zenith_is_nearly_dark() -> None:
    lost = [float(light(LocalSky(), 90.0, 0.0, bodies(sun=low)).loss_mag[0]) for low in (-12, -18)]
    assert 1.0 < lost[0] < 3.0
    assert lost[1] < 0.05


@pytest.mark.parametrize("extinction", [0.0, 0.01, 0.172, 1.0])
@pytest.mark.parametrize("height", [-10.0, 0.0, 45.0, 90.0])
def test_every_instant_has_a_finite_answer(extinction: float, height: float) -> None:
    sky = LocalSky(extinction=extinction)
    one = np.ones(8)
    sun = np.array([-90.0, -18, -6, -0.8, 0, height, 45, 90])
    found = sky_toward(sky, height, 0.0, Bodies(sun, 0 * one, sun, 0 * one, 0 * one))
    assert np.isfinite(found.magnitude).all()
    assert (found.loss_mag >= 0).all()


# All together


@given(
    heights,
    azimuths,
    st.builds(bodies, st.floats(-40, 5), st.floats(-20, 90), st.floats(0, 180)),
    airs,
)
def test_the_parts_add_up_and_the_dark_is_never_brighter_than_all(
    height: float, azimuth: float, there: Bodies, extinction: float
) -> None:
    sky = LocalSky(zenith_mag=20.5, ring=((10.0, 19.0),), extinction=extinction)
    found = light(sky, height, azimuth, there)
    parts = (found.natural, found.glow, found.moonlight, found.twilight)
    assert all(part >= 0 for part in parts)
    assert found.total == pytest.approx(sum(parts))
    assert found.dark <= found.total
    assert found.magnitude == pytest.approx(magnitude(found.dark) - found.loss_mag, abs=1e-3)


def test_many_directions_at_many_instants_are_each_as_asked_alone() -> None:
    sky = LocalSky(zenith_mag=21.0, ring=((0.0, 20.0), (90.0, 19.0)))
    unix: Floats = MOONLIT.timestamp() + 3600.0 * np.arange(5.0)
    high, around = np.linspace(5, 60, 15).reshape(3, 5), np.linspace(0, 120, 15).reshape(3, 5)
    found = sky_toward(sky, high, around, bodies_at(TERUEL, unix)).magnitude
    assert found.shape == (3, 5)
    for (target, at), mag in np.ndenumerate(found):
        there = float(high[target, at]), float(around[target, at])
        alone = sky_at(sky, TERUEL, datetime.fromtimestamp(float(unix[at]), UTC), *there)
        assert alone.magnitude[0] == pytest.approx(mag)


def test_bodies_stand_where_they_are_seen_and_the_moon_is_as_lit() -> None:
    unix: Floats = MOONLIT.timestamp() + np.arange(0, 30 * 86400.0, 40_000.0)
    found = bodies_at(TERUEL, unix)
    assert found.moon_azimuth == pytest.approx(directions_at("moon", TERUEL, unix).azimuth_degrees)
    assert found.sun_altitude == pytest.approx(directions_at("sun", TERUEL, unix).altitude_degrees)
    lit = (1 + np.cos(np.radians(found.moon_phase_angle))) / 2
    phase = moon_phase(date(2027, 3, 20), date(2027, 4, 20))
    assert lit == pytest.approx(phase.illuminated(tt_from_utc(unix)), abs=1e-5)


def test_no_instants_have_no_bodies() -> None:
    assert len(bodies_at(TERUEL, np.empty(0)).sun_altitude) == 0


# Refusals


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"zenith_mag": 9.9}, "sky_magnitude_outside"),
        ({"natural_mag": 23.1}, "sky_magnitude_outside"),
        ({"natural_mag": float("nan")}, "sky_magnitude_outside"),
        ({"ring": ((0.0, 20.0), (90.0, 30.0))}, "sky_magnitude_outside"),
        ({"ring": ((-1.0, 20.0),)}, "azimuth_outside"),
        ({"extinction": -0.01}, "extinction_outside"),
        ({"extinction": 1.1}, "extinction_outside"),
        ({"towns_share": -0.1}, "towns_share_negative"),
        ({"towns_share": float("inf")}, "towns_share_negative"),
    ],
)
def test_a_sky_that_cannot_be_is_refused(wrong: dict[str, float], code: str) -> None:
    with pytest.raises(SkyError) as refused:
        LocalSky(**wrong)  # type: ignore[arg-type]
    assert refused.value.code == code


def test_the_widest_sky_that_can_be_is_not_refused() -> None:
    LocalSky(zenith_mag=10.0, ring=((0.0, 23.0), (360.0, 10.0)), natural_mag=23.0, extinction=1.0)
    LocalSky(extinction=0.0)


@pytest.mark.parametrize(
    ("at", "altitude", "azimuth", "code"),
    [
        (datetime(2027, 3, 20, 12, tzinfo=UTC), 45.0, 0.0, "sun_up"),
        (MOONLIT, -0.1, 0.0, "altitude_outside"),
        (MOONLIT, 90.1, 0.0, "altitude_outside"),
        (MOONLIT, 45.0, 360.5, "azimuth_outside"),
        (datetime(1960, 1, 1, tzinfo=UTC), 45.0, 0.0, "instant_outside"),
    ],
)
def test_one_moment_is_refused_where_there_is_no_night_sky(
    at: datetime, altitude: float, azimuth: float, code: str
) -> None:
    with pytest.raises(SkyError) as refused:
        sky_at(LocalSky(), TERUEL, at, altitude, azimuth)
    assert refused.value.code == code


def test_toward_the_moon_itself_nothing_is_said_and_half_a_degree_beside_it_is() -> None:
    seen = directions_at("moon", TERUEL, np.array([MOONLIT.timestamp()]))
    height, azimuth = float(seen.altitude_degrees[0]), float(seen.azimuth_degrees[0])
    with pytest.raises(SkyError) as refused:
        sky_at(LocalSky(), TERUEL, MOONLIT, height, azimuth)
    assert refused.value.code == "moon_in_direction"
    assert sky_at(LocalSky(), TERUEL, MOONLIT, height + 0.5, azimuth).moonlight > 10_000


def test_at_sunset_the_sky_is_told_and_a_minute_before_it_is_not() -> None:
    """Sunset of 20 March 2027 there is at 18:16:10 UTC."""
    sky_at(LocalSky(), TERUEL, datetime(2027, 3, 20, 18, 17, 30, tzinfo=UTC), 45.0, 90.0)
    with pytest.raises(SkyError):
        sky_at(LocalSky(), TERUEL, datetime(2027, 3, 20, 18, 15, 30, tzinfo=UTC), 45.0, 90.0)
