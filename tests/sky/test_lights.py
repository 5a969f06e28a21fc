"""Each light against its definition, asked every second of some nights; and where there is none."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from sky.altitude import moon_phase, observers
from sky.constants import MOON_RADIUS_KM
from sky.directions import directions_at, nodes_for
from sky.ephemeris import earth_fixed, tt_from_utc
from sky.errors import SkyError
from sky.lights import grid_between, light_spans
from sky.night import DARK_LEVELS, SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.span_arrays import intersect
from sky.targets.target import LIGHTS, Light

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
TEKAPO = Place(-44.0, 170.5, 700, "Pacific/Auckland")
SVALBARD = Place(78.22, 15.65, 0, "Arctic/Longyearbyen")
EDINBURGH = Place(55.9533, -3.1883, 0, "Europe/London")
NIGHTS = 2
# New Moon of 8 March 2027, first quarter of the 15th; last quarter of the 29th.
STRETCHES = [
    pytest.param(TERUEL, date(2027, 3, 12), id="a waxing Moon at 40 north"),
    pytest.param(TERUEL, date(2027, 3, 29), id="a waning Moon at 40 north"),
    pytest.param(TEKAPO, date(2027, 3, 13), id="44 south"),
    pytest.param(EDINBURGH, date(2027, 5, 12), id="no dark at 56 north"),
    pytest.param(SVALBARD, date(2027, 12, 6), id="the polar night"),
    pytest.param(SVALBARD, date(2027, 6, 20), id="the polar day"),
]


@cache
def table_of(place: Place, first: date, nights: int = NIGHTS) -> SeasonTable:
    return compute_season([place], first, first + timedelta(nights - 1))


@cache
def every_second(table_place: Place, first: date) -> tuple[Floats, dict[str, Bools]]:
    """Give the seconds of a stretch, and for each light whether its definition holds."""
    noons = table_of(table_place, first).noons[0]
    unix = np.arange(noons[0], noons[-1])
    sun = directions_at("sun", table_place, unix).altitude_geometric_degrees
    moon = directions_at("moon", table_place, unix)
    toward, distance = earth_fixed(nodes_for("moon", unix[0], unix[-1]), "moon", tt_from_utc(unix))
    away = np.linalg.norm((toward * distance).T - observers((table_place,)).position[0], axis=1)
    limb = -34 / 60 - np.degrees(np.arcsin(MOON_RADIUS_KM / away))
    lit = moon_phase(first, first + timedelta(NIGHTS - 1)).illuminated(tt_from_utc(unix))
    height = moon.altitude_degrees
    return unix, {
        "any": np.ones(len(unix), np.bool_),
        "usable": sun < -6,
        "dark": sun < -18,
        "moonless": (sun < -18) & (moon.altitude_geometric_degrees < limb),
        "twilight": (sun < -6) & (sun > -12),
        "moonlit": (sun < -12) & (height > 10) & (height < 45) & (lit > 0.10) & (lit < 0.70),
    }


def is_in(spans: Floats, unix: Floats) -> Bools:
    held = np.zeros(len(unix), np.bool_)
    for start, end in spans:
        held |= (unix >= start) & (unix < end)
    return held


@pytest.mark.parametrize(("place", "first"), STRETCHES)
@pytest.mark.parametrize("light", LIGHTS)
def test_a_light_is_there_in_the_seconds_in_which_it_is_defined(
    place: Place, first: date, light: Light
) -> None:
    spans = light_spans(table_of(place, first), 0, light)
    unix, defined = every_second(place, first)
    apart = unix[is_in(spans, unix) != defined[light]]
    nearest = np.abs(apart[:, None] - spans.ravel()).min(axis=1, initial=np.inf)
    assert (nearest <= 1).all()


@pytest.mark.parametrize("light", LIGHTS)
def test_the_stretches_have_each_light_somewhere_and_somewhere_not(light: Light) -> None:
    """Or the test above would prove nothing."""
    hours = [
        np.diff(light_spans(table_of(*stretch.values), 0, light)).sum() / 3600
        for stretch in STRETCHES
    ]
    assert max(hours) > 1
    assert light == "any" or min(hours) == 0


@pytest.mark.parametrize("light", LIGHTS)
def test_spans_are_sorted_apart_and_cut_at_noons(light: Light) -> None:
    table = table_of(SVALBARD, date(2027, 12, 1), 31)
    spans, noons = light_spans(table, 0, light), table.noons[0]
    assert (spans[:, 1] > spans[:, 0]).all()
    assert (spans[1:, 0] >= spans[:-1, 1]).all()
    night = np.searchsorted(noons, spans[:, 0], side="right") - 1
    assert (spans[:, 1] <= noons[night + 1]).all()


def test_any_light_is_every_night_from_noon_to_noon() -> None:
    table = table_of(TERUEL, date(2027, 3, 26), 4)
    spans = light_spans(table, 0, "any")
    assert spans.ravel()[[0, -1]].tolist() == table.noons[0][[0, -1]].tolist()
    assert (np.diff(spans).ravel() / 3600).tolist() == [24, 23, 24, 24]


def test_a_date_that_the_zone_skipped_has_no_light() -> None:
    apia = Place(-13.83, -171.77, 2, "Pacific/Apia")
    table = table_of(apia, date(2011, 12, 29), 3)
    assert len(light_spans(table, 0, "any")) == 2
    assert len(light_spans(table, 0, "dark")) == 2


def test_an_ordinary_night_has_a_twilight_in_the_evening_and_one_in_the_morning() -> None:
    assert len(light_spans(table_of(TERUEL, date(2027, 3, 12)), 0, "twilight")) == 2 * NIGHTS


def test_a_twilight_that_lasts_over_noon_is_cut_there() -> None:
    """In December at 78° N the Sun stays between −6° and −12° for hours around noon."""
    table = table_of(SVALBARD, date(2027, 12, 20), 3)
    twilight, noons = light_spans(table, 0, "twilight"), table.noons[0]
    assert set(noons[1:-1]) <= set(twilight[:, 0]) & set(twilight[:, 1])
    assert len(light_spans(table, 0, "dark")) == 3


@pytest.mark.parametrize("light", [light for light in LIGHTS if light != "any"])
def test_the_polar_day_has_no_light_but_any(light: Light) -> None:
    table = table_of(SVALBARD, date(2027, 6, 20))
    assert light_spans(table, 0, light).shape == (0, 2)
    assert len(light_spans(table, 0, "any")) == NIGHTS


def test_moonless_is_inside_dark_and_moonlit_outside_both() -> None:
    table = table_of(TERUEL, date(2027, 3, 1), 31)
    dark, moonless, moonlit = (
        light_spans(table, 0, light) for light in ("dark", "moonless", "moonlit")
    )
    assert intersect(moonless, dark).tolist() == moonless.tolist()
    assert len(intersect(dark, moonlit))
    assert intersect(moonless, moonlit).shape == (0, 2)


@pytest.mark.parametrize(("light", "at"), [("dark", "dark_hours"), ("moonless", "moonless_hours")])
@pytest.mark.parametrize("level", DARK_LEVELS)
def test_the_hours_are_those_of_the_season_at_each_dark_level(
    light: Light, at: str, level: int
) -> None:
    table = table_of(EDINBURGH, date(2027, 4, 15), 31)
    spans = light_spans(table, 0, light, level)
    night = np.searchsorted(table.noons[0], spans[:, 0], side="right") - 1
    hours = np.bincount(night, np.diff(spans).ravel() / 3600, minlength=31)
    expected = getattr(table, at)[DARK_LEVELS.index(level), 0]
    assert hours == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("light", ["twilight", "moonlit", "any"])
def test_the_dark_level_changes_nothing_else(light: Light) -> None:
    table = table_of(TERUEL, date(2027, 3, 12))
    deep, shallow = (light_spans(table, 0, light, level) for level in (-18, -12))
    assert deep.tolist() == shallow.tolist()


def test_a_place_of_a_table_has_its_own_light() -> None:
    first, last = date(2027, 3, 12), date(2027, 3, 13)
    table = compute_season([TEKAPO, TERUEL], first, last)
    for light in LIGHTS:
        alone = light_spans(table_of(TERUEL, first), 0, light)
        assert light_spans(table, 1, light) == pytest.approx(alone, abs=0.02)


def test_an_unknown_light_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        light_spans(table_of(TERUEL, date(2027, 3, 12)), 0, "candle")  # type: ignore[arg-type]
    assert refused.value.code == "light_unknown"
    assert refused.value.fields == {"light": "candle", "known": LIGHTS}


def test_an_unknown_dark_level_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        light_spans(table_of(TERUEL, date(2027, 3, 12)), 0, "dark", -17)
    assert refused.value.code == "dark_level_unknown"


def test_a_grid_has_both_its_ends() -> None:
    assert grid_between(0.0, 25.0, 10.0).tolist() == [0, 10, 20, 25]
    assert grid_between(0.0, 30.0, 10.0).tolist() == [0, 10, 20, 30]
