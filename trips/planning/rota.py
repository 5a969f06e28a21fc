"""Turns: when more people want something than can use it at once, each gets an equal part of it.

A rota from one instant to another is cut into as many equal rounds as are needed for everybody to
have one; in a round each station serves one person.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Generic, TypeVar

# Less than this at a place in the dark is spent with finding the way there: common practice, no
# published source.
SHORTEST = timedelta(minutes=5)

PersonT = TypeVar("PersonT", bound=Hashable)


class RotaTooShortError(Exception):
    """Everybody's turn would be too short: `people` whom the time serves, and `stations` it wants
    for all of them (0: none would do)."""

    def __init__(self, people: int, stations: int) -> None:
        super().__init__(people, stations)
        self.people, self.stations = people, stations


@dataclass(frozen=True, slots=True)
class Slot(Generic[PersonT]):
    """Stations count from 1."""

    person: PersonT
    first: datetime
    last: datetime
    station: int


def slots(
    people: Sequence[PersonT], *, first: datetime, last: datetime, stations: int
) -> tuple[Slot[PersonT], ...]:
    """Give each person a slot, in the order of the people: as long as it can be for all alike.

    Whole minutes; what is left over stays at the end. Errors: `RotaTooShortError`.
    """
    if not people:
        return ()
    rounds = -(-len(people) // stations)
    length = _whole_minutes((last - first) / rounds)
    if length < SHORTEST:
        raise _too_short(len(people), last - first, stations)
    return tuple(
        Slot(
            person,
            first + n // stations * length,
            first + (n // stations + 1) * length,
            n % stations + 1,
        )
        for n, person in enumerate(people)
    )


def turned(people: Sequence[PersonT], *, by: int) -> list[PersonT]:
    """Give the same people with others first, so that not the same ones wait each night."""
    start = by % len(people) if people else 0
    return [*people[start:], *people[:start]]


def _too_short(people: int, whole: timedelta, stations: int) -> RotaTooShortError:
    rounds = whole // SHORTEST
    return RotaTooShortError(rounds * stations, -(-people // rounds) if rounds else 0)


def _whole_minutes(length: timedelta) -> timedelta:
    return timedelta(minutes=length // timedelta(minutes=1))
