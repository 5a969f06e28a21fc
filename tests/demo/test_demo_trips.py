"""The demo's trips: loaded once, with people, gear, loans, turns and a log of what is over."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from demo.loading import load_club
from demo.people import GUESTS, LOANS
from trips.models import Enrolment, LoanItem, OwnGear, Trip, TripNight, Turn
from trips.services.gear import gear_of

NOW = datetime(2026, 11, 26, 9, tzinfo=UTC)
pytestmark = pytest.mark.django_db


def test_six_people_have_joined_each_with_gear_of_their_own() -> None:
    load_club(now=NOW)
    trip = Trip.objects.get(status=Trip.Status.OPEN)
    people = list(trip.enrolments.order_by("place"))
    assert [one.person.name for one in people] == [guest.name for guest in GUESTS]
    assert {one.state for one in people} == {Enrolment.State.PLACED}
    assert [gear_of(one).own for one in people] != [()] * len(GUESTS)
    assert len(gear_of(people[1]).own) == len(GUESTS[1].gear)
    assert Turn.objects.filter(rota__night__trip=trip).count() == len(GUESTS)


def test_a_trip_that_is_over_has_two_nights_logged_and_closed() -> None:
    load_club(now=NOW)
    nights = TripNight.objects.filter(trip__status=Trip.Status.DONE)
    assert [(night.oktas, night.clear_hours) for night in nights] == [(1, 5.5), (6, 1.5)]
    assert all(night.logged_at and night.closed_at for night in nights)


def test_loading_it_again_adds_nothing() -> None:
    load_club(now=NOW)
    before = (OwnGear.objects.count(), Enrolment.objects.count())
    load_club(now=NOW)
    assert (OwnGear.objects.count(), Enrolment.objects.count()) == before
    assert LoanItem.objects.count() == len(LOANS)
