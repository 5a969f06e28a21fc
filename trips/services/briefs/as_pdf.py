"""A night's brief on paper: one sheet, A4 or Letter, black only. Needs the extra `pdf`."""

from __future__ import annotations

import importlib
import io
import json
from collections.abc import Callable, Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Any, Literal

import segno
from django.conf import settings
from django.utils.formats import date_format
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from trips.almanac.local_time import local
from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import PARTS
from trips.services.brief_pictures import styled
from trips.services.briefs.glance import called_off
from trips.services.briefs.mail_pictures import said_of
from trips.services.briefs.reading import Reading
from trips.services.briefs.units import unbroken
from trips.services.briefs.without_reader import DRAFT
from trips.services.cautions import ADVICE
from trips.services.letter_kinds.written import named
from trips.services.picture_looks import FONTS, PRINT
from trips.services.refusals import RefusedError

Paper = Literal["a4", "letter"]
PAPERS: dict[Paper, str] = {"a4": "a4", "letter": "us-letter"}
# The first is what is meant; a brief that says more has to be smaller.
TEXT_POINTS = (9.5, 9.25, 9.0, 8.75, 8.5, 8.25, 8.0)
# What is left of a note where a sheet cannot hold all of it, in letters.
CUT_NOTE = 280
BOLD_ROWS = ("meet", "target", "turn")
# Their sentences run on, to save the sheet.
RUN_ON = ("focus", "tracker", "foreground", "way", "second", "targets", "sky")
# What is left of a part when the sheet is full; the hours stand in the night's list.
SHORT = {"focus": 1, "foreground": 0, "tracker": 0, "targets": 0, "bring": 3}


def paper_named(name: str) -> Paper | None:
    """Give the size that has this name, where one has."""
    return next((paper for paper in PAPERS if paper == name), None)


def as_pdf(reading: Reading, *, paper: Paper = "a4", address: str = "") -> bytes:
    """Give the brief as PDF; `address` is the reader's page, for the code to be photographed.

    Errors: `RefusedError` where the package that sets it is not installed.
    """
    try:
        typst = importlib.import_module("typst")
    except ImportError:
        words = _("A PDF needs one more package: pip install fieldnights[pdf]")
        raise RefusedError(words) from None
    pdf: bytes = typst.compile(
        _template(), font_paths=[str(Path(FONTS[0]).parent)],
        sys_inputs={"data": _written(reading, PAPERS[paper], address)}, format="pdf",
    )  # fmt: skip
    return pdf


def _written(reading: Reading, paper: str, address: str) -> str:
    """Give it as JSON, each figure kept on one line with its unit."""
    data = json.dumps(_data(reading, paper, address), ensure_ascii=False)
    return unbroken(data)


def _template() -> bytes:
    folders: Any = settings.TEMPLATES[0]["DIRS"]
    return (Path(folders[0]) / "trips/brief.typ").read_bytes()


def _data(reading: Reading, paper: str, address: str) -> dict[str, Any]:
    facts = reading.facts
    at = local(reading.published_at, facts["zone"])
    whose = [named(name) for name in (facts["trip"], facts["reader"]) if name]
    evening = date_format(date.fromisoformat(facts["evening"]), "l j F Y")
    return {
        "paper": paper,
        "sizes": TEXT_POINTS,
        "language": get_language() or "en",
        "title": ", ".join((evening, *whose)),
        "evening": evening,
        "whose": "".join(f", {name}" for name in whose),
        "draft": "" if reading.number else str(DRAFT),
        "absent": _("For want of room this is shorter here than in the brief:"),
        "version": f"{_version(reading, at)}. {facts['zone_words']}",
        "date": {"year": at.year, "month": at.month, "day": at.day},
        "by": _("From who leads"),
        "address": address,
        "code": _code(address),
        **{name: _unless_instead(facts, part, told) for name, (part, told) in COMPUTED.items()},
        "parts": {name: _part(name, facts, _lines) for name in PARTS},
        "cut": {name: _part(name, facts, _cut) for name in PARTS},
    }


def _version(reading: Reading, at: datetime) -> str:
    when = {"date": date_format(at, "j F"), "time": f"{at:%H:%M}"}
    if not reading.number:
        return _("Drafted %(date)s, %(time)s") % when
    return _("Version %(number)d, %(date)s, %(time)s") % {"number": reading.number, **when}


def _is_instead(facts: Kept, part: str) -> bool:
    written = facts["written"].get(part)
    return bool(written and written["is_instead"])


def _unless_instead(facts: Kept, part: str, told: Callable[[Kept], Any]) -> Any:
    """Give what is computed; nothing of its kind where an instructor wrote instead of it."""
    found = told(facts)
    if not _is_instead(facts, part):
        return found
    return [] if isinstance(found, list) else None


def _part(name: str, facts: Kept, lines: Callable[[str], list[str]]) -> dict[str, Any]:
    written = facts["written"].get(name)
    said = [] if _is_instead(facts, name) else _said(name, facts)
    joined = _run_on if name in RUN_ON else list
    return {
        "title": str(PARTS[name].title),
        "hand": lines(written["text"]) if written else [],
        "said": joined(said),
        "short": joined(said[: SHORT.get(name, len(said))]),
    }


def _lines(text: str) -> list[str]:
    return text.splitlines()


def _cut(text: str) -> list[str]:
    """Give a note's beginning, and say that it goes on."""
    if len(text) <= CUT_NOTE:
        return _lines(text)
    return [f"{text[:CUT_NOTE].rstrip()}…", _("This note goes on in the brief on the phone.")]


def _run_on(said: list[str]) -> list[str]:
    return [" ".join(said)] if said else []


def _said(name: str, facts: Kept) -> list[str]:
    first = facts["first"]
    told = {
        "dangers": facts["dangers"],
        "first": [first["title"]] if first else [],
        "targets": [f"{words}." for words in facts["not_tonight"]],
        "sky": facts["skies"][0]["pointers"] if facts["skies"] else [],
        "cautions": list(_cautions(facts)),
        "rules": [facts["rules"]],
    }
    return list(told.get(name) or facts["texts"].get(name, ()))


def _cautions(facts: Kept) -> Iterator[str]:
    """Give what was seen with the first sentence of its advice, without what is a danger above."""
    for words in facts["texts"]["cautions"]:
        if not words.endswith(tuple(facts["dangers"])):
            yield _shortened(words)


def _shortened(words: str) -> str:
    for advice in map(str, ADVICE.values()):
        if words.endswith(advice):
            return words.removesuffix(advice) + advice.partition(". ")[0].rstrip(".") + "."
    return words


def _meet(facts: Kept) -> dict[str, Any]:
    glance = facts["glance"]
    if off := called_off(glance):
        return {"clock": "", "point": " ".join(glance["decision"]), "said": [off]}
    leave = [_("Leave by %(time)s.") % {"time": glance["leave_by"]}] if glance["leave_by"] else []
    return {
        "clock": glance["meet_clock"],
        "point": glance["meet_point"],
        "said": [*glance["decision"], *leave],
    }


def _glance(facts: Kept) -> list[dict[str, str]]:
    named = (("dark", _("Dark")), ("moon", _("Moon")), ("coldest", _("Coldest")))
    return [{"name": name, **facts["glance"][key]} for key, name in named]


def _settings(facts: Kept) -> list[tuple[str, str]]:
    named = (("shutter", _("shutter")), ("aperture", _("aperture")), ("iso", _("ISO")))
    first = facts["first"]
    return [(first[key], name) for key, name in named] if first else []


def _how(facts: Kept) -> list[str]:
    return [" ".join(facts["first"]["how"])] if facts["first"] else []


def _targets(facts: Kept) -> list[dict[str, Any]]:
    return [_target(one) for one in facts["targets"]]


def _target(one: Kept) -> dict[str, Any]:
    taken = ", ".join(filter(None, (one["settings"], one["lens"])))
    said = [one["degrees"], taken, " ".join(one["how"])]
    return {
        "name": f"{one['number']} {one['name']}",
        "window": one["window"],
        "direction": one["direction"],
        "said": [words for words in said if words],
        **_drawn(one["picture"]),
    }


def _rows(facts: Kept) -> list[dict[str, Any]]:
    return [
        {"said": [one["clock"], one["words"]], "wanted": one["kind"] in BOLD_ROWS}
        for one in facts["rows"]
    ]


def _strip(facts: Kept) -> dict[str, str]:
    return _drawn(facts["strip"])


def _sky(facts: Kept) -> dict[str, str] | None:
    if not facts["skies"]:
        return None
    sky = facts["skies"][0]
    title = _("%(part)s at %(time)s") % {"part": PARTS["sky"].title, "time": sky["clock"]}
    return {**_drawn(sky["picture"]), "title": title, "hold": sky["hold"]}


def _help(facts: Kept) -> dict[str, Any]:
    told = facts["help"]
    calls = [f"{named(one['name'])}: {one['phone']}" for one in told["calls"]]
    return {
        "signal": told["signal"],
        "call": _("Call %(whom)s") % {"whom": told["number"]} if told["number"] else "",
        "read": _("Read out:"),
        "position": ", ".join(told["position"]),
        "geo": told["geo"],
        "how": [*told["how"], *calls],
    }


def _drawn(drawing: str) -> dict[str, str]:
    return {"svg": styled(drawing, look=PRINT) if drawing else "", "alt": said_of(drawing)}


def _code(address: str) -> str:
    if not address:
        return ""
    written = io.BytesIO()
    segno.make(address, micro=False).save(written, kind="svg", scale=4)
    return written.getvalue().decode()


# What the sheet shows beside paragraphs, and of which part it is.
COMPUTED: dict[str, tuple[str, Callable[[Kept], Any]]] = {
    "meet": ("meet", _meet),
    "glance": ("glance", _glance),
    "settings": ("first", _settings),
    "how": ("first", _how),
    "targets": ("targets", _targets),
    "rows": ("night", _rows),
    "strip": ("night", _strip),
    "sky": ("sky", _sky),
    "help": ("help", _help),
}
