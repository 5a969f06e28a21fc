"""The decision whether a night takes place, and where."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext as _

from trips.models import Enrolment, TripNight, User
from trips.services.letter_kinds.briefs import decision_key
from trips.services.letters import queue
from trips.services.refusals import TripRefusedError
from trips.services.tides import why_not_confirmed
from trips.services.trip_history import note

Decision = TripNight.Decision
GOES = (Decision.GO, Decision.SECOND)


@transaction.atomic
def decide(night: TripNight, decision: str, *, by: User, now: datetime) -> None:
    """Write down what was decided and mail it at once to all who come. Decided anew, the last one
    counts; decided the same by a second tap, nothing happens.

    Errors: `TripRefusedError`.
    """
    if decision not in Decision.values:
        raise TripRefusedError(_("Choose one: we go, the second spot, or we do not go."))
    if decision == Decision.SECOND and night.second_spot_id is None:
        raise TripRefusedError(_("This night has no second spot: give it one first."))
    if night.closed_at is not None:
        raise TripRefusedError(_("This night is closed: there is nothing left to decide."))
    if decision in GOES and (missing := why_not_confirmed([night])):
        raise TripRefusedError(missing[0])
    is_open = decision == Decision.OPEN
    night.decision = Decision(decision)
    night.decided_at, night.decided_by = (None, None) if is_open else (now, by)
    other = TripNight.objects.filter(pk=night.pk).exclude(decision=decision)
    is_news = other.update(
        decision=night.decision,
        decided_at=night.decided_at,
        decided_by=night.decided_by,
        version=F("version") + 1,
    )
    if not is_news:
        return
    _tell(night, now=now)
    note(night.trip, "decided", at=now, by=by, night=night.pk, date=f"{night.date}",
         decision=decision)  # fmt: skip


def _tell(night: TripNight, *, now: datetime) -> None:
    """Write to all who come; the instant lets what is decided a second time be told again."""
    begin = f"{decision_key(night)}{now.timestamp():.0f}"
    for one in Enrolment.objects.filter(trip=night.trip_id).coming():
        queue("go_no_go", key=f"{begin}:{one.pk}", trip=night.trip, night=night, enrolment=one,
              due_at=now)  # fmt: skip
