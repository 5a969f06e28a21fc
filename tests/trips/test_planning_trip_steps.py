"""Which steps a trip may take."""

from __future__ import annotations

import pytest

from trips.models import Trip
from trips.planning.trip_steps import OVER, STEPS, may_step

ALLOWED = {
    ("draft", "open"),
    ("open", "full"),
    ("full", "open"),
    ("open", "confirmed"),
    ("full", "confirmed"),
    ("confirmed", "running"),
    ("running", "done"),
    *((status, "cancelled") for status in ("draft", "open", "full", "confirmed", "running")),
}


@pytest.mark.parametrize("status", Trip.Status.values)
@pytest.mark.parametrize("to", Trip.Status.values)
def test_a_step_is_allowed_or_not(status: str, to: str) -> None:
    assert may_step(status, to) == ((status, to) in ALLOWED)


def test_every_status_is_known_and_two_are_the_end() -> None:
    assert set(STEPS) == set(Trip.Status.values)
    assert {"done", "cancelled"} == OVER


def test_an_unknown_status_leads_nowhere() -> None:
    assert not may_step("lost", "open")
