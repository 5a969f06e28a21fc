"""Deep-sky objects: found by any name, refused with the nearest, each with the field it wants."""

from __future__ import annotations

import pytest
from pyongc import ongc

from sky.errors import SkyError
from sky.targets import deep_sky
from sky.targets.catalogue import catalogue, spelt
from sky.targets.kinds import search, target_of
from sky.targets.target import FixedPoint

CLUSTERS = ("OCl", "GCl", "*Ass")


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("NGC0224", "NGC0224"),
        ("M 31", "NGC0224"),
        ("M31", "NGC0224"),
        ("Messier 031", "NGC0224"),
        ("NGC 224", "NGC0224"),
        ("ngc224", "NGC0224"),
        ("andromeda galaxy", "NGC0224"),
        ("IC 434", "IC0434"),
        ("Caldwell 14", "C014"),
        ("C14", "C014"),
        ("Melotte 22", "Mel022"),
        ("M 45", "Mel022"),
        ("Pléiades", "Mel022"),
        ("Collinder 399", "Cl399"),
        ("Sh2-155", "C009"),
        ("47 Tucanae", "NGC0104"),
        ("ESO 56-115", "ESO056-115"),
        ("Horsehead Nebula", "B033"),
    ],
)
def test_an_object_is_found_by_any_of_its_names(name: str, key: str) -> None:
    assert target_of(f"deep-sky:{name}").key == f"deep-sky:{key}"


@pytest.mark.parametrize(
    ("name", "key"),
    [("NGC 2244", "NGC2239"), ("IC 2118", "NGC1909"), ("M 102", "NGC5457"), ("IC 11", "NGC0281")],
)
def test_a_duplicate_leads_to_its_object(name: str, key: str) -> None:
    assert deep_sky.target(name).key == f"deep-sky:{key}"


def test_every_duplicate_of_the_catalogue_leads_to_an_object() -> None:
    duplicates = [one.name for one in ongc.listObjects(type=["Dup"])]
    assert len(duplicates) == 652
    assert [name for name in duplicates if catalogue().find(name) is None] == []


def test_what_does_not_exist_is_no_object() -> None:
    missing = [one.name for one in ongc.listObjects(type=["NonEx"])]
    assert len(missing) == 10
    assert [name for name in missing if catalogue().find(name)] == []


def test_every_other_row_of_the_catalogue_is_found_by_its_own_name() -> None:
    assert len(catalogue().objects) == 14033 - 652 - 10
    strayed = [key for key in catalogue().objects if catalogue().keys[spelt(key)] != key]
    assert strayed == []


@pytest.mark.parametrize("key", ["NGC0224", "NGC0104", "ESO056-115", "NGC7000"])
def test_an_object_stands_where_the_catalogue_has_it(key: str) -> None:
    """pyongc 1.2 (OpenNGC): its own sexagesimal texts, where we read its radians."""
    row = ongc.get(key)
    hours, minutes, seconds = (float(part) for part in row.ra.split(":"))
    degrees, arcminutes, arcseconds = (abs(float(part)) for part in row.dec.split(":"))
    sign = -1 if row.dec.startswith("-") else 1
    point = deep_sky.target(key).points[0]
    assert isinstance(point, FixedPoint)
    assert point.ra_degrees == pytest.approx(15 * (hours + minutes / 60 + seconds / 3600), abs=1e-4)
    assert point.dec_degrees == pytest.approx(
        sign * (degrees + arcminutes / 60 + arcseconds / 3600), abs=1e-4
    )


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("Andromda Galxy", "Andromeda Galaxy"), ("Whrilpool", "Whirlpool Galaxy"), ("M 111", "M 11")],
)
def test_an_unknown_name_is_refused_with_the_nearest(typed: str, meant: str) -> None:
    with pytest.raises(SkyError) as refused:
        deep_sky.target(typed)
    assert refused.value.code == "target_unknown"
    assert refused.value.fields["name"] == typed
    assert meant in refused.value.fields["nearest"]  # type: ignore[operator]  # fields are objects


@pytest.mark.parametrize("typed", ["", " ", "★", "x" * 5000, "NGC", "'; DROP TABLE objects"])
def test_nonsense_is_refused_without_a_guess_or_with_one(typed: str) -> None:
    with pytest.raises(SkyError):
        deep_sky.target(typed)


def test_the_exact_name_comes_first_in_a_search() -> None:
    assert [one.key for one in deep_sky.search("M 31")] == ["deep-sky:NGC0224"]
    assert deep_sky.search("flame nebula")[0].key == "deep-sky:NGC2024"


def test_a_part_of_a_name_finds_all_that_hold_it() -> None:
    found = {one.key for one in deep_sky.search("magell")}
    assert found == {"deep-sky:ESO056-115", "deep-sky:NGC0292"}


def test_nothing_typed_finds_nothing() -> None:
    assert search("") == []
    assert deep_sky.search("★") == []


def test_a_search_gives_no_more_than_a_page_shows() -> None:
    assert len(deep_sky.search("a")) == deep_sky.MOST_FOUND


def test_a_listing_says_what_it_is_how_large_and_how_bright() -> None:
    """OpenNGC: M 31 is 177.83′ × 69.66′ and of V 3.44."""
    (one,) = deep_sky.search("M 31")
    assert one.about == "galaxy, 3.0° × 1.2°, V 3.4"
    assert one.field_degrees == 8.9
    assert "NGC 224" in one.other_names


def test_what_the_catalogue_does_not_know_is_not_said() -> None:
    (one,) = deep_sky.search("IC 5067")
    assert (one.about, one.field_degrees) == ("object", None)


def test_an_object_wants_moonless_dark_and_twenty_five_degrees() -> None:
    target = deep_sky.target("M 31")
    assert (target.light, target.least_altitude_degrees) == ("moonless", 25.0)


def test_the_own_list_has_about_120_objects_and_each_exists() -> None:
    rows = deep_sky.starter_list()
    assert 110 <= len(rows) <= 130
    assert [key for key in rows if ongc.get(key) is None] == []
    assert [key for key in rows if key not in catalogue().objects] == []
    assert len({spelt(row.name) for row in rows.values()}) == len(rows)


@pytest.mark.parametrize("key", sorted(deep_sky.starter_list()))
def test_the_field_of_a_listed_object_fits_its_size(key: str) -> None:
    """The rule is common practice; the sizes are pyongc's own."""
    row, major = deep_sky.starter_list()[key], ongc.get(key).dimensions[0]
    if row.picture:
        # More than the object is the picture, so that the object is inside it.
        assert row.field_degrees >= max((major or 0) / 60, 2.7)
    else:
        assert row.field_degrees == pytest.approx(max(3 * major / 60, 2.7), abs=0.0501)
        assert major >= 7.5, "too small for the lenses that the list is for"


@pytest.mark.parametrize("key", sorted(deep_sky.starter_list()))
def test_only_clusters_of_stars_are_listed_for_moonlight_too(key: str) -> None:
    if deep_sky.starter_list()[key].light == "dark":
        assert catalogue().objects[key].type in CLUSTERS
    else:
        assert deep_sky.starter_list()[key].light == "moonless"


def test_the_own_list_serves_both_hemispheres() -> None:
    """Each has enough that reaches 25° at 45° of latitude, and some that the other never sees."""
    decs = [catalogue().objects[key].point.dec_degrees for key in deep_sky.starter_list()]
    north, south = [[90 - abs(lat - dec) for dec in decs] for lat in (45, -45)]
    assert sum(high >= 25 for high in north) >= 70
    assert sum(high >= 25 for high in south) >= 70
    assert sum(high < 0 for high in north) >= 15
    assert sum(high < 0 for high in south) >= 15


def test_the_moon_is_a_target_in_any_light() -> None:
    moon = target_of("moon:moon")
    assert (moon.name, moon.light, moon.least_altitude_degrees) == ("Moon", "any", 5.0)
    assert search("moon")[0].key == "moon:moon"


def test_there_is_one_moon() -> None:
    with pytest.raises(SkyError) as refused:
        target_of("moon:titan")
    assert refused.value.code == "target_unknown"
