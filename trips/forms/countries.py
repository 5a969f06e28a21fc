"""The countries there are, by the two letters of ISO 3166-1, as the zone database lists them."""

from __future__ import annotations

from functools import cache
from importlib.resources import files


@cache
def country_codes() -> frozenset[str]:
    """Read `iso3166.tab`, which comes with tzdata and is public domain."""
    table = (files("tzdata") / "zoneinfo" / "iso3166.tab").read_text("utf-8")
    return frozenset(line[:2] for line in table.splitlines() if not line.startswith("#"))
