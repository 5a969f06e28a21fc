"""A brief on paper, read back by a library that reads PDF: how many sheets, and what is said."""

from __future__ import annotations

import io
import sys
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from pypdf import PdfReader

from tests.trips.brief_sample import SAMPLE
from tests.trips.briefed import facts, make_briefed, the_night
from trips.models import Hazard
from trips.planning.brief.facts import Call, Facts, Written, kept_of
from trips.services.briefs.as_pdf import PAPERS, Paper, as_pdf
from trips.services.briefs.reading import Reading
from trips.services.briefs.without_reader import DRAFT
from trips.services.refusals import RefusedError

PUBLISHED = datetime(2027, 6, 5, 16, 40, tzinfo=UTC)
LONG = " ".join(["Keep to the way that was walked by day, with a light to the ground."] * 3)


def _read(facts: Facts, paper: Paper = "a4", *, number: int = 3) -> PdfReader:
    reading = Reading(number, PUBLISHED, kept_of(facts), {}, has_plan=True)
    return PdfReader(io.BytesIO(as_pdf(reading, paper=paper)))


def _text(pdf: PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in pdf.pages).split())


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_night_is_one_sheet_with_all_that_is_needed_out_there(paper: Paper) -> None:
    pdf = _read(SAMPLE, paper)
    assert len(pdf.pages) == 1
    for said in (
        "20:30", "Lower car park, Broom Hill", "23:30 to 04:32", "None while it is dark",
        "Two fists left of the hut, one and a half up", "154° true, 153° compass, 16° up",
        "15 s, f/2.8, ISO 3200", "8 m without a fence", "Call 112", "40.4000° N, 1.1000° W",
        "Local rules, land managers and licensed guides decide", "Version 3, 5 June, 18:40",
    ):  # fmt: skip
        assert said in _text(pdf), said


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_night_that_says_too_much_drops_focus_and_set_up_and_never_dangers_or_help(
    paper: Paper,
) -> None:
    texts = SAMPLE.texts | {
        "focus": ("At 23:15: Vega.", *[LONG] * 3), "foreground": (LONG,), "tracker": (LONG, LONG),
    }  # fmt: skip
    pdf = _read(replace(SAMPLE, texts=texts), paper)
    assert len(pdf.pages) == 1
    said = _text(pdf)
    assert "At 23:15: Vega." in said
    assert "8 m without a fence" in said
    assert "Call 112" in said


def test_an_empty_night_is_one_sheet() -> None:
    empty = replace(SAMPLE, targets=(), skies=(), strip="", first=None, rows=())
    assert len(_read(empty).pages) == 1


def test_what_would_be_markup_is_text_and_a_note_that_fits_is_whole() -> None:
    note = "#let x = 1 *bold* $ <b> ] } " + "word " * 100 + "the end"
    said = _text(_read(replace(SAMPLE, reader="#panic()", written={"focus": Written(note, False)})))
    for typed in ("#let x = 1 *bold* $ <b> ] }", "the end", "#panic()", "Call 112"):
        assert typed in said, typed
    assert "goes on" not in said


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_notes_of_20_000_letters_are_cut_on_one_sheet_which_says_so(paper: Paper) -> None:
    note = "Mind the wall. " + "word " * 4000 + "the end"
    written = dict.fromkeys(("focus", "dangers", "meet"), Written(note, False))
    pdf = _read(replace(SAMPLE, written=written), paper)
    said = _text(pdf)
    assert len(pdf.pages) == 1
    assert said.count("Mind the wall.") == 3
    assert said.count("This note goes on in the brief on the phone.") == 3
    assert "the end" not in said
    for kept in ("8 m without a fence", "Call 112", "40.4000° N", "23:30 to 04:32"):
        assert kept in said, kept


def test_what_is_shorter_for_want_of_room_is_named_and_nothing_else() -> None:
    full = replace(SAMPLE, texts=SAMPLE.texts | {"tracker": (LONG,) * 9})
    said = _text(_read(full))
    assert "shorter here than in the brief: Foreground frames, Tracker." in said
    assert "shorter here" not in _text(_read(SAMPLE))


def test_a_figure_stays_on_a_line_with_its_unit() -> None:
    said = _read(SAMPLE).pages[0].extract_text()
    assert "16°\N{NO-BREAK SPACE}up" in said
    assert "8\N{NO-BREAK SPACE}m without" in said


def test_a_draft_says_so_and_a_version_does_not() -> None:
    assert str(DRAFT) in _text(_read(SAMPLE, number=0))
    assert str(DRAFT) not in _text(_read(SAMPLE))


@pytest.mark.parametrize("name", ["Bartholomew " * 20, "夜空 花子", "ليلى", "Nova 🌌", "한별"])
def test_a_name_in_any_script_and_of_any_length_keeps_the_sheet_one(name: str) -> None:
    calls = replace(SAMPLE.help, calls=(Call(name, "+34 600 000 000"),))
    pdf = _read(replace(SAMPLE, reader=name, help=calls), "letter")
    assert len(pdf.pages) == 1
    assert "34 600 000 000" in _text(pdf)


def test_a_word_that_is_written_from_right_to_left_is_read_back() -> None:
    said = _text(_read(replace(SAMPLE, written={"way": Written("شمال", False)})))
    assert "شمال" in said or "شمال"[::-1] in said


@pytest.mark.django_db
def test_a_night_with_every_hazard_is_one_sheet_on_both_papers() -> None:
    trip = make_briefed()
    night = the_night(trip)
    for kind in Hazard.Kind.values:
        Hazard.objects.get_or_create(
            site=night.spot.site, spot=night.spot, kind=kind, defaults={"text": f"{kind} there"}
        )
    full = facts(trip)
    for paper in PAPERS:
        pdf = _read(full, paper)
        assert len(pdf.pages) == 1
        assert "Galactic core" in _text(pdf)
        assert all(" ".join(danger.split()) in _text(pdf) for danger in full.dangers)


def test_words_of_who_leads_stand_instead_of_what_is_computed_where_they_say_so() -> None:
    instead = {"glance": Written("Fog from midnight.", True)}
    said = _text(_read(replace(SAMPLE, written=instead)))
    assert "Fog from midnight." in said
    assert "Thin crescent" not in said


def test_a_missing_package_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(RefusedError, match=r"pip install fieldnights\[pdf\]"):
        _read(SAMPLE)


def test_what_stands_large_of_a_night_that_does_not_go_is_that() -> None:
    off = replace(SAMPLE.glance, state="no_go", decision=("We do not go. Do not set out.",))
    said = _text(_read(replace(SAMPLE, glance=off)))
    assert "We do not go. Do not set out. It was to be at 20:30" in said
    assert "Leave by" not in said
