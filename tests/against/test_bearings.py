"""Directions between places of the ground against a line that surveyors check their work with."""

from __future__ import annotations

import pytest

from sky.bearings import bearing_between
from sky.place import Place
from tests.against.published import row


def test_direction_and_distance_are_the_published_ones() -> None:
    case = row("bearings", "GDA01")
    here, there = Place(**case["inputs"]["from"]), Place(**case["inputs"]["to"])
    expected, allowed = case["expected"], case["tolerance"]
    forth, back = bearing_between(here, there), bearing_between(there, here)
    assert forth.azimuth_degrees == pytest.approx(
        expected["azimuth_degrees"], abs=allowed["azimuth_degrees"]
    )
    assert back.azimuth_degrees == pytest.approx(
        expected["back_azimuth_degrees"], abs=allowed["azimuth_degrees"]
    )
    assert forth.distance_m == pytest.approx(expected["distance_m"], abs=allowed["distance_m"])
