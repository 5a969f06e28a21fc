"""How far the letters of a deed are: of a version that is mailed, of a decision."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count

from trips.models import Brief, Letter, TripNight
from trips.services.letter_kinds.briefs import decision_key

State = Letter.State
OPEN = (State.QUEUED, State.SENDING)
MOST_TOLD = 20  # of those that were refused


@dataclass(frozen=True, slots=True)
class Mailing:
    """How many letters went, wait and are given up; `refused` are those that a server did not
    take, whether they are tried again or not. `is_moving`: one goes out by itself now."""

    sent: int
    waiting: int
    given_up: int
    refused: tuple[Letter, ...]
    is_moving: bool


def mailing_of(brief: Brief, *, at: datetime) -> Mailing:
    """Give how far the letters of a version are. Two queries."""
    return _mailing(brief.night_id, f"brief:{brief.pk}:", at=at)


def telling_of(night: TripNight, *, at: datetime) -> Mailing | None:
    """Give how far those of the present decision are; None where nothing is decided."""
    if night.decided_at is None:
        return None
    begin = f"{decision_key(night)}{night.decided_at.timestamp():.0f}:"
    return _mailing(night.pk, begin, at=at)


def _mailing(night: int, begin: str, *, at: datetime) -> Mailing:
    letters = Letter.objects.filter(night=night, key__startswith=begin)
    counted = _counts(letters.order_by().values_list("state").annotate(Count("pk")))
    troubled = letters.filter(attempts__gt=0, state__in=(*OPEN, State.FAILED))
    refused = tuple(troubled.select_related("enrolment__person")[:MOST_TOLD])
    waits_long = sum(one.due_at > at for one in refused if one.state == State.QUEUED)
    waiting = sum(counted.get(state, 0) for state in OPEN)
    return Mailing(
        sent=counted.get(State.SENT, 0),
        waiting=waiting,
        given_up=counted.get(State.FAILED, 0),
        refused=refused,
        is_moving=waiting > waits_long,
    )


def _counts(rows: Iterable[tuple[str, int]]) -> dict[str, int]:
    return dict(rows)
