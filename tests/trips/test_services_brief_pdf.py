"""A brief on paper, read back by a library that reads PDF: how many sheets, and what is said."""

from __future__ import annotations

import io
import sys
from dataclasses import replace
from datetime import UTC, datetime

import pytest
from pypdf import PdfReader

from tests.trips.brief_sample import SAMPLE
from trips.planning.brief.facts import Facts, Written, kept_of
from trips.services.briefs.as_pdf import Paper, as_pdf
from trips.services.briefs.reading import Reading
from trips.services.refusals import RefusedError

PUBLISHED = datetime(2027, 6, 5, 16, 40, tzinfo=UTC)
LONG = " ".join(["Keep to the way that was walked by day, with a light to the ground."] * 3)


def _read(facts: Facts, paper: Paper = "a4", **more: str) -> PdfReader:
    reading = Reading(3, PUBLISHED, kept_of(facts), {}, has_plan=True)
    return PdfReader(io.BytesIO(as_pdf(reading, paper=paper, **more)))


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


def test_what_would_be_markup_is_text_and_a_long_note_goes_on_and_loses_nothing() -> None:
    note = "#let x = 1 *bold* $ <b> ] } " + "word " * 3000 + "the end"
    pdf = _read(replace(SAMPLE, reader="#panic()", written={"focus": Written(note, False)}))
    said = _text(pdf)
    assert len(pdf.pages) > 1
    for typed in ("#let x = 1 *bold* $ <b> ] }", "the end", "#panic()", "Call 112"):
        assert typed in said, typed


def test_words_of_who_leads_stand_instead_of_what_is_computed_where_they_say_so() -> None:
    instead = {"glance": Written("Fog from midnight.", True)}
    said = _text(_read(replace(SAMPLE, written=instead)))
    assert "Fog from midnight." in said
    assert "Thin crescent" not in said


def test_a_missing_package_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(RefusedError, match=r"pip install fieldnights\[pdf\]"):
        _read(SAMPLE)
