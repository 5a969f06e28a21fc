"""A brief's facts as pieces of a page, one a part: written once, when a version is made."""

from __future__ import annotations

from django.template.loader import render_to_string

from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import PARTS, Part

TEXT = "trips/brief/_text.html"


def parts_of(facts: Kept) -> dict[str, str]:
    """Give the HTML of each part by its name; "" where it has nothing to say."""
    return {part.name: _part(part, facts) for part in PARTS.values()}


def _part(part: Part, facts: Kept) -> str:
    template = TEXT if part.is_text else f"trips/brief/_{part.name}.html"
    context = {
        "part": part,
        "facts": facts,
        "paragraphs": facts["texts"].get(part.name, ()),
        "written": facts["written"].get(part.name),
    }
    return render_to_string(template, context).strip()
