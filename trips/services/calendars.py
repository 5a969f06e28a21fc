"""Private calendars for other programs to subscribe to: of a trip, or of a person's place on it.

A calendar that is made useless is gone: the next one has another address.
"""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from django.utils.translation import gettext as _

from trips.models import CalendarLink, Enrolment, Trip, User
from trips.services import links
from trips.services.letter_kinds.written import address
from trips.services.link_ends import end_of
from trips.services.places import lock
from trips.services.refusals import RefusedError
from trips.services.trip_history import note


def link_of(trip: Trip, enrolment: Enrolment | None = None) -> CalendarLink | None:
    """Give the link of the trip's calendar, or of the person's, where there is one."""
    return CalendarLink.objects.filter(trip=trip, enrolment=enrolment).first()


def address_of(link: CalendarLink | None) -> str:
    """Give what a program subscribes to; "" where there is no link."""
    return "" if link is None else address("calendar_feed", links.token_of(link))


def find(token: str, *, at: datetime) -> CalendarLink | None:
    rows = CalendarLink.objects.select_related("trip__organisation", "enrolment")
    return links.found(rows, token, at=at)


@transaction.atomic
def make_link(
    trip: Trip,
    enrolment: Enrolment | None = None,
    *,
    now: datetime,
    by: User | None = None,
) -> CalendarLink:
    """Give the link, made if there is none. Errors: `RefusedError` for who has no place."""
    lock(trip)
    standing = link_of(trip, enrolment)
    if standing is not None:
        return standing
    if enrolment is not None:
        enrolment.refresh_from_db(fields=["state", "place"])
        if enrolment.place is None:
            raise RefusedError(_("A calendar is for who has a place on the trip."))
    link = CalendarLink(trip=trip, enrolment=enrolment, link_expires_at=end_of(trip))
    links.sign(link)
    link.save()
    note(trip, "calendar_made", at=now, by=by, enrolment=enrolment)
    return link


@transaction.atomic
def revoke(
    trip: Trip, enrolment: Enrolment | None = None, *, now: datetime, by: User | None = None
) -> None:
    """Make the calendar's address useless; programs that subscribed get no page any more."""
    lock(trip)
    link = link_of(trip, enrolment)
    if link is not None:
        link.delete()
        note(trip, "calendar_revoked", at=now, by=by, enrolment=enrolment)
