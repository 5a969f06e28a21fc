"""Apparent places, the Moon's lit fraction, altitude and azimuth against the books.

A12–A14: Meeus. A23: the NREL solar position algorithm. A25: the USNO's table of 2018.
"""

from __future__ import annotations

import math
from datetime import datetime, timedelta

import pytest
from skyfield.api import load

from sky.constants import AU_KM
from sky.ephemeris import altitude_azimuth, apparent
from sky.phases import illuminated
from tests.against.published import row


@pytest.mark.parametrize("identity", ["A12", "A13"])
def test_an_apparent_place_is_the_published_one(identity: str) -> None:
    case = row("positions", identity)
    ours = apparent(case["inputs"]["body"], case["inputs"]["tt_jd"])
    for name, expected in case["expected"].items():
        found = ours.distance_km / AU_KM if name == "distance_au" else getattr(ours, name)
        assert found == pytest.approx(expected, abs=case["tolerance"][name]), name


def test_the_lit_fraction_is_the_published_one() -> None:
    case = row("positions", "A14")
    ours = float(illuminated(case["inputs"]["tt_jd"]))
    expected, allowed = case["expected"], case["tolerance"]
    assert ours == pytest.approx(expected["illuminated"], abs=allowed["illuminated"])
    phase_angle = math.degrees(math.acos(2 * ours - 1))
    assert phase_angle == pytest.approx(
        expected["phase_angle_degrees"], abs=allowed["phase_angle_degrees"]
    )


def test_the_lit_fraction_follows_the_table_from_new_moon_past_first_quarter() -> None:
    case = row("positions", "A25")
    first = datetime.fromisoformat(case["inputs"]["first_instant"])
    scale = load.timescale(builtin=True)
    for day, expected in enumerate(case["expected"]):
        tt_jd = float(scale.from_datetime(first + timedelta(days=day)).tt)
        assert float(illuminated(tt_jd)) == pytest.approx(expected, abs=case["tolerance"]), day


def test_altitude_and_azimuth_are_the_published_ones() -> None:
    case = row("positions", "A23")
    inputs = case["inputs"]
    altitude, azimuth = altitude_azimuth(
        inputs["body"],
        inputs["latitude"],
        inputs["longitude"],
        inputs["elevation_m"],
        datetime.fromisoformat(inputs["instant"]),
    )
    assert altitude == pytest.approx(case["expected"]["altitude_degrees"], abs=case["tolerance"])
    assert azimuth == pytest.approx(case["expected"]["azimuth_degrees"], abs=case["tolerance"])
