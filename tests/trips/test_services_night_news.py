"""Nights that are other than people were told: who is written to, once, and what calendars say."""

from __future__ import annotations

from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse

from tests.trips.joined import EVENING, MEETING, kinds, make_joinable, placed
from tests.trips.making import NOON, make_user
from trips.models import CalendarLink, Enrolment, Letter, Trip, TripNight, User
from trips.services import calendars, letters, links, trip_nights
from trips.services.calendar_nights import CalendarNight, calendar_of
from trips.services.letter_kinds.post import NEWS
from trips.services.trip_deeds import deeds_of

pytestmark = pytest.mark.django_db

LATER = NOON + timedelta(minutes=5)


@pytest.fixture
def by() -> User:
    return make_user()


@pytest.fixture
def ilse() -> Enrolment:
    enrolment = placed(make_joinable())
    TripNight.objects.update(
        decision_at=MEETING - timedelta(hours=4), decision_place="the club room"
    )
    Letter.objects.all().delete()
    return enrolment


def night_on(evening: date) -> TripNight:
    row: TripNight = TripNight.objects.select_related("trip", "spot__site").get(date=evening)
    return row


def night() -> TripNight:
    return night_on(EVENING)


def save(by: User, *, now: object = NOON, **fields: object) -> None:
    row = night()
    for name, value in fields.items():
        setattr(row, name, value)
    trip_nights.save_night(row, by=by, now=now)  # type: ignore[arg-type]


def post(now: object = LATER) -> int:
    return letters.send_due(NEWS, clock=lambda: now)  # type: ignore[arg-type, return-value]


def test_a_meeting_that_is_moved_is_told_once_as_it_is_in_the_end(
    ilse: Enrolment, by: User
) -> None:
    save(by, meeting_at=MEETING + timedelta(minutes=30))
    save(by, meeting_point="The mill")
    assert post(NOON) == 0  # who edits may put more right
    assert post() == 1
    assert "Saturday, 5 June 2027, 21:00: The mill" in str(mail.outbox[0].body)
    assert links.token_of(ilse) in str(mail.outbox[0].body)
    assert post() == 0


def test_what_people_do_not_go_by_is_not_told(ilse: Enrolment, by: User) -> None:
    save(by, air_c=-4.0, drive_minutes=20)
    assert kinds() == []


def test_a_night_that_is_taken_off_is_told(ilse: Enrolment, by: User) -> None:
    trip_nights.remove_night(night(), by=by, now=NOON)
    assert post() == 1
    said = str(mail.outbox[0].body)
    meet, gone = said.split("Taken off")
    assert "Sunday, 6 June 2027" in meet
    assert "5 June" not in meet
    assert gone.startswith(", do not set out: Saturday, 5 June 2027.")


def test_an_evening_that_has_a_night_again_is_not_called_off(ilse: Enrolment, by: User) -> None:
    again = night()
    trip_nights.remove_night(night(), by=by, now=NOON)
    again.pk, again.uid, again.meeting_point = None, uuid4(), "The mill"
    trip_nights.save_night(again, by=by, now=NOON)
    assert post() == 1
    assert "Taken off" not in str(mail.outbox[0].body)


def test_on_the_day_it_is_told_at_once(ilse: Enrolment, by: User) -> None:
    soon = MEETING - timedelta(hours=6)
    save(by, now=soon, meeting_point="The mill")
    assert post(soon) == 1


@pytest.mark.parametrize("why", ["draft", "given back", "cancelled meanwhile"])
def test_nobody_is_told_in_vain(ilse: Enrolment, by: User, why: str) -> None:
    if why == "draft":
        Trip.objects.update(status="draft")
    if why == "given back":
        Enrolment.objects.update(state="given_back", place=None)
    save(by, meeting_point="The mill")
    if why == "cancelled meanwhile":
        Trip.objects.update(status="cancelled")
    assert post() == 0
    assert mail.outbox == []


def test_a_calendar_keeps_a_night_that_was_taken_off_as_cancelled(
    ilse: Enrolment, by: User
) -> None:
    before = _calendar(ilse)[0]
    trip_nights.remove_night(night(), by=by, now=NOON)
    stays, gone = _calendar(ilse)
    assert (gone.uid, gone.status) == (before.uid, "CANCELLED")
    assert gone.sequence > before.sequence
    assert (gone.starts_at, gone.ends_at) == (before.starts_at, before.ends_at)
    assert gone.description == "This night was taken off the trip. Do not set out."
    assert stays.status == "TENTATIVE"
    assert stays.uid != gone.uid


def test_its_page_says_so_and_that_of_a_night_that_never_was_is_none(
    ilse: Enrolment, by: User, client: Client
) -> None:
    trip_nights.remove_night(night(), by=by, now=NOON)
    token = links.token_of(ilse)
    page = client.get(reverse("brief_read", args=[token, EVENING]))
    assert page.status_code == 200  # so that a phone keeps it in place of the brief
    assert "taken off the trip" in page.content.decode()
    never = reverse("brief_read", args=[token, EVENING + timedelta(days=9)])
    assert client.get(never).status_code == 404


def test_the_page_of_an_evening_that_was_moved_leads_to_the_other_one(
    ilse: Enrolment, by: User, client: Client
) -> None:
    before, to = _calendar(ilse)[0], EVENING + timedelta(days=5)
    save(by, date=to, meeting_at=MEETING + timedelta(days=5), ends_at=MEETING + timedelta(days=5.2))
    token = links.token_of(ilse)
    page = client.get(reverse("brief_read", args=[token, EVENING])).content.decode()
    assert "This night was moved to Thursday 10 June 2027." in page
    assert reverse("brief_read", args=[token, to]) in page
    assert "moved the night of 5 June 2027 to 10 June 2027" in [
        deed.words for deed in deeds_of(night_on(to).trip)
    ]
    assert {one.uid for one in _calendar(ilse)} >= {before.uid}
    assert [one.status for one in _calendar(ilse)] == ["TENTATIVE", "TENTATIVE"]


def _calendar(person: Enrolment) -> tuple[CalendarNight, ...]:
    trip = Trip.objects.get(pk=person.trip_id)
    enrolment = Enrolment.objects.get(pk=person.pk)
    link = calendars.make_link(trip, enrolment, now=NOON)
    return calendar_of(
        CalendarLink.objects.select_related("trip", "enrolment").get(pk=link.pk)
    ).nights
