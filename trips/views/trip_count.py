"""The head counts on a trip's board: what they came to, and where an instructor counts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.urls import reverse

from trips.models import TripInstructor, TripNight
from trips.planning.head_count import Mark, standing
from trips.services import links
from trips.services.head_counts import EXPECTED, marks_of
from trips.services.letter_kinds.written import address
from trips.views.board import Board


@dataclass(frozen=True, slots=True)
class NightCount:
    """Of the people expected: how many were ticked as here and as left, and what differs."""

    night: TripNight
    expected: int
    here: int
    left: int
    differing: int

    @property
    def zone(self) -> str:
        return str(self.night.spot.site.zone)

    @property
    def uncounted(self) -> int:
        return self.expected - self.here - self.left


def count_part(board: Board) -> dict[str, Any]:
    """One query: the ticks of all nights."""
    marks = marks_of(board.nights)
    people = [one for one in board.enrolments if one.state in EXPECTED]
    keys = [*(f"p{one.pk}" for one in people), *(f"l{one.pk}" for one in board.instructors)]
    own = next((one for one in board.instructors if one.user_id == board.viewer.pk), None)
    return {
        "counts": [_count(night, marks[night.pk], keys) for night in board.nights],
        "own_count_link": reverse("head_count", args=[links.token_of(own)]) if own else "",
        "own_count_address": address("head_count", links.token_of(own)) if own else "",
        "own_instructor": own,
        "count_links": _others(board, own),
    }


def _count(night: TripNight, marks: dict[str, list[Mark]], keys: Iterable[str]) -> NightCount:
    stand = [standing(marks.get(key, [])) for key in keys]
    return NightCount(
        night=night,
        expected=len(stand),
        here=sum(one.is_here for one in stand),
        left=sum(one.has_left for one in stand),
        differing=sum(one.differing is not None for one in stand),
    )


def _others(board: Board, own: TripInstructor | None) -> list[TripInstructor]:
    """Give the others whose links whoever may change the trip can make useless."""
    return [one for one in board.instructors if board.may_change and one != own]
