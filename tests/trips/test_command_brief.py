"""The command of a brief: what it finds, what it refuses, and that it writes over nothing."""

from __future__ import annotations

import io
import json
from pathlib import Path
from typing import Any

import html5lib
import pytest
from django.core.management import call_command
from pypdf import PdfReader

from tests.trips.briefed import CAMERA, bring, make_briefed, make_plans, publish_now
from tests.trips.joined import EVENING, placed
from trips.management.plain import RefusalError
from trips.models import Trip
from trips.services.briefs.without_reader import DRAFT

pytestmark = pytest.mark.django_db


def _written(folder: Path, trip: Trip, form: str, **options: Any) -> bytes:
    out = folder / f"{len(list(folder.iterdir()))}.{form}"
    call_command("brief", trip=trip.name, night=f"{EVENING}", format=form, out=str(out), **options)
    return out.read_bytes()


def test_a_draft_says_that_it_is_one_in_every_format(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    trip = make_briefed()
    kept = json.loads(_written(tmp_path, trip, "json", draft=True))
    assert (kept["trip"], kept["version"], kept["is_draft"]) == (trip.name, 0, True)
    assert "not published" in capsys.readouterr().err
    assert str(DRAFT) in _written(tmp_path, trip, "text", draft=True).decode()
    assert str(DRAFT) in _written(tmp_path, trip, "html", draft=True).decode()
    assert str(DRAFT) in _on_paper(_written(tmp_path, trip, "pdf", draft=True))


def test_a_published_night_does_not_say_that_it_is_a_draft(tmp_path: Path) -> None:
    trip = make_briefed()
    publish_now(trip)
    kept = json.loads(_written(tmp_path, trip, "json"))
    assert (kept["version"], kept["is_draft"]) == (1, False)
    assert str(DRAFT) not in _written(tmp_path, trip, "text").decode()
    assert str(DRAFT) not in _on_paper(_written(tmp_path, trip, "pdf"))
    html = _written(tmp_path, trip, "html").decode()
    assert str(DRAFT) not in html
    page = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(html)
    assert [one.text for one in page.iter("h1")] == ["Sat 5 June 2027"]


def test_an_unpublished_night_is_refused_with_what_would_be_right(tmp_path: Path) -> None:
    trip = make_briefed()
    with pytest.raises(RefusalError, match=f"{EVENING}: publish it, or add --draft"):
        _written(tmp_path, trip, "text")
    with pytest.raises(RefusalError, match="leave --person out"):
        _written(tmp_path, trip, "text", draft=True, person="Ilse")
    assert list(tmp_path.iterdir()) == []


def test_a_persons_brief_has_their_own_lens_and_nothing_of_others(tmp_path: Path) -> None:
    trip = make_briefed()
    for name, focal in (("Ilse", 24.0), ("Bartholomew", 35.0)):
        person = placed(trip, name)
        bring(person, "camera", **CAMERA)
        bring(person, "lens", focal_mm=focal, widest_f_number=1.8)
    publish_now(trip)
    make_plans()
    said = _written(tmp_path, trip, "text", person="Ilse").decode()
    assert "For Ilse" in said
    assert "your 24 mm f/1.8" in said
    assert "15 s, f/1.8, ISO" in said
    assert "35 mm" not in said
    assert "Bartholomew" not in said
    assert "your 24 mm" not in _written(tmp_path, trip, "json").decode()


def _on_paper(pdf: bytes) -> str:
    pages = PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    trip, out = make_briefed(), tmp_path / "brief.txt"
    publish_now(trip)
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
