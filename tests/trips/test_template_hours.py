"""Hours as every page writes them."""

from __future__ import annotations

import pytest

from trips.templatetags.nights import hours


@pytest.mark.parametrize(
    ("value", "written"),
    [(4, "4.0 h"), (3.28, "3.3 h"), (3.24, "3.2 h"), (12, "12.0 h"), (0.01, "0.1 h")],
)
def test_hours_are_rounded_to_tenths_and_never_to_nothing(value: float, written: str) -> None:
    assert hours(value) == written.replace(" ", "\u00a0")


def test_nothing_is_none_and_not_a_nought() -> None:
    assert hours(0) == "none"


def test_what_is_not_known_is_a_dash() -> None:
    assert hours(None) == "–"
