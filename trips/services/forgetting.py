"""Deleting what is kept of people: when it is due by itself, before that when they ask.

A person goes with the last enrolment. History keeps ids, which then lead nowhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.db import connection, transaction
from django.db.models import Max, QuerySet
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import local
from trips.models import Car, Drive, Enrolment, Person, Trip
from trips.services import link_ends, moving_up, places
from trips.services.joining import CONFIRM_WITHIN
from trips.services.personal_data import delete_of, holds_something
from trips.services.refusals import RefusedError
from trips.services.trip_history import note

State = Enrolment.State
LETTER_FILES_KEPT = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Forgotten:
    enrolments: int
    people: int


def forget_due(*, now: datetime) -> Forgotten:
    """Delete who did not confirm in time, and who was on a trip whose `keep_days` are over."""
    unconfirmed = Enrolment.objects.filter(state=State.ASKED, asked_at__lte=now - CONFIRM_WITHIN)
    gone = _delete(unconfirmed)
    gone += sum(_forget_trip(trip, now=now) for trip in _over(now))
    people = _delete(Person.objects.filter(enrolments=None))
    _forget_letter_files(now)
    _cut_log_of_writes()
    return Forgotten(gone, people)


def forget_on_request(enrolment: Enrolment, *, now: datetime) -> None:
    """Delete what is kept of a person on a trip; a place becomes free. Pressed twice, the second
    finds nothing left to do.

    Errors: `RefusedError` while people are out and this one is counted.
    """
    with transaction.atomic():
        trip = places.lock(enrolment.trip)
        left = Enrolment.objects.select_related("person").filter(pk=enrolment.pk).first()
        if left is not None:
            _forget(trip, left, now=now)


def _forget(trip: Trip, enrolment: Enrolment, *, now: datetime) -> None:
    _refuse_while_out(trip, enrolment, now=now)
    note(trip, "forgotten", at=now, enrolment=enrolment)
    person = enrolment.person
    _own_cars(enrolment).delete()
    enrolment.delete()
    if not person.enrolments.exists():
        person.delete()
    moving_up.settle(trip, now=now)


def _own_cars(enrolment: Enrolment) -> QuerySet[Car]:
    """Give the cars that nobody else drives: rescuers would look for them in vain."""
    others = Drive.objects.exclude(enrolment=enrolment)
    return Car.objects.filter(drives__enrolment=enrolment).exclude(drives__in=others)


def _over(now: datetime) -> list[Trip]:
    """Give the trips that still hold something of people and may not any more."""
    ended = Trip.objects.filter(holds_something()).annotate(last_end=Max("nights__ends_at"))
    ended = ended.filter(last_end__lte=now)
    return [trip for trip in ended if trip.last_end + timedelta(days=trip.keep_days) <= now]


@transaction.atomic
def _forget_trip(trip: Trip, *, now: datetime) -> int:
    trip = places.lock(trip)
    gone = delete_of(trip)
    note(trip, "all_forgotten", at=now, people=gone)
    return gone


def _forget_letter_files(now: datetime) -> None:
    """Without a mail server letters are files, with names and links in them."""
    for file in Path(settings.EMAIL_FILE_PATH).glob("*.log"):
        if file.stat().st_mtime < (now - LETTER_FILES_KEPT).timestamp():
            file.unlink(missing_ok=True)


def _cut_log_of_writes() -> None:
    """SQLite overwrites what is deleted, but its log of writes keeps it until it is cut."""
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _delete(rows: QuerySet[Enrolment] | QuerySet[Person]) -> int:
    """Delete rows with all that hangs on them; give how many of their own kind."""
    _all, of_each = rows.delete()
    return of_each.get(rows.model._meta.label, 0)


def _refuse_while_out(trip: Trip, enrolment: Enrolment, *, now: datetime) -> None:
    begin, end = places.begins_at(trip), link_ends.last_end_of(trip)
    is_counted = enrolment.state in (State.HELD, State.PLACED)
    if not is_counted or trip.status == Trip.Status.CANCELLED or begin is None or end is None:
        return
    if begin <= now < end:
        words = _(
            "While people are out, those who lead must know who is there. Ask again after "
            "%(day)s, or wait until it is deleted by itself."
        )
        raise RefusedError(words % {"day": _day(trip, end)})


def _day(trip: Trip, instant: datetime) -> str:
    return date_format(local(instant, places.zone_of_trip(trip)), "j F Y")
