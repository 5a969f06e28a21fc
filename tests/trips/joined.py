"""A trip that people join, and people on it, for the tests of places. The clock is NOON."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from tests.trips.making import NOON, make_site
from trips.models import Enrolment, Letter, Spot, Trip, TripNight
from trips.services import joining, letters, link_ends, links
from trips.services.letter_kinds.post import ORDINARY

EVENING = date(2027, 6, 5)
MEETING = datetime.fromisoformat("2027-06-05T18:30:00+00:00")
REST = joining.Rest(
    name="Ilse",
    phone="+34 600 000 000",
    emergency_name="Bo",
    emergency_phone="+34 600 000 001",
    experience="some",
    units="metric",
)


def make_joinable(**fields: Any) -> Trip:
    """Make an open trip of two nights with two places."""
    site = fields.pop("site", None) or make_site(fields.pop("organisation", None))
    values = {"name": "June on the hill", "status": Trip.Status.OPEN, "capacity": 2}
    trip = Trip(organisation=site.organisation, **values | fields)
    links.sign_invitation(trip)
    trip.save()
    spot, _ = Spot.objects.get_or_create(site=site, name="Wall", latitude=40.4, longitude=-1.1)
    for day in range(2):
        TripNight.objects.create(
            trip=trip,
            date=EVENING + timedelta(days=day),
            spot=spot,
            meeting_at=MEETING + timedelta(days=day),
            meeting_point="The chapel",
            ends_at=MEETING + timedelta(days=day, hours=6),
            call_out_at=MEETING + timedelta(days=day, hours=8),
        )
    link_ends.set_ends(trip)
    return trip


def asked(trip: Trip, name: str = "Ilse", *, now: datetime = NOON) -> Enrolment:
    enrolment = joining.ask(trip, name=name, mail=f"{name}@meadow.example", now=now)
    assert enrolment is not None
    return enrolment


def joined(trip: Trip, name: str = "Ilse", *, now: datetime = NOON) -> Enrolment:
    """Give somebody who confirmed: with a place held, or waiting."""
    return joining.confirm(asked(trip, name, now=now), now=now)


def placed(trip: Trip, name: str = "Ilse") -> Enrolment:
    return joining.say_the_rest(joined(trip, name), replace(REST, name=name), now=NOON)


def again(enrolment: Enrolment) -> Enrolment:
    """Read the row anew."""
    row: Enrolment = Enrolment.objects.select_related("trip", "person").get(pk=enrolment.pk)
    return row


def kinds(enrolment: Enrolment | None = None) -> list[str]:
    """Give the kinds of the letters that were asked for, in order."""
    rows = Letter.objects.order_by("pk")
    if enrolment is not None:
        rows = rows.filter(enrolment=enrolment)
    return list(rows.values_list("kind", flat=True))


def post(now: datetime = NOON) -> int:
    """Send what is due of ordinary mail."""
    return letters.send_due(ORDINARY, clock=lambda: now)
