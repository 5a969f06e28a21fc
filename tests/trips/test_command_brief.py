"""The command of a brief: what it finds, what it refuses, and that it writes over nothing."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from django.core.management import call_command

from tests.trips.briefed import make_briefed
from tests.trips.joined import EVENING
from trips.management.plain import RefusalError

pytestmark = pytest.mark.django_db


def test_a_draft_is_written_to_a_file_and_said_to_be_one(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    trip, out = make_briefed(), tmp_path / "brief.json"
    call_command("brief", trip=trip.name, night=f"{EVENING}", format="json", out=str(out))
    assert json.loads(out.read_text())["trip"] == trip.name
    assert "not published" in capsys.readouterr().err


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    trip, out = make_briefed(), tmp_path / "brief.txt"
    out.write_text("mine")
    with pytest.raises(RefusalError, match="cannot be written"):
        call_command("brief", trip=trip.name, night=f"{EVENING}", out=str(out))
    assert out.read_text() == "mine"


def test_an_unknown_trip_night_or_person_is_refused_with_those_known() -> None:
    trip = make_briefed()
    with pytest.raises(RefusalError, match=trip.name):
        call_command("brief", trip="No such", night=f"{EVENING}")
    with pytest.raises(RefusalError, match=f"{EVENING}"):
        call_command("brief", trip=trip.name, night="2030-01-01")
    with pytest.raises(RefusalError, match="has no place"):
        call_command("brief", trip=trip.name, night=f"{EVENING}", person="Nobody")
