"""Nights taken off a trip or moved to another evening: the history keeps what is told of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from trips.models import Trip, TripEvent, TripNight, User
from trips.services.trip_history import note

REMOVED = "night_removed"
MOVED = "night_moved"


@dataclass(frozen=True, slots=True)
class RemovedNight:
    """`version` is the last one that it had."""

    uid: str
    evening: date
    version: int
    meeting_at: datetime
    ends_at: datetime


def note_removed(night: TripNight, *, by: User, now: datetime) -> None:
    note(
        night.trip, REMOVED, at=now, by=by, night=night.pk, date=f"{night.date}",
        uid=f"{night.uid}", version=night.version, meets=night.meeting_at.isoformat(),
        ends=night.ends_at.isoformat(),
    )  # fmt: skip


def removed_of(trip: Trip) -> Iterator[RemovedNight]:
    """Give those that were taken off, in that order. One query."""
    events = TripEvent.objects.filter(trip=trip, what=REMOVED, detail__has_key="uid")
    for event in events.order_by("pk"):
        told = event.detail
        meets, ends = (datetime.fromisoformat(told[name]) for name in ("meets", "ends"))
        evening = date.fromisoformat(told["date"])
        yield RemovedNight(told["uid"], evening, told["version"], meets, ends)


def is_removed(trip: Trip, evening: date) -> bool:
    """Tell whether a night of that evening was taken off."""
    return TripEvent.objects.filter(trip=trip, what=REMOVED, detail__date=f"{evening}").exists()


def note_moved(night: TripNight, was: date, *, by: User, now: datetime) -> None:
    note(night.trip, MOVED, at=now, by=by, night=night.pk, was=f"{was}", date=f"{night.date}")


def moved_to(trip: Trip, evening: date) -> date | None:
    """Give the evening that a night of that evening was moved to at last, None where none was."""
    events = TripEvent.objects.filter(trip=trip, what=MOVED, detail__was=f"{evening}")
    last = events.order_by("-pk").first()
    if last is None:
        return None
    to = TripNight.objects.filter(pk=last.detail["night"]).values_list("date", flat=True)
    return to.first()
