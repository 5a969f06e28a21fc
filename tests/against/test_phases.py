"""Moon phases, equinoxes and solstices against published instants.

A15–A18: Meeus (VSOP87, ELP). A26: USNO. B-season: IMCCE. B-phases: recomputed, see its note.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

import pytest
from skyfield.api import load

from sky.phases import equinoxes_and_solstices, moon_phases, new_moons
from tests.against.published import row, rows

SCALE = load.timescale(builtin=True)


def tt_days(instant: datetime) -> float:
    return float(SCALE.from_datetime(instant).tt)


def tt_days_of(written: str) -> float:
    at = datetime.fromisoformat(written)
    return float(SCALE.tt(at.year, at.month, at.day, at.hour, at.minute, at.second).tt)


@pytest.mark.parametrize("identity", ["A15", "A16"])
def test_a_phase_is_at_the_dynamical_time_of_the_book(identity: str) -> None:
    case = row("phases", identity)
    near = date.fromisoformat(case["inputs"]["near"])
    around = moon_phases(near - timedelta(days=2), near + timedelta(days=2))
    (phase,) = [phase for phase in around if phase.kind == case["inputs"]["kind"]]
    off_by = abs(tt_days(phase.instant) - case["expected"]) * 86_400
    assert off_by <= case["tolerance"]


@pytest.mark.parametrize("identity", ["A26", "B-phases-2026"])
def test_all_phases_of_a_stretch_are_those_of_the_table(identity: str) -> None:
    case = row("phases", identity)
    first, last = (date.fromisoformat(case["inputs"][end]) for end in ("first", "last"))
    ours = moon_phases(first, last)
    assert [phase.kind for phase in ours] == [kind for _, kind in case["expected"]]
    for phase, (written, _) in zip(ours, case["expected"], strict=True):
        off_by = abs((phase.instant - datetime.fromisoformat(written)).total_seconds())
        assert off_by <= case["tolerance"], written


def test_the_phases_of_a_year_fall_on_the_printed_dates() -> None:
    """Two dates of the table are a day late against UTC; the row says which."""
    case = row("phases", "B-phases-2025-dates")
    first, last = (date.fromisoformat(case["inputs"][end]) for end in ("first", "last"))
    ours = [(phase.instant.date().isoformat(), phase.kind) for phase in moon_phases(first, last)]
    late = case["inputs"]["other_dates"]
    assert ours == [(late.get(day, day), kind) for day, kind in case["expected"]]


def test_new_moons_are_the_new_among_the_phases() -> None:
    first, last = date(2026, 1, 1), date(2026, 12, 31)
    assert list(new_moons(first, last)) == [
        phase.instant for phase in moon_phases(first, last) if phase.kind == "new"
    ]


@pytest.mark.parametrize("case", rows("seasons"), ids=lambda case: str(case["id"]))
def test_equinoxes_and_solstices_are_when_the_source_says(case: dict[str, Any]) -> None:
    year = case["inputs"]["year"]
    ours = equinoxes_and_solstices(date(year, 1, 1), date(year, 12, 31))
    assert len(ours) == 4
    wanted = ours[case["inputs"]["index"] :][:1] if "index" in case["inputs"] else ours
    for instant, written in zip(wanted, case["expected"], strict=True):
        assert seconds_between(instant, written, case["inputs"]["scale"]) <= case["tolerance"]


def seconds_between(instant: datetime, written: str, scale: str) -> float:
    if scale == "TT":
        return abs(tt_days(instant) - tt_days_of(written)) * 86_400
    return abs((instant - datetime.fromisoformat(written + "+00:00")).total_seconds())
