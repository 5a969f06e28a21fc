"""Who did what to a trip. Ids and figures only: it outlives the people it speaks of."""

from __future__ import annotations

from datetime import datetime, timedelta

from trips.models import Enrolment, Trip, TripEvent, User

# Within this time the same deed by the same person is one button, pressed twice.
TWICE_WITHIN = timedelta(seconds=10)


def note(
    trip: Trip,
    what: str,
    *,
    at: datetime,
    by: User | None = None,
    enrolment: Enrolment | None = None,
    **ids: int | str | None,
) -> bool:
    """Write down a deed: of a member, of a person by their link, or of the server by itself.

    `ids` are keys of rows, codes and dates: never a name, an address or what somebody typed. Tells
    whether it is a deed of its own: a button pressed twice is written down once.
    """
    uid = enrolment.uid if enrolment else None
    event = TripEvent(trip=trip, at=at, by=by, enrolment_uid=uid, what=what, detail=ids)
    if _is_said_just_before(event):
        return False
    event.save()
    return True


def _is_said_just_before(event: TripEvent) -> bool:
    """Only the last event counts: what was done, undone and done again is three deeds."""
    last = TripEvent.objects.filter(trip=event.trip_id).order_by("-pk").first()
    if last is None or not timedelta(0) <= event.at - last.at <= TWICE_WITHIN:
        return False
    names = ("by_id", "enrolment_uid", "what", "detail")
    return all(getattr(last, name) == getattr(event, name) for name in names)
