"""What a sky leaves to be seen: by twilight, by moonlight, over the land."""

from __future__ import annotations

import pytest

from sky.dome import Standing
from sky.skyline import Skyline
from tests.trips.skies import made_sky, made_stars, made_wanted


@pytest.mark.parametrize(("sun", "expected"), [(-30.0, True), (-12.5, True), (-11.5, False)])
def test_the_milky_way_shows_when_nautical_dusk_is_over(sun: float, *, expected: bool) -> None:
    assert made_sky(sun=Standing(sun, 0.0)).has_band is expected


@pytest.mark.parametrize(
    ("altitude", "lit", "expected"), [(30, 0.9, True), (30, 0.4, False), (-3, 0.9, False)]
)
def test_a_moon_takes_the_milky_way_that_is_up_and_more_than_half(
    altitude: float, lit: float, *, expected: bool
) -> None:
    assert made_sky(moon=Standing(altitude, 90.0), moon_lit=lit).is_moonlit is expected


def test_light_takes_faint_stars_first() -> None:
    skies = [made_sky(sun=Standing(sun, 0.0)) for sun in (-40.0, -18.0, -10.0, -3.0)]
    found = [sky.faintest for sky in skies]
    assert found[0] == found[1] == 5.0
    assert found[1] > found[2] > found[3]
    moonlit = made_sky(moon=Standing(40.0, 0.0), moon_lit=1.0)
    assert moonlit.faintest == pytest.approx(3.8)


def test_what_is_open_is_over_the_horizon_and_over_the_land() -> None:
    walled = made_sky(skyline=Skyline(((0.0, -3.0), (90.0, 12.0))))
    assert walled.is_open(Standing(13.0, 90.0))
    assert not walled.is_open(Standing(11.0, 90.0))
    assert walled.is_open(Standing(0.5, 0.0))
    assert not walled.is_open(Standing(-0.5, 0.0)), "though the land falls away"


def test_named_stars_are_given_by_brightness_without_the_nameless_and_the_fainter() -> None:
    stars = made_stars(("Vega", 0.0, 80, 90), ("", 1.0, 10, 10), ("Polaris", 2.0, 40, 0))
    assert [star.name for star in stars.named(1.5)] == ["Vega"]
    assert [star.name for star in stars.named(2.0)] == ["Vega", "Polaris"]
    assert next(stars.named(1.0)).standing == Standing(80.0, 90.0)


def test_a_star_that_is_wanted_is_known_for_it_though_computed_on_its_own() -> None:
    sky = made_sky(wanted=(made_wanted("My Vega", 80.0, 359.9999999),))
    assert sky.is_wanted(Standing(80.0000001, 0.0000001))
    assert not sky.is_wanted(Standing(80.1, 0.0))
    assert not sky.is_wanted(Standing(80.0, 1.0))
