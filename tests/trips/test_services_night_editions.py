"""A letter of changed nights goes by what its reader was told last, however often they change."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core import mail

from tests.trips.joined import EVENING, MEETING, make_joinable, placed
from tests.trips.making import NOON, make_user
from trips.models import Letter, TripNight, User
from trips.services import letters, trip_nights
from trips.services.letter_kinds.post import NEWS

pytestmark = pytest.mark.django_db

PAUSE = timedelta(minutes=5)
DAY = timedelta(days=1)


@pytest.fixture(autouse=True)
def by() -> User:
    """Somebody who edits the nights of a trip with one person on it."""
    placed(make_joinable())
    TripNight.objects.update(
        decision_at=MEETING - timedelta(hours=4), decision_place="the club room"
    )
    Letter.objects.all().delete()
    return make_user()


def meet_at(*places: str, by: User, day: int) -> list[bool]:
    """Write meeting points within one pause; tell for each letter that went whether it has the
    last of them."""
    before = len(mail.outbox)
    for second, place in enumerate(places):
        night = TripNight.objects.select_related("trip", "spot__site").get(date=EVENING)
        night.meeting_point = place
        now = NOON + day * DAY + timedelta(seconds=second)
        trip_nights.save_night(night, by=by, now=now)
    letters.send_due(NEWS, clock=lambda: NOON + day * DAY + 2 * PAUSE)
    return [places[-1] in str(one.body) for one in mail.outbox[before:]]


def test_what_is_changed_there_and_back_on_other_days_is_told_each_time(by: User) -> None:
    for day, place in enumerate(["The mill", "The chapel", "The mill", "The chapel"]):
        assert meet_at(place, by=by, day=day) == [True]


def test_what_is_put_back_within_the_pause_is_told_to_nobody(by: User) -> None:
    assert meet_at("The mill", "The chapel", by=by, day=0) == []
    assert meet_at("The mill", by=by, day=1) == [True]
    assert meet_at("The chapel", "The mill", by=by, day=2) == []


def test_there_and_back_and_there_within_the_pause_is_told_once(by: User) -> None:
    assert meet_at("The mill", "The chapel", "The mill", by=by, day=0) == [True]


def test_of_two_changes_within_the_pause_the_last_is_told(by: User) -> None:
    assert meet_at("The mill", "The bridge", by=by, day=0) == [True]
