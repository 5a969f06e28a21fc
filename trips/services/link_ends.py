"""How long private links of a trip open something: as long as what is kept of people."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import Max

from trips.models import Enrolment, Trip


def end_of(trip: Trip) -> datetime | None:
    """Give the last night's end and `keep_days`; None for a trip without nights."""
    last = last_end_of(trip)
    return None if last is None else last + timedelta(days=trip.keep_days)


def last_end_of(trip: Trip) -> datetime | None:
    last: datetime | None = trip.nights.aggregate(last=Max("ends_at"))["last"]
    return last


def set_ends(trip: Trip) -> None:
    """Give all links of the trip their end; called whenever its nights or `keep_days` change.

    A place that was asked for and not confirmed has an end of its own.
    """
    end = end_of(trip)
    trip.enrolments.exclude(state=Enrolment.State.ASKED).update(link_expires_at=end)
    trip.instructors.update(link_expires_at=end)
    trip.calendar_links.update(link_expires_at=end)
