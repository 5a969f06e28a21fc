"""What is kept of people on a trip: rows that go as a whole, and columns of rows that stay.

Whoever adds a column in which somebody can be named says here what becomes of it.
"""

from __future__ import annotations

from functools import reduce
from operator import or_
from typing import Any

from django.db.models import Exists, Model, OuterRef, Q, QuerySet

from trips.models import Car, Enrolment, Letter, Trip, TripInstructor, TripNight

# With all that hangs on them: gear, loans, turns, drives, marks of head counts, letters.
ROWS: tuple[type[Model], ...] = (Enrolment, Car)
COLUMNS: dict[type[Model], tuple[str, ...]] = {
    Trip: ("contact_name", "contact_phone", "contact_mail", "notes"),
    TripNight: ("closed_by", "log_note"),
    TripInstructor: ("phone",),
    Letter: ("error",),  # a mail server's refusal names the reader
}


def holds_something() -> Q:
    """Ask of a trip whether it holds anything of people."""
    rows = [_of_trip(model, OuterRef("pk")) for model in ROWS]
    texts = [
        _of_trip(model, OuterRef("pk")).filter(_is_written(columns))
        for model, columns in COLUMNS.items()
    ]
    return reduce(or_, (Q(Exists(found)) for found in (*rows, *texts)))


def delete_of(trip: Trip) -> int:
    """Delete it all; give how many enrolments went."""
    for model, columns in COLUMNS.items():
        written = _of_trip(model, trip.pk).filter(_is_written(columns))
        written.update(**dict.fromkeys(columns, ""))
    gone = [_of_trip(model, trip.pk).delete()[1] for model in ROWS]
    return sum(of_each.get(Enrolment._meta.label, 0) for of_each in gone)


def _of_trip(model: type[Model], trip: Any) -> QuerySet[Any]:
    return model._default_manager.filter(**{"pk" if model is Trip else "trip": trip})


def _is_written(columns: tuple[str, ...]) -> Q:
    return reduce(or_, (~Q(**{column: ""}) for column in columns))
