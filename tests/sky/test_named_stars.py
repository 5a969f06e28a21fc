"""Stars with a name as targets: found by it, wanted under any Moon, and no other kind's."""

from __future__ import annotations

import pytest

from sky.errors import SkyError
from sky.stars import bright_stars
from sky.targets import named_stars
from sky.targets.kinds import search, target_of
from sky.targets.named_stars import KIND


def test_every_star_that_has_a_name_is_a_target() -> None:
    names = [name for name in bright_stars().names if name]
    assert len(set(names)) == len(names)
    for name in names:
        star = KIND.make(name)
        assert star.name == name
        assert target_of(star.key) == star


def test_a_star_is_wanted_under_any_moon_and_down_to_the_land() -> None:
    vega = target_of("star:vega")
    assert (vega.kind, vega.name, vega.light) == ("star", "Vega", "dark")
    assert vega.least_altitude_degrees is None
    assert vega.active is None


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("Polaris", "star:polaris"),
        ("pole star", "star:polaris"),
        ("Alpha Centauri", "star:rigilkentaurus"),
        ("rigil kent", "star:rigilkentaurus"),
        ("Eltanin", "star:etamin"),
        ("deneb", "star:deneb"),
        ("Men", "star:men"),
        ("Sadr", "star:sadr"),
    ],
)
def test_people_find_it_by_the_names_they_use(typed: str, key: str) -> None:
    assert KIND.search(typed)[0].key == key


@pytest.mark.parametrize("typed", ["", "  ", "★", "Jupiter", "M 31", "Sadr region"])
def test_what_is_no_star_is_not_found(typed: str) -> None:
    assert KIND.search(typed) == []


def test_a_star_and_the_nebulae_around_it_are_both_found() -> None:
    found = [listing.label for listing in search("Sadr")]
    assert found == ["Sadr", "Nebulae around Sadr"]


def test_the_brightest_are_offered_unasked_and_the_pole_star_and_no_others() -> None:
    offered = [listing.label for listing in KIND.all()]
    assert offered[:3] == ["Sirius", "Canopus", "Arcturus"]
    assert offered[-1] == "Polaris"
    assert len(offered) < 30
    assert "Alcor" not in offered


def test_every_listing_makes_its_target() -> None:
    for listing in KIND.all():
        assert KIND.make(listing.key.partition(":")[2]).name == listing.label


def test_no_two_stars_share_a_name() -> None:
    names = [name for star in named_stars.named_stars().values() for name in star.names]
    assert len(set(names)) == len(names)
    assert set(named_stars.ALSO) <= set(named_stars.named_stars())


def test_an_unknown_star_is_refused_with_the_nearest() -> None:
    with pytest.raises(SkyError) as refused:
        named_stars.target("betelguese")
    assert refused.value.code == "target_unknown"
    assert refused.value.fields["nearest"] == ("Betelgeuse",)
