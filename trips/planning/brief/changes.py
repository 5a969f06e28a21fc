"""What is other in a brief than in the version before, in the words of both."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import PARTS

# Pictures follow from what is said: nobody is told of a line drawn elsewhere.
DRAWN = ("strip", "picture", "skies")
# What a list of changes says in both versions' words.
SHORT = {
    "meet": ("decision", "meet_clock", "meet_point", "leave_by"),
    "glance": ("dark", "moon", "coldest"),
}
CALLED = {
    "decision": gettext_lazy("Decision"),
    "meet_clock": gettext_lazy("Meet"),
    "meet_point": gettext_lazy("Meet"),
    "leave_by": gettext_lazy("Leave by"),
    "dark": gettext_lazy("Dark"),
    "moon": gettext_lazy("Moon"),
    "coldest": gettext_lazy("Coldest"),
}
# Of another spot all is other: only this is told by itself.
OF_ANOTHER_SPOT = ("meet", "help")
# Whatever is longer is read in its part.
LONGEST = 160


def changes(before: Kept, after: Kept) -> list[str]:
    """Give what reads otherwise in sentences, in the order of the page; at the end the parts where
    that takes too many words."""
    sentences, others = [*_of_place(before, after)], []
    is_moved = _spot(before) != _spot(after)
    for name in PARTS:
        is_told = not is_moved or name in OF_ANOTHER_SPOT
        if is_told and _said(name, before) != _said(name, after):
            told = list(_of_part(name, before, after))
            sentences += told
            others += [] if told else [_title(name)]
        sentences += _of_written(name, before, after)
    if is_moved:
        sentences.append(_("All else is told for the new spot."))
    return [*sentences, *_otherwise(others)]


def is_same(before: Kept, after: Kept) -> bool:
    """Tell whether both say the same; how it is drawn does not count."""
    return bool(_plain(before) == _plain(after))


def _of_place(before: Kept, after: Kept) -> Iterator[str]:
    if before["trip"] != after["trip"]:
        yield _both(_("Trip"), before["trip"], after["trip"])
    if _spot(before) != _spot(after):
        yield _both(_("Spot"), _spot(before), _spot(after))


def _spot(facts: Kept) -> str:
    return f"{facts['spot']}, {facts['site']}"


def _of_part(name: str, before: Kept, after: Kept) -> Iterator[str]:
    """Say what is other in what is computed; nothing where that takes too many words."""
    if name == "targets":
        return _of_targets(before, after)
    if name == "help":
        return _of_help(before, after)
    if name in after["texts"]:
        return _of_text(name, before["texts"].get(name, []), after["texts"][name])
    return _in_short(name, before, after)


def _in_short(name: str, before: Kept, after: Kept) -> Iterator[str]:
    for key in SHORT.get(name, ()):
        was, now = _words(before["glance"][key]), _words(after["glance"][key])
        if was != now:
            yield _both(str(CALLED[key]), was, now)


def _of_targets(before: Kept, after: Kept) -> Iterator[str]:
    """Name all where one comes or goes; of those that stay, their hours and where they stand."""
    was, now = ({one["name"]: one for one in facts["targets"]} for facts in (before, after))
    if was.keys() != now.keys():
        yield _both(_title("targets"), ", ".join(was), ", ".join(now))
    for name in now:
        for key in ("window", "direction"):
            if name in was and was[name][key] != now[name][key]:
                yield _both(name, was[name][key], now[name][key])


def _of_help(before: Kept, after: Kept) -> Iterator[str]:
    was, now = before["help"], after["help"]
    if was["number"] != now["number"]:
        yield _both(_("Emergency number"), was["number"], now["number"])
    if was["position"] != now["position"]:
        yield _both(_("Position to read out"), *(", ".join(one["position"]) for one in (was, now)))


def _of_text(name: str, was: list[str], now: list[str]) -> Iterator[str]:
    """Say which paragraphs came and went."""
    gone, come = (" ".join(one for one in a if one not in b) for a, b in ((was, now), (now, was)))
    if max(len(gone), len(come)) <= LONGEST:
        yield _both(_title(name), gone, come)


def _of_written(name: str, before: Kept, after: Kept) -> Iterator[str]:
    was, now = (facts["written"].get(name) for facts in (before, after))
    if was == now:
        return
    if was is None:
        words = _("%(part)s: who leads wrote into it.")
    elif now is None:
        words = _("%(part)s: what who leads had written is gone.")
    else:
        words = _("%(part)s: who leads wrote something else.")
    yield words % {"part": _title(name)}


def _both(what: str, was: str, now: str) -> str:
    """Say what is new and what it was, each without its full stop."""
    words = _("%(part)s: %(now)s. Before: %(was)s.")
    now, was = (words.strip().removesuffix(".") or "–" for words in (now, was))
    return words % {"part": what, "now": now, "was": was}


def _otherwise(titles: list[str]) -> Iterator[str]:
    if titles:
        words = ngettext(
            "This part reads otherwise: %(parts)s.",
            "These parts read otherwise: %(parts)s.",
            len(titles),
        )
        yield words % {"parts": "; ".join(titles)}


def _title(name: str) -> str:
    return str(PARTS[name].title)


def _words(value: Any) -> str:
    """Give an answer's words, or all sentences of a paragraph."""
    if isinstance(value, dict):
        return str(value["words"])
    return " ".join(value) if isinstance(value, list) else str(value)


def _said(name: str, facts: Kept) -> Any:
    """Give all that is computed of a part."""
    if name in facts["texts"]:
        return facts["texts"][name]
    glance = facts["glance"]
    own = {
        "meet": [glance[key] for key in SHORT["meet"]],
        "glance": [glance[key] for key in SHORT["glance"]],
        "targets": [facts["targets"], facts["not_tonight"]],
        "night": facts["rows"],
        "sky": [[sky["clock"], sky["hold"], sky["pointers"]] for sky in facts["skies"]],
    }
    return _plain(own.get(name, facts.get(name)))


def _plain(value: Any) -> Any:
    """Leave out what is drawn."""
    if isinstance(value, dict):
        return {key: _plain(one) for key, one in value.items() if key not in DRAWN}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    return value
