"""The emergency number: proposed from the country, told as one only once somebody typed it."""

from __future__ import annotations

from importlib.resources import files

import pytest

from trips.forms.countries import country_codes
from trips.models import Site
from trips.planning import emergency_numbers
from trips.services.emergency import proposal_words, proposed_for, words

TABLE = (files(emergency_numbers) / "numbers.csv").read_text("utf-8").splitlines()[1:]


def test_what_is_proposed_names_who_says_so_and_the_other_numbers() -> None:
    proposal = proposed_for(Site(country="NO"))
    assert proposal is not None
    assert proposal_words(proposal) == (
        "NO: 112 (Norwegian Communications Authority Nkom). Ambulance 113, fire 110, police 112."
    )


@pytest.mark.parametrize("country", ["", "XX", "AQ"])
def test_what_no_source_was_read_for_is_not_proposed(country: str) -> None:
    assert proposed_for(Site(country=country)) is None


def test_a_confirmed_number_is_told_whatever_is_listed() -> None:
    assert words(Site(country="GB", emergency_number="112")) == "Emergency number: 112."


@pytest.mark.parametrize(
    ("country", "said"),
    [
        ("AU", "is not confirmed; 000 is listed for AU. Ask who leads before you set out."),
        ("AQ", "is not confirmed: ask who leads before you set out."),
    ],
)
def test_a_number_that_nobody_confirmed_is_never_told_as_one(country: str, said: str) -> None:
    assert words(Site(country=country)) == f"The emergency number {said}"


def test_the_table_is_of_countries_once_each_with_numbers_and_sources() -> None:
    countries = [line[:2] for line in TABLE]
    assert sorted(set(countries)) == countries
    assert set(countries) <= country_codes()
    for country in countries:
        proposal = proposed_for(Site(country=country.lower()))
        assert proposal is not None
        assert proposal.source
        assert all(map(str.isdecimal, (proposal.number, *_singles(proposal))))


def _singles(proposal: emergency_numbers.Proposal) -> list[str]:
    return [one for one in (proposal.ambulance, proposal.fire, proposal.police) if one]
