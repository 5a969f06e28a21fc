"""A brief as a mail shows it: the page's own parts, with painted pictures where it has drawings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from django.template.loader import render_to_string
from django.utils.html import format_html

from trips.models import BriefPicture
from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import AT_HOME
from trips.services.briefs.mail_pictures import drawings_of
from trips.services.briefs.reading import Reading
from trips.services.briefs.rendering import parts_of
from trips.services.picture_looks import colours

TEMPLATE = "trips/brief/mail.html"


def as_html(
    reading: Reading, pictures: Iterable[BriefPicture], *, changes: Iterable[str], link: str
) -> str:
    """Give the mail of a reading. Every picture is shown by its name: `cid:night` and its like."""
    shown = {picture.name: _shown(picture) for picture in pictures}
    parts = parts_of(_with_pictures(reading.facts, shown))
    context = {
        "reading": replace(reading, parts={name: parts[name] for name in AT_HOME}),
        "changes": list(changes),
        "link": link,
        "evening": date.fromisoformat(reading.facts["evening"]),
        "colours": {name.strip("-"): value for name, value in colours("paper").items()},
    }
    return render_to_string(TEMPLATE, context)


def _shown(picture: BriefPicture) -> str:
    return format_html('<img src="cid:{}" alt="{}" class="picture">', picture.name,
                       picture.description)  # fmt: skip


def _with_pictures(facts: Kept, shown: Mapping[str, str]) -> Kept:
    """Give the brief with painted pictures; one that no mail carries is left to the page."""
    of = {name: shown.get(name, "") for name, _drawing in drawings_of(facts)}
    targets = [
        {**one, "picture": of.get(f"target-{one['number']}", "")} for one in facts["targets"]
    ]
    skies: list[dict[str, Any]] = [
        {**one, "picture": of.get(f"sky-{number}", "")}
        for number, one in enumerate(facts["skies"], 1)
    ]
    return {**facts, "strip": of.get("night", ""), "targets": targets, "skies": skies}
