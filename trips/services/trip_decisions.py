"""What of trips waits for a person: whether one runs, whether a night goes, who is not back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Count, Q
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.almanac.local_time import clock, local
from trips.models import Organisation, Trip, TripNight
from trips.services.closing import watched

DECIDED_SOON, DECIDED_TODAY = timedelta(days=7), timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class TripDecision:
    kind: str
    sentence: str
    trip: Trip


def trips_waiting(organisations: list[Organisation], *, at: datetime) -> Iterator[TripDecision]:
    """Give first what cannot wait. Three queries."""
    of_clubs = Q(trip__organisation__in=organisations)
    nights = TripNight.objects.filter(of_clubs).select_related("trip", "spot__site")
    for night in watched(nights.filter(call_out_at__lte=at)):
        words = _("%(trip)s: the night of %(night)s is not closed. Is everybody back?")
        yield TripDecision("not_closed", words % _named(night), night.trip)
    soon = nights.filter(
        decision="", decision_at__gt=at - DECIDED_TODAY, decision_at__lte=at + DECIDED_TODAY,
        meeting_at__gt=at, trip__status__in=(Trip.Status.CONFIRMED, Trip.Status.RUNNING),
    )  # fmt: skip
    for night in soon:
        words = _("%(trip)s: whether you go on %(night)s is decided at %(clock)s.")
        yield TripDecision("go", words % _named(night), night.trip)
    yield from _to_run(organisations, at)


def _to_run(organisations: list[Organisation], at: datetime) -> Iterator[TripDecision]:
    trips = Trip.objects.filter(
        organisation__in=organisations, decided_by__lte=(at + DECIDED_SOON).date(),
        status__in=(Trip.Status.OPEN, Trip.Status.FULL),
    )  # fmt: skip
    taken = Count("enrolments", filter=Q(enrolments__place__isnull=False))
    for trip in trips.annotate(taken=taken).order_by("decided_by", "pk"):
        words = _(
            "Whether %(trip)s runs is decided by %(day)s: %(taken)d of at least %(least)d people "
            "have a place."
        )
        told = {
            "trip": trip.name, "day": date_format(trip.decided_by, "j F"), "taken": trip.taken,
            "least": trip.least_people,
        }  # fmt: skip
        yield TripDecision("runs", words % told, trip)


def _named(night: TripNight) -> dict[str, str]:
    zone = night.spot.site.zone
    decided = night.decision_at
    moment = (
        f"{clock(decided, zone)}, {date_format(local(decided, zone), 'j F')}" if decided else ""
    )
    return {
        "trip": night.trip.name,
        "night": date_format(night.date, "j F"),
        "clock": moment,
    }
