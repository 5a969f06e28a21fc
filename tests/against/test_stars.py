"""The star table against PyEphem's own list, Skyfield's names and Skyfield's sky."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import ephem
import ephem.stars
import numpy as np
import pytest
from skyfield.api import Star
from skyfield.named_stars import named_star_dict

from sky.apparent import unit_vectors
from sky.ephemeris import timescale
from sky.errors import SkyError
from sky.place import Place
from sky.stars import bright_stars, directions_at_once
from sky.targets.target import FixedPoint
from tests.against import skyfield_search as referee

ARCMINUTE = 1 / 60
PLACE = Place(40.4, -1.1, 1600, "Europe/Madrid")
# Red and variable: no relation of colours gives their V to a tenth.
RED = {"Antares", "Betelgeuse", "Gacrux"}
# α Pegasi, κ Velorum, γ Corvi and ε Cygni as the IAU's working group names them. Skyfield gives
# their names or these to other stars; from memory.
NAMED_ANEW = {"Markab": 113963, "Markeb": 45941, "Gienah": 59803, "Aljanah": 102488}


@pytest.fixture(scope="module")
def kernel() -> Iterator[Any]:
    with referee.kernel() as opened:
        yield opened


def listed() -> Iterator[tuple[str, Any, float]]:
    """Give PyEphem's stars: name, ICRS unit vector at J2000, V."""
    for name in ephem.stars.stars:
        star = ephem.star(name)
        star.compute("2000", epoch="2000")
        point = FixedPoint(math.degrees(star.a_ra), math.degrees(star.a_dec))
        yield name, unit_vectors((point,))[0], star.mag


def test_every_star_of_pyephem_s_list_is_there_and_as_bright() -> None:
    """V of the Hipparcos main catalogue; ours is estimated from the New Reduction's Hp."""
    stars, differences = bright_stars(), []
    for name, vector, magnitude in listed():
        near = np.flatnonzero(stars.vectors @ vector > math.cos(math.radians(ARCMINUTE)))
        assert len(near), name
        brightest = near[np.argmin(stars.magnitudes[near])]
        difference = abs(stars.magnitudes[brightest] - magnitude)
        assert difference < (0.2 if name in RED else 0.07), name
        differences.append(difference)
    assert np.median(differences) < 0.015


def test_names_are_those_of_their_hipparcos_numbers() -> None:
    stars = bright_stars()
    named = {name: hip for name, hip in zip(stars.names, stars.hips.tolist(), strict=True) if name}
    assert named["Polaris"] == 11767
    assert named | NAMED_ANEW == named
    kept = {name: hip for name, hip in named.items() if name not in NAMED_ANEW}
    assert {name: named_star_dict[name] for name in kept} == kept


def test_the_table_is_whole_and_in_order() -> None:
    stars = bright_stars()
    assert len(stars.magnitudes) == len(stars.vectors) == len(set(stars.hips.tolist())) == 2883
    assert (np.diff(stars.magnitudes) >= 0).all()
    assert stars.magnitudes[-1] == 5.5


@pytest.mark.parametrize("year", [1972, 2027, 2050])
def test_stars_stand_where_skyfield_has_them(kernel: Any, year: int) -> None:
    stars, instant = bright_stars(), datetime(year, 7, 3, 23, 6, tzinfo=UTC)
    chosen = np.arange(0, len(stars.hips), 97)
    ra = np.degrees(np.arctan2(stars.vectors[chosen, 1], stars.vectors[chosen, 0])) % 360
    dec = np.degrees(np.arcsin(stars.vectors[chosen, 2]))
    seen = referee.observer(kernel, PLACE).at(timescale().from_datetime(instant))
    altitude, azimuth, _ = seen.observe(Star(ra_hours=ra / 15, dec_degrees=dec)).apparent().altaz()
    ours = directions_at_once(stars.vectors[chosen], PLACE, instant)
    assert ours.altitude_geometric_degrees == pytest.approx(altitude.degrees, abs=1 / 3600)
    apart = np.abs((ours.azimuth_degrees - azimuth.degrees + 180) % 360 - 180)
    assert (apart * np.cos(altitude.radians)).max() < 1 / 3600


@pytest.mark.parametrize("year", [1971, 2051])
def test_a_year_that_cannot_be_computed_is_refused(year: int) -> None:
    with pytest.raises(SkyError, match="instant_outside"):
        directions_at_once(bright_stars().vectors, PLACE, datetime(year, 6, 1, tzinfo=UTC))
