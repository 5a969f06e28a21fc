"""How a kind of letter goes out: with which haste, and what is done when it is refused."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from trips.models import Letter
from trips.services.letter_kinds.written import Builder

MINUTE = timedelta(minutes=1)
HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Post:
    """Letters that are sent by a sweep of their own, so that none waits behind other ones.

    `waits`: how long after each refusal. After the last one a letter is given up, or that wait is
    repeated for as long as the letter is true.
    """

    waits: tuple[timedelta, ...]
    gives_up: bool

    def wait_after(self, refusals: int) -> timedelta | None:
        if refusals <= len(self.waits):
            return self.waits[refusals - 1]
        return None if self.gives_up else self.waits[-1]


ORDINARY = Post(waits=(MINUTE, 5 * MINUTE, 15 * MINUTE, HOUR, 4 * HOUR, 12 * HOUR), gives_up=True)
# Every other minute for half a day. After that an address is wrong rather than a server down, and
# a server that is plagued with it may soon take no letter at all.
URGENT = Post(waits=(MINUTE, *[2 * MINUTE] * 360, HOUR), gives_up=False)
# News that people set out by: tried every other minute for as long as it is any.
NEWS = Post(waits=(MINUTE, 2 * MINUTE), gives_up=False)


@dataclass(frozen=True, slots=True)
class Kind:
    """`until` gives when a letter says nothing to anybody any more: it is dropped then."""

    write: Builder
    post: Post = ORDINARY
    until: Callable[[Letter], datetime | None] | None = None

    def is_over(self, letter: Letter, *, at: datetime) -> bool:
        last = self.until(letter) if self.until else None
        return last is not None and at >= last
