"""Two editors of one row: each keeps what he or she changed, and only what both changed is asked.

Values are compared as text, so that what was typed, what was stored and what was shown when the
form was opened can be laid side by side.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Merge:
    """Names of values: taken over from the other editor, and changed by both, differently."""

    taken: tuple[str, ...]
    clashing: tuple[str, ...]


def merge(
    opened: Mapping[str, str] | None, typed: Mapping[str, str], stored: Mapping[str, str]
) -> Merge:
    """Compare three states of a row; what stands in neither of the two lists is as typed.

    `opened` is what the second editor saw. Without it nobody knows what was left alone, so
    whatever differs is asked about.
    """
    names = {**stored, **typed, **(opened or {})}
    differing = [name for name in names if typed.get(name, "") != stored.get(name, "")]
    if opened is None:
        return Merge((), tuple(differing))
    seen = {name: opened.get(name, "") for name in differing}
    untouched = [name for name in differing if typed.get(name, "") == seen[name]]
    both = [
        name for name in differing if seen[name] not in (typed.get(name, ""), stored.get(name, ""))
    ]
    return Merge(tuple(untouched), tuple(both))
