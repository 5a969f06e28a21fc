"""What a trip must have before it takes a step, said in one sentence each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.local_time import local
from trips.models import Enrolment, Trip, TripNight
from trips.services.closing import is_watched
from trips.services.tides import why_not_confirmed
from trips.services.trip_nights import nights_of


@dataclass(frozen=True, slots=True)
class Standing:
    """A trip as far as its steps depend on it: nights with spot and site, places taken."""

    trip: Trip
    nights: Sequence[TripNight]
    taken: int

    @classmethod
    def of(cls, trip: Trip) -> Standing:
        taken = Enrolment.objects.filter(trip=trip).with_a_place().count()
        return cls(trip, nights_of(trip), taken)


def needs(standing: Standing, to: str, *, now: datetime) -> list[str]:
    """Give what is still missing for a step, in the order of the nights; empty: it may be taken."""
    if not standing.nights:
        return [_("It has no night yet: add one.")]
    return list(_needs(standing, to, now))


def _needs(standing: Standing, to: str, now: datetime) -> Iterator[str]:
    match to:
        case Trip.Status.OPEN if standing.trip.status == Trip.Status.FULL:
            yield from _a_free_place(standing)
        case Trip.Status.OPEN:
            yield from _decisions(standing.nights)
        case Trip.Status.FULL:
            yield from _no_free_place(standing)
        case Trip.Status.CONFIRMED:
            yield from _decisions(standing.nights)
            yield from why_not_confirmed(standing.nights)
            yield from _enough_people(standing)
        case Trip.Status.RUNNING:
            yield from _its_day(standing.nights[0], now)
        case Trip.Status.DONE:
            yield from _everybody_back(standing.nights)
        case Trip.Status.CANCELLED:
            begun = [night for night in standing.nights if night.meeting_at <= now]
            yield from _everybody_back([night for night in begun if is_watched(night)])


def _a_free_place(standing: Standing) -> Iterator[str]:
    if standing.taken >= standing.trip.capacity:
        yield _("All places are taken: somebody must give one back, or there must be more places.")


def _no_free_place(standing: Standing) -> Iterator[str]:
    free = standing.trip.capacity - standing.taken
    if free > 0:
        yield ngettext("%(n)d place is free.", "%(n)d places are free.", free) % {"n": free}


def _decisions(nights: Sequence[TripNight]) -> Iterator[str]:
    for night in nights:
        if night.decision_at is None or not night.decision_place:
            words = _("%(night)s needs an hour and a place for the decision whether you go.")
            yield words % {"night": _day(night)}


def _enough_people(standing: Standing) -> Iterator[str]:
    taken, least = standing.taken, standing.trip.least_people
    if taken < least:
        words = ngettext(
            "Nobody has a place yet (%(taken)d of at least %(least)d): wait for somebody.",
            "%(taken)d of at least %(least)d people have a place: wait for more, or lower the "
            "least number.",
            least,
        )
        yield words % {"taken": taken, "least": least}


def _its_day(first: TripNight, now: datetime) -> Iterator[str]:
    if local(now, first.spot.site.zone).date() < first.date:
        words = _("Its first night is %(night)s: it runs from that day on.")
        yield words % {"night": _day(first)}


def _everybody_back(nights: Sequence[TripNight]) -> Iterator[str]:
    for night in nights:
        if night.closed_at is None and night.decision != TripNight.Decision.NO_GO:
            words = _("%(night)s is not closed: somebody must say that everybody is back.")
            yield words % {"night": _day(night)}


def _day(night: TripNight) -> str:
    return date_format(night.date, "l j F Y")
