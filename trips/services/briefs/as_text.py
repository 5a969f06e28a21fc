"""A brief as plain text, for mail and the command line."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import AT_HOME, PARTS
from trips.services.briefs.columns import set_in
from trips.services.briefs.glance import called_off
from trips.services.briefs.without_reader import DRAFT
from trips.services.letter_kinds.written import named

INDENT = "   "
# Before each line that an instructor wrote.
BY_HAND = "| "
CLOCK = "  "


def as_text(facts: Kept, *, is_draft: bool = False) -> str:
    """Give every part that says something, in the order of the page at home.

    No line is wider than 72 columns.
    """
    parts = [list(_headed(name, facts)) for name in AT_HOME]
    blocks = [[str(DRAFT)] if is_draft else [], list(_top(facts)), *parts]
    return "\n\n".join(map("\n".join, filter(None, blocks))) + "\n"


def _top(facts: Kept) -> Iterator[str]:
    evening = date_format(date.fromisoformat(facts["evening"]), "l j F Y")
    yield from set_in(f"{facts['trip']}, {facts['club']}")
    yield from set_in(f"{evening}, {facts['spot']}, {facts['site']}")
    if facts["reader"]:
        yield from set_in(_("For %(name)s") % {"name": facts["reader"]})
    yield from set_in(facts["zone_words"])


def _headed(name: str, facts: Kept) -> Iterator[str]:
    lines = list(_lines(name, facts))
    if lines:
        yield str(PARTS[name].title).upper()
        yield from lines


def _lines(name: str, facts: Kept) -> Iterator[str]:
    written = facts["written"].get(name)
    if written:
        yield _("From who leads:")
        yield from set_in(written["text"], first=BY_HAND)
    if not (written and written["is_instead"]):
        yield from _computed(name, facts)


def _computed(name: str, facts: Kept) -> Iterator[str]:
    if name in COMPUTED:
        yield from COMPUTED[name](facts)
    else:
        yield from _paragraphs(facts["texts"][name])


def _paragraphs(paragraphs: list[str], *, first: str = "") -> Iterator[str]:
    for paragraph in paragraphs:
        yield from set_in(paragraph, first=first)


def _meet(facts: Kept) -> Iterator[str]:
    glance = facts["glance"]
    yield from _paragraphs(glance["decision"])
    if off := called_off(glance):
        yield from set_in(off)
        return
    yield from set_in(f"{glance['meet_clock']}{CLOCK}{glance['meet_point']}")
    if glance["leave_by"]:
        yield _("Leave by %(time)s.") % {"time": glance["leave_by"]}


def _glance(facts: Kept) -> Iterator[str]:
    named = (("dark", _("Dark")), ("moon", _("Moon")), ("coldest", _("Coldest")))
    for key, name in named:
        answer = facts["glance"][key]
        yield from set_in(f"{name}: {answer['words']}", rest=INDENT)
        yield from set_in(answer["more"], first=INDENT)


def _dangers(facts: Kept) -> Iterator[str]:
    for danger in facts["dangers"]:
        yield from set_in(danger, first="! ", rest="  ")


def _first(facts: Kept) -> Iterator[str]:
    first = facts["first"]
    if first:
        yield from set_in(first["title"])
        yield from set_in(f"{first['shutter']}, {first['aperture']}, ISO {first['iso']}")
        yield from _paragraphs(first["how"])


def _targets(facts: Kept) -> Iterator[str]:
    for one in facts["targets"]:
        yield from set_in(f"{one['number']}  {one['name']}, {one['window']}", rest=INDENT)
        taken = ". ".join(filter(None, (one["settings"], one["lens"])))
        yield from _paragraphs([one["direction"], one["degrees"], taken, *one["how"]], first=INDENT)
    if not facts["targets"]:
        yield from set_in(_("Nothing that is wanted stands right while you are out."))
    for absent in facts["not_tonight"]:
        yield from set_in(absent, first="–  ", rest=INDENT)


def _night(facts: Kept) -> Iterator[str]:
    for row in facts["rows"]:
        clock = f"{row['clock']}{CLOCK}"
        yield from set_in(row["words"], first=clock, rest=" " * len(clock))


def _sky(facts: Kept) -> Iterator[str]:
    """A picture is for the eye; the ways from a bright star to a target are words too."""
    for sky in facts["skies"]:
        if sky["pointers"]:
            yield _("At %(time)s:") % {"time": sky["clock"]}
            yield from _paragraphs(sky["pointers"], first=INDENT)


def _help(facts: Kept) -> Iterator[str]:
    told = facts["help"]
    yield from set_in(told["signal"])
    if told["number"]:
        yield from set_in(_("Call %(whom)s") % {"whom": told["number"]})
    yield _("Read out:")
    yield from _paragraphs([*told["position"], told["geo"]], first=INDENT)
    yield from _paragraphs(told["how"])
    for call in told["calls"]:
        whom = f"{named(call['name'])}, {call['phone']}"
        yield from set_in(_("Call %(whom)s") % {"whom": whom})


def _rules(facts: Kept) -> Iterator[str]:
    yield from set_in(facts["rules"])


COMPUTED: dict[str, Callable[[Kept], Iterator[str]]] = {
    "meet": _meet,
    "glance": _glance,
    "dangers": _dangers,
    "first": _first,
    "targets": _targets,
    "night": _night,
    "sky": _sky,
    "help": _help,
    "rules": _rules,
}
