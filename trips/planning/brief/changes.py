"""What is other in a brief than in the version before, in the words of both."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _

from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import PARTS

# Pictures follow from what is said: nobody is told of a line drawn elsewhere.
DRAWN = ("strip", "picture", "skies")
# What a list of changes says in both versions' words.
SHORT = {
    "meet": ("meet_clock", "meet_point", "leave_by"),
    "glance": ("dark", "moon", "coldest"),
}


def changes(before: Kept, after: Kept) -> list[str]:
    """Give a sentence for each part that reads otherwise, in the order of the page."""
    return [
        sentence
        for name in PARTS
        if _said(name, before) != _said(name, after)
        for sentence in _sentences(name, before, after)
    ]


def is_same(before: Kept, after: Kept) -> bool:
    """Tell whether both say the same; how it is drawn does not count."""
    return bool(_plain(before) == _plain(after))


def _sentences(name: str, before: Kept, after: Kept) -> Iterator[str]:
    title = str(PARTS[name].title)
    told = list(_in_short(name, before, after))
    for was, now in told:
        words = _("%(part)s: %(now)s, before: %(was)s.")
        yield words % {"part": title, "now": now or "–", "was": was or "–"}
    if not told:
        yield _("%(part)s reads otherwise.") % {"part": title}


def _in_short(name: str, before: Kept, after: Kept) -> Iterator[tuple[str, str]]:
    for key in SHORT.get(name, ()):
        was, now = _words(before["glance"][key]), _words(after["glance"][key])
        if was != now:
            yield was, now


def _words(value: Any) -> str:
    return value["words"] if isinstance(value, dict) else str(value)


def _said(name: str, facts: Kept) -> Any:
    """Give all that a part says."""
    written = facts["written"].get(name)
    if name in facts["texts"]:
        return facts["texts"][name], written
    glance = facts["glance"]
    own = {
        "meet": [glance[key] for key in ("decision", *SHORT["meet"])],
        "glance": [glance[key] for key in SHORT["glance"]],
        "targets": [facts["targets"], facts["not_tonight"]],
        "night": facts["rows"],
        "sky": [[sky["clock"], sky["hold"], sky["pointers"]] for sky in facts["skies"]],
    }
    return _plain(own.get(name, facts.get(name))), written


def _plain(value: Any) -> Any:
    """Leave out what is drawn."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items() if key not in DRAWN}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    return value
