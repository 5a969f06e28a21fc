"""A brief on paper. How it looks is for the eye; here: that it is one, and what it refuses."""

from __future__ import annotations

import re
import sys
from dataclasses import replace

import pytest

from tests.trips.brief_sample import SAMPLE
from trips.planning.brief.facts import Facts, Written, kept_of
from trips.services.briefs.as_pdf import as_pdf
from trips.services.refusals import RefusedError


def _sheets(facts: Facts, paper: str = "a4") -> int:
    pdf = as_pdf(kept_of(facts), paper=paper)  # type: ignore[arg-type]
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_night_is_one_sheet(paper: str) -> None:
    assert _sheets(SAMPLE, paper) == 1


def test_an_empty_night_is_one_sheet() -> None:
    empty = replace(SAMPLE, targets=(), skies=(), strip="", first=None, rows=())
    assert _sheets(empty) == 1


def test_what_would_be_markup_is_text_and_a_long_note_goes_on() -> None:
    hostile = "#let x = 1 * $ <b> ] } אבג " * 700
    facts = replace(SAMPLE, reader="#panic()", written={"focus": Written(hostile, False)})
    assert _sheets(facts) > 1


def test_a_missing_package_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(RefusedError, match=r"pip install fieldnights\[pdf\]"):
        as_pdf(kept_of(SAMPLE))
