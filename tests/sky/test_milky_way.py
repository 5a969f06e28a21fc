"""The Milky Way as a target: its parts by name, the arch, and what is no part of it."""

from __future__ import annotations

import numpy as np
import pytest
from skyfield.api import load_constellation_map, position_of_radec

from sky.band import EDGES, edge_vectors, edges
from sky.errors import SkyError
from sky.galactic import galactic_of, to_galactic
from sky.targets import milky_way
from sky.targets.milky_way import KIND, PARTS
from sky.targets.target import Arch, FixedPoint

# The constellations in the borders of Delporte (IAU 1930), as Skyfield holds them.
LIES_IN = {
    "core": "Sgr",
    "scutum": "Sct",
    "cygnus": "Cyg",
    "anticentre": "Aur",
    "carina": "Car",
    "crux": "Cru",
}


@pytest.mark.parametrize("rest", PARTS)
def test_a_part_lies_in_the_constellation_it_is_named_after(rest: str) -> None:
    point = PARTS[rest].point
    where = load_constellation_map()(position_of_radec(point.ra_degrees / 15, point.dec_degrees))
    assert where == LIES_IN[rest]


@pytest.mark.parametrize("rest", PARTS)
def test_a_part_lies_on_the_band(rest: str) -> None:
    point = PARTS[rest].point
    assert abs(galactic_of(point.ra_degrees, point.dec_degrees)[1]) < 5


def test_a_part_is_wanted_without_the_moon_from_eight_degrees_up() -> None:
    core = KIND.make("core")
    assert (core.key, core.kind, core.light) == ("milky-way:core", "milky-way", "moonless")
    assert core.least_altitude_degrees == 8.0
    assert isinstance(core.points[0], FixedPoint)


def test_the_arch_is_limited_by_its_own_top_and_by_no_least_altitude() -> None:
    arch = KIND.make("arch")
    assert arch.points == (Arch(20.0, 60.0),)
    assert arch.least_altitude_degrees is None


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("core", "milky-way:core"),
        ("Galactic centre", "milky-way:core"),
        ("milky way", "milky-way:core"),
        ("arch", "milky-way:arch"),
        ("Cygnus", "milky-way:cygnus"),
    ],
)
def test_people_find_it_by_the_names_they_use(typed: str, first: str) -> None:
    assert KIND.search(typed)[0].key == first


@pytest.mark.parametrize("typed", ["", "  ", "Andromeda"])
def test_what_is_no_part_of_it_is_not_found(typed: str) -> None:
    assert KIND.search(typed) == []


def test_every_listing_makes_its_target() -> None:
    for listing in KIND.all():
        assert KIND.make(listing.key.partition(":")[2]).name == listing.label


def test_an_unknown_part_is_refused_with_the_nearest() -> None:
    with pytest.raises(SkyError) as refused:
        milky_way.target("cygnis")
    assert refused.value.code == "target_unknown"
    assert refused.value.fields["nearest"] == ("cygnus",)


# The band as it is drawn


def test_the_band_is_drawn_widest_at_the_core_and_narrowest_across_from_it() -> None:
    found = edges()
    width = found.faint[1] - found.faint[0]
    assert abs(found.longitudes[np.argmax(width)]) <= 5
    assert abs(found.longitudes[np.argmin(width)]) == 180


def test_the_lane_lies_inside_the_bright_tone_and_that_inside_the_faint_one() -> None:
    found = edges()
    assert (found.faint[0] < found.bright[0]).all()
    assert (found.bright[1] < found.faint[1]).all()
    assert (found.bright[0] <= found.lane[0]).all()
    assert (found.lane[1] < found.bright[1]).all()


def test_the_edges_are_vectors_at_their_latitudes() -> None:
    vectors, found = to_galactic(edge_vectors()), edges()
    assert np.linalg.norm(vectors, axis=2) == pytest.approx(1)
    north = np.degrees(np.arcsin(vectors[EDGES.index("faint_north"), :, 2]))
    assert north == pytest.approx(found.faint[1])
    assert vectors[EDGES.index("equator"), :, 2] == pytest.approx(0, abs=1e-12)
