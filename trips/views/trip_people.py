"""The people of a trip's board: who has a place, who waits, who left, which letters do not go."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from trips.models import Enrolment, Letter
from trips.models.enrolment import OVER
from trips.views.board import Board

State = Enrolment.State


@dataclass(frozen=True, slots=True)
class Waiting:
    number: int
    enrolment: Enrolment


@dataclass(frozen=True, slots=True)
class Trouble:
    """A letter that was refused: to be tried again by itself, or given up."""

    letter: Letter
    to: str

    @property
    def is_given_up(self) -> bool:
        return self.letter.state == Letter.State.FAILED


def people_part(board: Board) -> dict[str, Any]:
    """Sort the board's people by how they stand. One query, of letters in trouble."""
    placed = sorted(board.placed, key=lambda one: one.place or 0)
    return {
        "placed": placed,
        "free": max(0, board.trip.capacity - len(placed)),
        "waiting": waiting_of(board.enrolments),
        "unconfirmed": [one for one in board.enrolments if one.state == State.ASKED],
        "gone": [one for one in board.enrolments if one.state in OVER],
        "troubles": _troubles(board) if board.may_change else [],
        "has_met": bool(board.nights) and board.nights[0].meeting_at <= board.now,
        "people_zone": board.nights[0].spot.site.zone if board.nights else "UTC",
    }


def waiting_of(enrolments: Iterable[Enrolment]) -> list[Waiting]:
    """Number those who wait, in their order."""
    rows = [one for one in enrolments if one.state == State.WAITING]
    rows.sort(key=lambda one: (one.queue_number or 0, one.pk))
    return [Waiting(number, row) for number, row in enumerate(rows, 1)]


def _troubles(board: Board) -> list[Trouble]:
    refused = Letter.objects.filter(trip=board.trip, attempts__gt=0).exclude(
        state__in=[Letter.State.SENT, Letter.State.DROPPED]
    )
    people = {one.pk: one.person.name for one in board.enrolments}
    leaders = {one.pk: str(one) for one in board.instructors}
    return [
        Trouble(
            letter,
            people.get(letter.enrolment_id)
            or leaders.get(letter.instructor_id)
            or board.trip.contact_name,
        )
        for letter in refused
    ]
