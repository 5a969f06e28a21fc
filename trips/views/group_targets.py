"""Who of a group can take what on a night, and what one more tracker would add."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.dateparse import parse_date
from django.views.decorators.http import require_safe

from trips.almanac.tonight import TargetTonight
from trips.models import TripNight
from trips.planning.group_targets import OneMore, RankedTarget
from trips.services.gear_nights import next_night, wants_panorama
from trips.services.group_targets import GroupTargets, group_targets
from trips.views.board import Board, board_of
from trips.views.members import trip_of


@dataclass(frozen=True, slots=True)
class ShownTarget:
    """A target of the night with the names of those who can take it, could, and cannot."""

    target: TargetTonight
    is_panorama: bool
    able: list[str]
    wanting: list[str]
    no_lens: list[str]
    no_light: list[str]


@dataclass(frozen=True, slots=True)
class ShownLoan:
    """To whom a tracker goes best, and what they then take; `is_free`: the club has one."""

    name: str
    targets: list[str]
    is_free: bool


@require_safe
@login_required
def group_targets_page(request: HttpRequest, trip_id: int) -> HttpResponse:
    board = board_of(request, trip_of(request, trip_id))
    night = _night(request, board)
    found = group_targets(board.trip, night, board.placed) if night else None
    context: dict[str, Any] = {"trip": board.trip, "night": night, "nights": board.nights}
    if night is not None:
        context["zone"] = night.spot.site.zone
    if found is not None:
        context |= _shown(found, {one.pk: one.person.name for one in board.enrolments})
    return render(request, "trips/group_targets.html", context)


def _night(request: HttpRequest, board: Board) -> TripNight | None:
    try:
        asked = parse_date(request.GET.get("night", ""))
    except ValueError:
        asked = None
    chosen = (one for one in board.nights if one.date == asked)
    return next(chosen, None) or next_night(board.nights, now=board.now)


def _shown(found: GroupTargets, names: dict[int, str]) -> dict[str, Any]:
    return {
        "found": found,
        "rows": [_row(row, found, names) for row in found.rows],
        "lent": [_loan(n, one, found, names) for n, one in enumerate(found.lent)],
        "silent": _named(found.silent, names),
        "asked": len(found.asked),
    }


def _row(row: RankedTarget[int, int], found: GroupTargets, names: dict[int, str]) -> ShownTarget:
    target = found.targets[row.target]
    return ShownTarget(
        target=target,
        is_panorama=wants_panorama(target.target.key, target.field_degrees),
        able=_named(row.able, names),
        wanting=_named(row.wanting, names),
        no_lens=_named(row.no_lens, names),
        no_light=_named(row.no_light, names),
    )


def _loan(n: int, one: OneMore[int, int], found: GroupTargets, names: dict[int, str]) -> ShownLoan:
    targets = [found.targets[target].name for target in one.targets]
    return ShownLoan(names[one.person], targets, is_free=n < found.free)


def _named(people: Iterable[int], names: dict[int, str]) -> list[str]:
    return [names[one] for one in people]
