"""What a trip must have before it takes a step, said in one sentence each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from trips.almanac.local_time import local
from trips.models import Enrolment, Trip, TripNight


def needs(trip: Trip, to: str, *, now: datetime) -> list[str]:
    """Give what is still missing for a step, in the order of the nights; empty: it may be taken."""
    if to == Trip.Status.CANCELLED:
        return []
    nights = list(trip.nights.select_related("spot__site"))
    if not nights:
        return [_("It has no night yet: add one.")]
    return list(_needs(trip, to, nights, now))


def _needs(trip: Trip, to: str, nights: Sequence[TripNight], now: datetime) -> Iterator[str]:
    match to:
        case Trip.Status.OPEN if trip.status == Trip.Status.FULL:
            yield from _a_free_place(trip)
        case Trip.Status.OPEN:
            yield from _decisions(nights)
        case Trip.Status.FULL:
            yield from _no_free_place(trip)
        case Trip.Status.CONFIRMED:
            yield from _decisions(nights)
            yield from _enough_people(trip)
        case Trip.Status.RUNNING:
            yield from _its_day(nights[0], now)
        case Trip.Status.DONE:
            yield from _everybody_back(nights)


def _a_free_place(trip: Trip) -> Iterator[str]:
    if _taken(trip) >= trip.capacity:
        yield _("All places are taken: somebody must give one back, or there must be more places.")


def _no_free_place(trip: Trip) -> Iterator[str]:
    free = trip.capacity - _taken(trip)
    if free > 0:
        yield ngettext("%(n)d place is free.", "%(n)d places are free.", free) % {"n": free}


def _decisions(nights: Sequence[TripNight]) -> Iterator[str]:
    for night in nights:
        if night.decision_at is None or not night.decision_place:
            words = _("%(night)s needs an hour and a place for the decision whether you go.")
            yield words % {"night": _day(night)}


def _enough_people(trip: Trip) -> Iterator[str]:
    taken = _taken(trip)
    if taken < trip.least_people:
        words = _(
            "%(taken)d of at least %(least)d people have a place: wait for more, or lower the "
            "least number."
        )
        yield words % {"taken": taken, "least": trip.least_people}


def _its_day(first: TripNight, now: datetime) -> Iterator[str]:
    if local(now, first.spot.site.zone).date() < first.date:
        words = _("Its first night is %(night)s: it runs from that day on.")
        yield words % {"night": _day(first)}


def _everybody_back(nights: Sequence[TripNight]) -> Iterator[str]:
    for night in nights:
        if night.closed_at is None and night.decision != TripNight.Decision.NO_GO:
            words = _("%(night)s is not closed: somebody must say that everybody is back.")
            yield words % {"night": _day(night)}


def _taken(trip: Trip) -> int:
    return int(Enrolment.objects.filter(trip=trip).with_a_place().count())


def _day(night: TripNight) -> str:
    return date_format(night.date, "l j F Y")
