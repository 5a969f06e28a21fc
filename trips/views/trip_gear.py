"""The gear of a trip's board: what people bring, what is short, what can be lent by whom."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from trips.models import Enrolment, Loan, LoanItem, OwnGear
from trips.planning.gear import KINDS, NAMES, Gear, Piece
from trips.planning.gear_check import check, short
from trips.services.gear import piece_of
from trips.services.gear_nights import plan_of
from trips.services.loans import kit_with_loans
from trips.views.board import Board

ORDER = list(KINDS)
# Of these one is enough: a second one can be lent to somebody else.
SPARE_KINDS = ("camera", "support", "tracker")


@dataclass(frozen=True, slots=True)
class Lack:
    """What a person is short of, which piece of the club is free, and who brings two."""

    kind: str
    item: LoanItem | None
    spare: Sequence[str]


@dataclass(frozen=True, slots=True)
class GearRow:
    enrolment: Enrolment
    brings: Sequence[Piece]
    lacks: Sequence[Lack]
    lent: Sequence[Loan]
    asked: Sequence[Loan]

    @property
    def has_said(self) -> bool:
        """Whether anything is known of what a person brings: silence is no shortage."""
        return bool(self.brings or self.lent)


@dataclass(frozen=True, slots=True)
class Bags:
    """What everybody brings by enrolment, the kit, and its loans of the trip's evenings."""

    own: Mapping[int, Sequence[Piece]]
    kit: Sequence[LoanItem]
    loans: Sequence[Loan]
    evenings: frozenset[date] = field(default_factory=frozenset)

    def gear_of(self, enrolment: Enrolment) -> Gear:
        lent = [
            (loan.evening, piece)
            for loan in self.loans
            if loan.enrolment_id == enrolment.pk
            and loan.is_granted
            and (piece := piece_of(loan.item))
        ]
        return Gear(tuple(self.own.get(enrolment.pk, ())), tuple(lent))

    def free(self, kind: str) -> LoanItem | None:
        """Give the first piece of a kind that is free on one of the evenings at least."""
        of_kind = (one for one in self.kit if one.kind == kind)
        return next((one for one in of_kind if self.evenings - self._taken(one)), None)

    def _taken(self, item: LoanItem) -> set[date]:
        return {one.evening for one in self.loans if one.item_id == item.pk and one.is_granted}


def gear_part(board: Board) -> dict[str, Any]:
    """Two queries: what people bring, and the kit with its loans."""
    bags = _bags(board)
    return {"gear_rows": _rows(board, bags), "gear_kit": bags.kit}


def gear_rows(board: Board) -> list[GearRow]:
    return _rows(board, _bags(board))


def _rows(board: Board, bags: Bags) -> list[GearRow]:
    spare = _spare(bags, board.placed)
    # What is usual in a month is looked up on the safety pages: here only what was typed counts.
    plan = plan_of(board.trip, board.nights, (), ())
    return [_row(one, bags, spare, short(check(bags.gear_of(one), plan))) for one in board.placed]


def _bags(board: Board) -> Bags:
    people = [one.pk for one in board.placed]
    own: dict[int, list[Piece]] = {pk: [] for pk in people}
    for row in OwnGear.objects.filter(enrolment__in=people):
        piece = piece_of(row)
        if piece is not None:
            own[row.enrolment_id].append(piece)
    for pieces in own.values():
        pieces.sort(key=lambda piece: ORDER.index(NAMES[type(piece)]))
    evenings = frozenset(night.date for night in board.nights)
    kit, loans = kit_with_loans(board.trip, evenings)
    return Bags(own, kit, loans, evenings)


def _spare(bags: Bags, people: Iterable[Enrolment]) -> dict[str, list[str]]:
    """Give who brings two of a kind."""
    found: dict[str, list[str]] = {kind: [] for kind in SPARE_KINDS}
    for one in people:
        kinds = [NAMES[type(piece)] for piece in bags.own.get(one.pk, ())]
        for kind in SPARE_KINDS:
            if kinds.count(kind) > 1:
                found[kind].append(one.person.name)
    return found


def _row(
    one: Enrolment, bags: Bags, spare: Mapping[str, list[str]], lacking: Iterable[str]
) -> GearRow:
    mine = [loan for loan in bags.loans if loan.enrolment_id == one.pk]
    for loan in mine:
        loan.enrolment = one
    return GearRow(
        enrolment=one,
        brings=bags.own.get(one.pk, ()),
        lacks=[
            Lack(kind, bags.free(kind), [n for n in spare.get(kind, []) if n != one.person.name])
            for kind in lacking
        ],
        lent=[loan for loan in mine if loan.is_granted],
        asked=[loan for loan in mine if not loan.is_granted and not loan.refused_at],
    )
