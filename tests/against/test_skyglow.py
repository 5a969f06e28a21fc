"""Skyglow as scaling laws, never absolute truth; the towns against another table."""

from __future__ import annotations

from statistics import median

import numpy as np
import pytest

from sky.light.brightness import LocalSky
from sky.light.skyglow import walker
from sky.light.towns import all_towns
from tests.against.published import row


def test_the_law_gives_its_published_worked_figures() -> None:
    case = row("skyglow", "E01")
    found = walker(np.array(case["inputs"]["population"]), np.array(case["inputs"]["distance_km"]))
    assert found == pytest.approx(case["expected"], rel=case["tolerance"])


def test_glow_falls_with_distance_and_grows_with_people_as_the_law_says() -> None:
    case = row("skyglow", "E02")
    expected, allowed = case["expected"], case["tolerance"]
    near, far = walker(50_000, 40), walker(50_000, 40 * case["inputs"]["times_as_far"])
    assert far / near == pytest.approx(expected["share_at_twice_the_distance"], abs=allowed)
    larger = 50_000 * case["inputs"]["times_the_people"]
    as_bright = 40 * expected["as_bright_at_times_the_distance"]
    assert walker(larger, as_bright) == pytest.approx(near, rel=allowed)


def test_a_share_of_the_natural_sky_makes_the_published_magnitude() -> None:
    case = row("skyglow", "E03")
    natural = case["inputs"]["natural_mag"]
    skies = [LocalSky(towns_share=one, natural_mag=natural) for one in case["inputs"]["share"]]
    found = [one.overhead_mag for one in skies]
    assert found == pytest.approx(case["expected"], abs=case["tolerance"])


def test_ten_cities_have_the_people_that_another_table_gives_them() -> None:
    case = row("skyglow", "E05")
    towns = all_towns()
    names = [towns.name(town) for town in range(len(towns.country))]
    ratios = []
    for name, people in case["expected"].items():
        country = case["inputs"]["cities"][name]
        found = [n for n, each in enumerate(names) if each == name]
        (town,) = (n for n in found if towns.country_of(n) == country)
        ratios.append(max(towns.populations[town] / people, people / towns.populations[town]))
        assert ratios[-1] < case["tolerance"]["each"], name
    assert median(ratios) < case["tolerance"]["median"]
