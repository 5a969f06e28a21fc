"""Emergency numbers by country, to be proposed; whose they are stands in README.md beside them."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Proposal:
    """`number` reaches help of any kind; the others are empty where it is the only one."""

    country: str
    number: str
    ambulance: str
    fire: str
    police: str
    source: str


def proposed(country: str) -> Proposal | None:
    """Give what is known of a country by its two letters; None where nobody read a source."""
    return _table().get(country.upper())


@cache
def _table() -> Mapping[str, Proposal]:
    text = (files(__package__) / "numbers.csv").read_text("utf-8")
    return {row["country"]: Proposal(**row) for row in csv.DictReader(text.splitlines())}
