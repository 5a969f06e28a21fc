"""Closing a night when all are back; and what goes out when nobody does.

The sweep asks for letters and the outbox sends them: each is a row with a key of its own, so that
neither a second worker nor a restart makes it go twice.
"""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.local_time import clock
from trips.models import Letter, Trip, TripNight, User
from trips.services import letters
from trips.services.go_no_go import GOES
from trips.services.letter_kinds.call_outs import (
    CALL_OUTS,
    CONTACT,
    INSTRUCTOR,
    OVER,
    is_told,
    key_for,
)
from trips.services.refusals import TripRefusedError
from trips.services.trip_history import note
from trips.services.who_is_out import heads_of

# Of trips in these states people are out unless a night was called off.
RUNS = (Trip.Status.CONFIRMED, Trip.Status.RUNNING)


@transaction.atomic
def close_night(
    night: TripNight, *, by: User, now: datetime, despite_open_ticks: bool = False
) -> None:
    """Write down that all are back: no call-out after that. Twice is as good as once.

    Errors: `TripRefusedError` before people have met, and while somebody is ticked as here, unless
    `despite_open_ticks`.
    """
    _refuse_early(night, now)
    if not despite_open_ticks:
        _refuse_open_ticks(night)
    unclosed = TripNight.objects.filter(pk=night.pk, closed_at=None)
    name = by.called[:120]
    if unclosed.update(closed_at=now, closed_by=name) != 1:
        return
    night.closed_at, night.closed_by = now, name
    note(night.trip, "night_closed", at=now, by=by, night=night.pk, date=f"{night.date}")
    _call_off(night, now)


@transaction.atomic
def reopen_night(night: TripNight, *, by: User, now: datetime) -> None:
    """Take a closing back: if it is late already, everybody is told again."""
    closed = TripNight.objects.filter(pk=night.pk, closed_at__isnull=False)
    if closed.update(closed_at=None, closed_by="") != 1:
        return
    night.closed_at, night.closed_by = None, ""
    Letter.objects.filter(night=night, kind__in=CALL_OUTS).delete()
    note(night.trip, "night_reopened", at=now, by=by, night=night.pk, date=f"{night.date}")


def watched(nights: QuerySet[TripNight]) -> QuerySet[TripNight]:
    """Give those nights that somebody must close: of a trip that runs, or that were decided on."""
    runs = Q(trip__status__in=RUNS) & ~Q(decision=TripNight.Decision.NO_GO)
    decided = Q(decision__in=GOES) & ~Q(trip__status=Trip.Status.CANCELLED)
    return nights.filter(runs | decided, closed_at=None)


def is_watched(night: TripNight) -> bool:
    """Tell the same of one night that is read already."""
    runs = night.trip.status in RUNS and night.decision != TripNight.Decision.NO_GO
    decided = night.decision in GOES and night.trip.status != Trip.Status.CANCELLED
    return night.closed_at is None and (runs or decided)


def sweep_call_outs(*, now: datetime) -> None:
    """Ask for the letters of all nights that are overdue."""
    overdue = watched(TripNight.objects.filter(call_out_at__lte=now))
    for night in overdue.select_related("trip"):
        _call_out(night, now)


@transaction.atomic
def _call_out(night: TripNight, now: datetime) -> None:
    """The contact's minutes run from here, not from the hour that was planned: after a server
    was down, those who lead still get the time to answer. They are over for another contact, who
    was written down because the first one could not be reached."""
    trip = night.trip
    for instructor in trip.instructors.all():
        letters.queue(
            INSTRUCTOR,
            key=key_for(night, instructor),
            trip=trip,
            night=night,
            instructor=instructor,
            due_at=now,
        )
    if trip.contact_mail:
        minutes = 0 if is_told(night, of_this_hour=True) else trip.contact_after_minutes
        later = now + timedelta(minutes=minutes)
        letters.queue(CONTACT, key=key_for(night), trip=trip, night=night, due_at=later)


def _call_off(night: TripNight, now: datetime) -> None:
    """Tell the contact, if a letter went to them or is on its way."""
    # Locked, so that no worker claims one between this look and the commit.
    list(Letter.objects.select_for_update().filter(night=night, kind=CONTACT))
    if is_told(night):
        key = f"{key_for(night)}:over:{now.timestamp():.0f}"
        letters.queue(OVER, key=key, trip=night.trip, night=night, due_at=now)


def _refuse_early(night: TripNight, now: datetime) -> None:
    if now < night.meeting_at:
        words = _("This night has not begun: people meet at %(time)s. Close it when all are back.")
        zone = night.spot.site.zone
        raise TripRefusedError(words % {"time": clock(night.meeting_at, zone)})


def _refuse_open_ticks(night: TripNight) -> None:
    here = len(heads_of(night).here)
    if here:
        words = ngettext(
            "%(count)d person is ticked as here and not as left. Tick who has left, or close the "
            "night all the same.",
            "%(count)d people are ticked as here and not as left. Tick who has left, or close the "
            "night all the same.",
            here,
        )
        raise TripRefusedError(words % {"count": here})
