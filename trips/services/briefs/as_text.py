"""A brief as plain text, for mail and the command line."""

from __future__ import annotations

from collections.abc import Iterator

from trips.planning.brief.facts import Kept
from trips.planning.brief.parts import AT_HOME, PARTS


def as_text(facts: Kept) -> str:
    """Give every part that says something, in the order of the page at home."""
    return "\n\n".join(
        "\n".join([str(PARTS[name].title).upper(), *lines])
        for name in AT_HOME
        if (lines := list(_lines(name, facts)))
    )


def _lines(name: str, facts: Kept) -> Iterator[str]:
    written = facts["written"].get(name)
    if written:
        yield written["text"]
    if not (written and written["is_instead"]):
        yield from _computed(name, facts)


def _computed(name: str, facts: Kept) -> Iterator[str]:
    glance = facts["glance"]
    if name in facts["texts"]:
        yield from facts["texts"][name]
    elif name == "meet":
        yield from (*glance["decision"], f"{glance['meet_clock']} {glance['meet_point']}")
    elif name == "dangers":
        yield from facts["dangers"]
    elif name == "glance":
        for key in ("dark", "moon", "coldest"):
            yield " ".join(filter(None, (glance[key]["words"], glance[key]["more"])))
    elif name == "targets":
        for one in facts["targets"]:
            yield f"{one['number']} {one['name']}, {one['window']}: {one['direction']}"
            yield f"  {one['degrees']}. {one['lens']}. {one['settings']}"
    elif name == "night":
        yield from (f"{row['clock']} {row['words']}" for row in facts["rows"])
    elif name == "rules":
        yield facts["rules"]
