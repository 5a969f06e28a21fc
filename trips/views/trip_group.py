"""The turns and the group's targets on a trip's board."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from trips.models import Enrolment, Rota, Turn
from trips.services.head_counts import EXPECTED
from trips.services.rotas import without_turn
from trips.views.board import Board


@dataclass(frozen=True, slots=True)
class ShownRota:
    """A rota with its turns by their hour, and who has none."""

    rota: Rota
    turns: tuple[Turn, ...]
    without: tuple[Enrolment, ...]
    zone: str

    @property
    def gone(self) -> set[int]:
        """Give those who have a turn and no longer come: their slot is free to give."""
        return {t.enrolment_id for t in self.turns if t.enrolment.state not in EXPECTED}

    @property
    def rounds(self) -> list[list[Turn]]:
        return [list(each) for _at, each in groupby(self.turns, key=lambda turn: turn.starts_at)]

    @property
    def minutes(self) -> int:
        first = self.turns[0]
        return int((first.ends_at - first.starts_at).total_seconds() // 60)


def group_part(board: Board) -> dict[str, Any]:
    """Two queries: the rotas of all nights, and their turns."""
    return {"rotas": list(_rotas(board))}


def _rotas(board: Board) -> Iterator[ShownRota]:
    nights = {night.pk: night for night in board.nights}
    people = {one.pk: one for one in board.enrolments}
    rotas = Rota.objects.filter(night__in=nights).order_by("night__date", "starts_at", "pk")
    for rota in rotas.prefetch_related("turns"):
        rota.night = nights[rota.night_id]
        turns = list(rota.turns.all())
        for turn in turns:
            turn.enrolment = people[turn.enrolment_id]
        without = without_turn(board.placed, turns)
        yield ShownRota(rota, tuple(turns), tuple(without), rota.night.spot.site.zone)
