"""Who is here and who has left, from ticks of several phones that were out of touch.

The tick made last counts, by the phones' hours. Where two instructors' last ticks of a person
differ and lie close together, both are told: neither phone knew of the other.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

HERE, LEFT, NOT_HERE = "here", "left", "not_here"
# Two phones that differ within this may have met the same person at the same time.
CLOSE = timedelta(minutes=20)
# Who has not been counted so long after the first is looked for no more, but missed: common
# practice, no published source.
LOOKED_FOR = timedelta(minutes=20)
STEP_SECONDS = 5 * 60


@dataclass(frozen=True, slots=True)
class Mark:
    """A tick: `by` names the instructor."""

    kind: str
    at: datetime
    by: str


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a person stands: `last` None before anybody ticked; `differing` what another
    instructor ticked at about the same time."""

    last: Mark | None = None
    differing: Mark | None = None

    @property
    def is_here(self) -> bool:
        return self.last is not None and self.last.kind == HERE

    @property
    def has_left(self) -> bool:
        return self.last is not None and self.last.kind == LEFT


def standing(marks: Iterable[Mark]) -> Standing:
    """Fold the ticks of one person, in any order."""
    newest: dict[str, Mark] = {}
    for mark in sorted(marks, key=lambda one: one.at):
        newest[mark.by] = mark
    if not newest:
        return Standing()
    last = max(newest.values(), key=lambda one: one.at)
    others = [one for one in newest.values() if one.by != last.by and one.kind != last.kind]
    close = [one for one in others if last.at - one.at <= CLOSE]
    return Standing(last, max(close, key=lambda one: one.at, default=None))


def missing_from(first: datetime) -> datetime:
    """Give the hour from which whoever is not counted is missing: on the next five minutes."""
    late = (first + LOOKED_FOR).timestamp()
    return datetime.fromtimestamp(-(-late // STEP_SECONDS) * STEP_SECONDS, first.tzinfo)
