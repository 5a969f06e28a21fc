"""Names that are nearly right: what was meant comes first, and what was not does not come."""

from __future__ import annotations

import pytest

from sky.targets.matching import is_slip, nearest, plain

KNOWN = (
    "Polaris", "Polarissima Australis", "Vega", "Andromeda Galaxy", "Antennae Galaxies",
    "Rosette Nebula", "Rosette B", "Galactic core", "M 31", "Moon", "Moon and Jupiter",
)  # fmt: skip


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("andromeda galaxi", "Andromeda Galaxy"),
        ("galaktic core", "Galactic core"),
        ("rosete", "Rosette Nebula"),
        ("polaris star", "Polaris"),
        ("polarissima", "Polarissima Australis"),
        ("Wega", "Vega"),
        ("M 311", "M 31"),
        ("mooon", "Moon"),
    ],
)
def test_a_slip_leads_to_the_name_that_was_meant(typed: str, first: str) -> None:
    assert nearest(typed, KNOWN)[0] == first


def test_what_is_much_less_like_than_the_likest_is_left_out() -> None:
    assert nearest("andromeda galaxi", KNOWN) == ("Andromeda Galaxy",)


@pytest.mark.parametrize("typed", ["", "★", "qqqqqqqq", "x" * 500])
def test_nothing_is_near_to_nonsense(typed: str) -> None:
    assert nearest(typed, KNOWN) == ()


def test_a_name_is_given_once_though_its_first_word_is_near_too() -> None:
    assert nearest("antenae", ("Antennae Galaxies", "Antennae")) == ("Antennae",)


def test_spellings_of_one_name_are_plainly_the_same() -> None:
    assert plain("NGC 0224") == plain("ngc224")
    assert plain("NGC 224") != plain("NGC 2240")


@pytest.mark.parametrize(
    ("typed", "name", "slip"),
    [
        ("polariss", "Polaris", True),
        ("polariss", "Polarissima Australis", False),
        ("andromeda", "Andromeda Galaxy", False),
        ("vega", "Vega", True),
    ],
)
def test_a_slip_is_a_letter_or_so(typed: str, name: str, *, slip: bool) -> None:
    assert is_slip(typed, name) is slip
