"""What towns add to the sky of a place: near and far, inside one, and where there is none."""

from __future__ import annotations

import numpy as np
import pytest

from sky.bearings import bearing_between
from sky.light.skyglow import FARTHEST_KM, Glow, glow_at, radius_km, walker
from sky.place import Place

HILL = Place(40.1, -1.03, 1600.0, "Europe/Madrid")
MADRID = Place(40.4165, -3.7026)
OCEAN = Place(-48.88, -123.39)


def test_the_strongest_town_comes_first_and_the_sum_counts_all() -> None:
    glow = glow_at(HILL)
    shares = [town.share for town in glow.towns]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) < glow.share == pytest.approx(glow.shares.sum())
    assert "Teruel" in [town.name for town in glow.towns[:3]]


def test_a_town_stands_where_a_straight_line_to_it_points() -> None:
    for town in glow_at(HILL).towns[:12]:
        line = bearing_between(HILL, Place(town.latitude, town.longitude, 900.0))
        assert town.azimuth_degrees == pytest.approx(line.azimuth_degrees, abs=0.2)
        assert town.distance_km == pytest.approx(line.distance_m / 1000, rel=0.006)


@pytest.mark.parametrize("step", [10.0, 15.0, 45.0, 7.0])
def test_directions_share_out_the_whole(step: float) -> None:
    for place in (HILL, MADRID):
        middles, shares = glow_at(place).by_azimuth(step)
        assert len(middles) == round(360 / step) == len(shares)
        assert shares.sum() == pytest.approx(glow_at(place).share)


def test_a_town_lights_the_sector_that_it_lies_in() -> None:
    glow = one_town(azimuth=357.0, inside=False)
    assert glow.by_azimuth(10.0)[1].tolist() == [1.0, *[0.0] * 35]
    assert one_town(azimuth=5.1, inside=False).by_azimuth(10.0)[1][1] == 1.0


def test_a_town_around_the_place_has_no_direction() -> None:
    assert one_town(azimuth=5.1, inside=True).by_azimuth(90.0)[1].tolist() == [0.25] * 4
    assert glow_at(MADRID).towns[0].name == "Madrid"
    assert glow_at(MADRID).towns[0].is_inside
    assert not glow_at(HILL).towns[0].is_inside


def one_town(*, azimuth: float, inside: bool) -> Glow:
    return Glow(1.0, (), np.array([azimuth]), np.array([1.0]), np.array([inside]))


def test_a_town_at_distance_nought_is_as_bright_as_at_its_edge() -> None:
    for people in (1_000, 100_000, 10_000_000):
        edge = max(3.0, float(radius_km(people)))
        assert walker(people, 0.0) == walker(people, edge) < np.inf
        assert walker(people, edge * 1.01) < walker(people, edge)


def test_where_no_town_is_near_the_sky_is_natural() -> None:
    glow = glow_at(OCEAN)
    assert glow.share == 0.0
    assert glow.towns == ()
    assert not glow.by_azimuth(30.0)[1].any()


def test_a_town_beyond_reach_does_not_count() -> None:
    assert max(town.distance_km for town in glow_at(HILL).towns) <= FARTHEST_KM
    near_pole = glow_at(Place(89.5, 0.0))
    assert near_pole.share == 0.0


def test_towns_beyond_the_date_line_count() -> None:
    """Taveuni in Fiji lies on it."""
    sides = [glow_at(Place(-16.9, longitude)).share for longitude in (179.99, -179.99)]
    assert sides[0] > 0
    assert sides[1] == pytest.approx(sides[0], rel=0.1)


def test_another_coefficient_changes_the_sum_and_not_the_order() -> None:
    usual, brighter = glow_at(HILL), glow_at(HILL, coefficient=0.02)
    assert brighter.share == pytest.approx(2 * usual.share)
    assert [town.name for town in brighter.towns] == [town.name for town in usual.towns]


def test_the_parts_of_a_city_are_not_counted_beside_it() -> None:
    names = {town.name for town in glow_at(MADRID).towns}
    assert names.isdisjoint({"Carabanchel", "Chamberí", "Puente de Vallecas"})
    assert "Móstoles" in names, "a town of its own"
