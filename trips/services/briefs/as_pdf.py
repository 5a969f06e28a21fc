"""A night's brief on paper: one sheet, A4 or Letter, black only. Needs the extra `pdf`."""

from __future__ import annotations

import importlib
import io
import json
from datetime import date
from pathlib import Path
from typing import Any, Literal

import segno
from django.conf import settings
from django.utils.formats import date_format
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import PARTS
from trips.services.brief_pictures import styled
from trips.services.briefs.mail_pictures import said_of
from trips.services.picture_looks import FONTS, PRINT
from trips.services.refusals import RefusedError

Paper = Literal["a4", "letter"]
PAPERS = {"a4": "a4", "letter": "us-letter"}
# The first is what is meant; a brief that says more has to be smaller.
TEXT_POINTS = (9.5, 8.5, 7.6)
# Their sentences run on, to save the sheet.
RUN_ON = ("focus", "tracker", "foreground", "bring", "way", "second", "targets")


def as_pdf(facts: Kept, *, paper: Paper = "a4", version: str = "", address: str = "") -> bytes:
    """Give the brief as PDF; `address` is the reader's page, for the code to be photographed.

    Errors: `RefusedError` where the package that sets it is not installed.
    """
    try:
        typst = importlib.import_module("typst")
    except ImportError:
        words = _("A PDF needs one more package: pip install fieldnights[pdf]")
        raise RefusedError(words) from None
    data = json.dumps(_data(facts, PAPERS[paper], version, address))
    pdf: bytes = typst.compile(
        _template(), font_paths=[str(Path(FONTS[0]).parent)], ignore_system_fonts=True,
        sys_inputs={"data": data}, format="pdf",
    )  # fmt: skip
    return pdf


def _template() -> bytes:
    folders: Any = settings.TEMPLATES[0]["DIRS"]
    return (Path(folders[0]) / "trips/brief.typ").read_bytes()


def _data(facts: Kept, paper: str, version: str, address: str) -> dict[str, Any]:
    glance, first = facts["glance"], facts["first"]
    is_told = {name: not _instead(facts, name) for name in PARTS}
    evening = date_format(date.fromisoformat(facts["evening"]), "l j F Y")
    title = f"{evening}, {facts['trip']}"
    return {
        "paper": paper,
        "sizes": TEXT_POINTS,
        "language": get_language() or "en",
        "title": f"{title}, {facts['reader']}" if facts["reader"] else title,
        "version": ". ".join(filter(None, (version, facts["zone_words"]))),
        "by": _("From who leads"),
        "address": address,
        "code": _code(address),
        "meet": {
            "clock": glance["meet_clock"],
            "point": glance["meet_point"],
            "said": [*glance["decision"], *_leave(glance["leave_by"])],
        },
        "glance": [
            {"name": name, **glance[key]}
            for key, name in (("dark", _("Dark")), ("moon", _("Moon")), ("coldest", _("Coldest")))
        ],
        "settings": _settings(first) if first and is_told["first"] else [],
        "how": first["how"] if first and is_told["first"] else [],
        "targets": [_target(one) for one in facts["targets"]] if is_told["targets"] else [],
        "rows": [[one["clock"], one["words"]] for one in facts["rows"]] if is_told["night"] else [],
        "skies": [{**_drawn(one["picture"]), "hold": one["hold"]} for one in facts["skies"]],
        "parts": {name: _part(name, facts) for name in PARTS},
    }


def _instead(facts: Kept, name: str) -> bool:
    written = facts["written"].get(name)
    return bool(written and written["is_instead"])


def _part(name: str, facts: Kept) -> dict[str, Any]:
    written = facts["written"].get(name)
    return {
        "title": str(PARTS[name].title),
        "hand": written["text"].splitlines() if written else [],
        "said": [] if _instead(facts, name) else _said(name, facts),
    }


def _said(name: str, facts: Kept) -> list[str]:
    first = facts["first"]
    told = {
        "dangers": facts["dangers"],
        "first": [first["title"]] if first else [],
        "targets": [f"{words}." for words in facts["not_tonight"]],
        "sky": facts["skies"][0]["pointers"] if facts["skies"] else [],
        "help": _help(facts["help"]),
        "rules": [facts["rules"]],
    }
    said = list(facts["texts"].get(name, told.get(name, ())))
    return [" ".join(said)] if name in RUN_ON and said else said


def _help(told: Kept) -> list[str]:
    number = [_("Call %(whom)s") % {"whom": told["number"]}] if told["number"] else []
    calls = [f"{one['name']}: {one['phone']}" for one in told["calls"]]
    return [told["signal"], *number, _("Read out:"), *told["position"], *told["how"], *calls]


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


def _drawn(drawing: str) -> dict[str, str]:
    return {"svg": styled(drawing, look=PRINT) if drawing else "", "alt": said_of(drawing)}


def _settings(first: Kept) -> list[tuple[str, str]]:
    named = (("shutter", _("shutter")), ("aperture", _("aperture")), ("iso", _("ISO")))
    return [(first[key], name) for key, name in named]


def _leave(clock: str) -> list[str]:
    return [_("Leave by %(time)s.") % {"time": clock}] if clock else []


def _code(address: str) -> str:
    if not address:
        return ""
    written = io.BytesIO()
    segno.make(address, micro=False).save(written, kind="svg", scale=4)
    return written.getvalue().decode()
