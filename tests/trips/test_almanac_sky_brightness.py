"""The sky's brightness along a night: of what it is made, where it is darkest, in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime

import numpy as np
import pytest

from sky.light.brightness import LocalSky, sky_at
from sky.place import Place
from trips.almanac.brightness_words import made_of, overhead_words, tenths, usable_words
from trips.almanac.night_targets import NightTarget, night_targets
from trips.almanac.nights import compute_nights
from trips.almanac.sky_brightness import NightLight, Parts, night_light
from trips.models import Site, Spot, TargetEntry

ZONE = "Europe/Madrid"
NEW_MOON, HALF_MOON = date(2027, 7, 3), date(2027, 7, 13)
TARGETS = ("milky-way:core", "deep-sky:NGC7000", "planet:saturn")


def a_site(mag: float | None = 21.5) -> Site:
    site = Site(name="Hill", latitude=40.4, longitude=-1.1, elevation_m=1600, zone=ZONE)
    site.sky_brightness = mag
    return site


def light_of(
    evening: date = NEW_MOON,
    *,
    site: Site | None = None,
    spot: Spot | None = None,
    keys: Sequence[str] = TARGETS,
) -> tuple[NightLight, tuple[NightTarget, ...]]:
    here = site or a_site()
    (row,) = compute_nights(here, evening, evening)
    entries = [TargetEntry(target=key, name=key) for key in keys]
    seen = night_targets(entries, here, spot, evening, dark_level=-18).seen
    return night_light(row, here, spot, seen), seen


def test_a_night_is_looked_at_every_five_minutes_from_sunset_to_sunrise() -> None:
    light, seen = light_of()
    assert np.diff(light.unix[:-1]) == pytest.approx(300)
    assert light.unix[-1] - light.unix[-2] <= 300
    assert [line.target for line in light.toward] == list(seen)
    for line in (light.overhead, *light.toward):
        assert line.magnitudes.shape == line.is_clear.shape == light.unix.shape


def test_the_best_moment_is_as_sky_itself_says_and_its_parts_add_up() -> None:
    light, _ = light_of(HALF_MOON)
    for line in light.toward:
        best, target = line.best, line.target
        assert target is not None
        where = target.best.standing
        there = where.altitude_degrees, where.azimuth_degrees
        at = datetime.fromtimestamp(best.at, UTC)
        alone = sky_at(LocalSky(zenith_mag=21.5), Place(40.4, -1.1, 1600), at, *there)
        assert best.sky_mag == pytest.approx(alone.magnitude[0], abs=1e-6)
        assert best.sky_mag == pytest.approx(
            best.natural_mag - best.glow_mag - best.moon_mag - best.twilight_mag
        )


def test_the_zenith_is_darkest_as_measured_while_moon_and_sun_are_down() -> None:
    light, _ = light_of()
    assert light.overhead.best.sky_mag == pytest.approx(21.5, abs=0.01)
    start, end = light.darkest
    assert 4 < (end - start) / 3600 < 6


def test_after_the_moon_has_set_it_is_darker() -> None:
    """The Moon sets at 02:51 local time, 00:51 UTC."""
    light, _ = light_of(HALF_MOON)
    start, _ = light.darkest
    assert datetime.fromtimestamp(start, UTC).hour == 0
    before = light.overhead.magnitudes[light.unix < start - 900]
    assert before.max() < 21


def test_a_measured_sky_is_said_to_be_measured_and_an_estimated_one_not() -> None:
    assert light_of(keys=())[0].is_measured
    assert not light_of(site=a_site(None), keys=())[0].is_measured


def test_behind_the_land_a_target_is_not_clear_though_its_sky_is_told() -> None:
    site = a_site()
    spot = Spot(
        site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600,
        skyline=[[0.0, 0.0], [90.0, 60.0], [179.0, 60.0], [180.0, 0.0]],
    )  # fmt: skip
    behind = light_of(spot=spot, site=site, keys=["milky-way:core"])[0].toward[0]
    free = light_of(site=site, keys=["milky-way:core"])[0].toward[0]
    assert behind.is_clear.sum() < free.is_clear.sum()
    assert np.isfinite(behind.magnitudes).all()


# Words


def parts(*, glow: float = 0.0, moon: float = 0.0, twilight: float = 0.0) -> Parts:
    return Parts(0.0, 21.67 - glow - moon - twilight, 21.67, glow, moon, twilight, 6.25)


def test_what_a_sky_is_made_of_is_told_with_what_matters_only() -> None:
    assert made_of(parts(glow=0.16, moon=2.08)) == (
        "21.7 by nature; brighter by 0.2 for skyglow and 2.1 for the Moon"
    )
    assert made_of(parts(twilight=0.05)) == "21.7 by nature; brighter by 0.1 for twilight"
    assert made_of(parts(glow=0.04)) == "21.7 by nature, and nothing brightens it"


def test_tenths_are_rounded_and_not_cut() -> None:
    assert tenths(21.67) == "21.7"
    assert tenths(20.96) == "21.0"


def test_the_darkest_is_a_stretch_or_a_moment() -> None:
    assert "darkest 02:00–03:30, 21.7" in overhead_words(parts(), (0.0, 5400.0), "Etc/GMT-2")
    assert "darkest 02:00, 21.7" in overhead_words(parts(), (0.0, 0.0), "Etc/GMT-2")


def test_usable_dark_is_told_with_its_hours_or_that_there_is_none() -> None:
    both = [(0.0, 3600.0), (7200.0, 10800.0)]
    assert usable_words(both, "Etc/GMT-2") == "usable 02:00–03:00 and 04:00–05:00"
    assert usable_words([], "UTC") == "at no time usable"
    assert "needs no dark" in usable_words(None, "UTC")
