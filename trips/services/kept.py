"""All that is kept of a person on a trip, as values to take away. Nothing of anybody else."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from django.db.models import QuerySet

from trips.models import (
    CalendarLink,
    Drive,
    Enrolment,
    Loan,
    PersonalPlan,
    Tick,
    TripEvent,
    Turn,
)

# What the service needs and a person cannot read anything from.
_INNER = {"id", "uid", "link_hash", "link_generation", "organisation", "trip", "person"}


def kept_of(enrolment: Enrolment, *, at: datetime) -> dict[str, Any]:
    """Give what is kept, in plain values that JSON can hold."""
    return {
        "trip": enrolment.trip.name,
        "organisation": enrolment.trip.organisation.name,
        "written_at": _plain(at),
        "person": _columns(enrolment.person),
        "place": _columns(enrolment),
        "gear": [{"kind": g.kind, "name": g.name, "spec": g.spec} for g in enrolment.gear.all()],
        "loans": [
            {"night": _plain(loan.night.date), "item": loan.item.name, "granted": loan.is_granted}
            for loan in Loan.objects.filter(enrolment=enrolment).select_related("night", "item")
        ],
        "turns": [
            {"at": turn.rota.what, "from": _plain(turn.starts_at), "to": _plain(turn.ends_at)}
            for turn in Turn.objects.filter(enrolment=enrolment).select_related("rota")
        ],
        "drives": [
            {"night": _plain(drive.night.date), "car": drive.car.name}
            for drive in Drive.objects.filter(enrolment=enrolment).select_related("night", "car")
        ],
        "head_counts": [
            {"night": _plain(tick.night.date), "what": tick.kind, "at": _plain(tick.at)}
            for tick in Tick.objects.filter(enrolment=enrolment).select_related("night")
        ],
        "plans": [
            {
                "night": _plain(plan.brief.night.date),
                "version": plan.brief.number,
                "made_at": _plain(plan.made_at),
                "facts": plan.facts,
            }
            for plan in PersonalPlan.objects.filter(enrolment=enrolment).select_related(
                "brief__night"
            )
        ],
        "has_calendar": CalendarLink.objects.filter(enrolment=enrolment).exists(),
        "letters": [
            {"kind": letter.kind, "state": letter.state, "sent_at": _plain(letter.sent_at)}
            for letter in enrolment.letters.all()
        ],
        "history": [{"what": event.what, "at": _plain(event.at)} for event in _history(enrolment)],
    }


def _history(enrolment: Enrolment) -> QuerySet[TripEvent]:
    own = TripEvent.objects.filter(trip=enrolment.trip_id, enrolment_uid=enrolment.uid)
    return own.order_by("at", "pk")


def _columns(row: Any) -> dict[str, Any]:
    """Give a row's own columns: one that is added later is given too."""
    return {
        field.name: _plain(field.value_from_object(row))
        for field in row._meta.concrete_fields
        if field.name not in _INNER
    }


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date) else value
