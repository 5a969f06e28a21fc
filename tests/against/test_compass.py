"""Magnetic declination against the test values that the model's makers publish with it."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from sky.compass import declination_at
from sky.place import Place
from tests.against.published import rows


@pytest.mark.parametrize("case", [pytest.param(row, id=row["id"]) for row in rows("compass")])
def test_the_needle_points_where_the_model_s_makers_say(case: dict[str, Any]) -> None:
    inputs, expected, allowed = case["inputs"], case["expected"], case["tolerance"]
    place = Place(inputs["latitude"], inputs["longitude"], inputs["elevation_m"])
    ours = declination_at(place, date.fromisoformat(inputs["date"]))
    assert ours.model == expected["model"]
    assert ours.degrees == pytest.approx(
        expected["declination_degrees"], abs=allowed["declination_degrees"]
    )
    assert ours.horizontal_nt == pytest.approx(
        expected["horizontal_nt"], abs=allowed["horizontal_nt"]
    )
