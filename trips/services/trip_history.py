"""Who did what to a trip. Ids and figures only: it outlives the people it speaks of."""

from __future__ import annotations

from datetime import datetime

from trips.models import Enrolment, Trip, TripEvent, User


def note(
    trip: Trip,
    what: str,
    *,
    at: datetime,
    by: User | None = None,
    enrolment: Enrolment | None = None,
    **ids: int | str | None,
) -> TripEvent:
    """Write down a deed: of a member, of a person by their link, or of the server by itself.

    `ids` are keys of rows, codes and dates: never a name, an address or what somebody typed.
    """
    event: TripEvent = TripEvent.objects.create(
        trip=trip,
        at=at,
        by=by,
        enrolment_uid=enrolment.uid if enrolment else None,
        what=what,
        detail=ids,
    )
    return event
