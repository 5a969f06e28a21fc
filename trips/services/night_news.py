"""People who come are written to where the nights of their trip are other than they were told."""

from __future__ import annotations

from datetime import datetime, timedelta

from trips.models import Enrolment, Trip
from trips.planning.trip_steps import GONE_BY
from trips.services.letter_kinds.nights import NIGHTS_CHANGED, edition_of, nights_key
from trips.services.letters import queue
from trips.services.night_times import first_night

# Who edits puts more than one thing right: what holds after this time is told, once.
PAUSE = timedelta(minutes=5)
# With so little time left people are packing, or on their way.
SOON = timedelta(hours=12)


def tell_nights(trip: Trip, before: str, *, now: datetime) -> None:
    """Ask for a letter to each who comes, where the nights are another edition than `before`."""
    edition = edition_of(trip)
    if edition == before or trip.status not in GONE_BY:
        return
    first = first_night(trip)
    is_soon = first is not None and first.meeting_at - now < SOON
    due_at = now if is_soon else now + PAUSE
    for one in Enrolment.objects.filter(trip=trip).coming():
        key = nights_key(one, before, edition, at=now)
        queue(NIGHTS_CHANGED, key=key, trip=trip, enrolment=one, due_at=due_at)
