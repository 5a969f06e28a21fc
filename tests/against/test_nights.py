"""Whole nights against published tables and against three independent libraries.

A20–A22: USNO. A24: NREL, and its trap of the evening before. A28: a Moon up for 37 minutes.
A31–A37: Skyfield, PyEphem and Astropy, which agree among themselves.
"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest

from sky.night import Night
from sky.place import Place
from tests.against.published import row, rows
from tests.nights import nights_of

CASES = [
    pytest.param(case, evening, event, id=f"{case['id']} {evening} {event}")
    for case in rows("nights")
    for evening, events in case["expected"].items()
    for event in events
]


def place(inputs: dict[str, Any]) -> Place:
    return Place(inputs["latitude"], inputs["longitude"], inputs["elevation_m"], inputs["zone"])


def night(case: dict[str, Any], evening: str) -> Night:
    day = date.fromisoformat(evening)
    (found,) = nights_of(place(case["inputs"]), day, day)
    assert found.date == day
    return found


def kind(event: str) -> str:
    if event.startswith("moon"):
        return "moon"
    return "sun" if event in ("sunset", "sunrise") else "twilight"


def off_by(ours: datetime, published: str) -> float:
    return abs((ours - datetime.fromisoformat(published).astimezone(UTC)).total_seconds())


@pytest.mark.parametrize(("case", "evening", "event"), CASES)
def test_an_event_is_when_the_source_says(case: dict[str, Any], evening: str, event: str) -> None:
    expected, ours = case["expected"][evening][event], getattr(night(case, evening), event)
    allowed = case["tolerance"][kind(event)]
    if expected is None:
        assert ours is None
        assert event in night(case, evening).absent
    elif isinstance(expected, list):
        assert len(ours) == len(expected)
        assert all(off_by(o, e) <= allowed for o, e in zip(ours, expected, strict=True))
    else:
        assert off_by(ours, expected) <= allowed


def test_a_sunset_west_of_greenwich_is_not_that_of_the_evening_before() -> None:
    """A24: the solar position algorithm prints 17:20:19 beside 17 October 2003."""
    case = row("nights", "A24")
    printed = case["expected"]["2003-10-16"]["sunset"].replace("10-16", "10-17")
    sunset = night(case, "2003-10-17").sunset
    assert sunset is not None
    assert off_by(sunset, printed) > 60


def test_a_moon_up_for_37_minutes_is_not_missed() -> None:
    """A28: the short stay spans local noon, so it ends one night and begins the next."""
    case = row("nights", "A28")
    before, after = night(case, "2023-02-18"), night(case, "2023-02-19")
    up = after.moonsets[0] - before.moonrises[-1]
    assert up.total_seconds() == pytest.approx(37 * 60, abs=120)
