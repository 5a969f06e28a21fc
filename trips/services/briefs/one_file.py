"""A night's brief as one file: style and pictures inside, nothing to load, no script needed."""

from __future__ import annotations

from datetime import date
from functools import cache

from django.template.loader import render_to_string

from trips.planning.brief.parts import AT_HOME
from trips.services.briefs.reading import Reading
from trips.services.briefs.without_reader import DRAFT
from trips.services.picture_looks import PRINT, STATIC, colours

NAME = "brief-%(evening)s-version-%(number)d.html"
SHEETS = ("brief.css", "brief_pictures.css")
LOOKS = ("paper", "night", "grey")


def one_file(reading: Reading) -> str:
    """Give the whole page in the order of home, in three looks to choose from."""
    return render_to_string(
        "trips/brief/one_file.html",
        {
            "reading": reading,
            "facts": reading.facts,
            "draft": DRAFT,
            "evening": date.fromisoformat(reading.facts["evening"]),
            "parts": [reading.parts[name] for name in AT_HOME],
            "sheet": sheet(),
        },
    )


@cache
def sheet() -> str:
    """Give the page's own rules, with the colours of each look beside the choice of it."""
    looks = [f"#look-{look}:checked~.page{{{_values(look)}}}" for look in LOOKS]
    rules = [(STATIC / "trips" / name).read_text("utf-8") for name in SHEETS if _is_there(name)]
    paper = f"@media print{{.look:checked~.page{{{_values(PRINT)}}}}}"
    return "\n".join([*looks, *rules, paper])


def _values(look: str) -> str:
    return "".join(f"{name}:{value};" for name, value in colours(look).items())


def _is_there(name: str) -> bool:
    return (STATIC / "trips" / name).exists()
