"""Calendars to subscribe to, as buttons make them and programs read them."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import WHEN, Cast
from trips import feeds
from trips.models import CalendarLink, Enrolment, TripNight
from trips.services import calendars, links


@pytest.fixture
def feed(cast: Cast) -> str:
    link = calendars.make_link(cast.trip, now=WHEN)
    return reverse("calendar_feed", args=[links.token_of(link)])


def own(cast: Cast, name: str = "place") -> str:
    return reverse(name, args=[links.token_of(cast.enrolment)])


def test_a_leader_makes_a_calendar_reads_its_address_and_makes_it_useless(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    instructor = signed_in("instructor")
    page = reverse("trip_calendar", args=[cast.trip.pk])
    assert "/c/" not in instructor.get(page).content.decode()
    assert not CalendarLink.objects.exists()
    instructor.post(page, {"calendar": "make"})
    link = CalendarLink.objects.get()
    where = reverse("calendar_feed", args=[links.token_of(link)])
    assert f"http://127.0.0.1:8000{where}" in instructor.get(page).content.decode()
    assert Client().get(where).status_code == 200
    instructor.post(page, {"calendar": "revoke"})
    assert Client().get(where).status_code == 404


def test_a_person_makes_a_calendar_on_their_page_and_makes_it_useless(cast: Cast) -> None:
    client, doing = Client(), own(cast, "place_calendar")
    assert "Make a calendar address" in client.get(own(cast)).content.decode()
    answer = client.post(doing, {"calendar": "make"})
    assert answer.headers["Location"] == f"{own(cast)}#calendar"
    where = reverse("calendar_feed", args=[links.token_of(CalendarLink.objects.get())])
    assert f"http://127.0.0.1:8000{where}" in client.get(own(cast)).content.decode()
    client.post(doing, {"calendar": "revoke"})
    assert client.get(where).status_code == 404


def test_who_has_no_place_is_led_back_to_a_page_without_a_calendar(cast: Cast) -> None:
    doing = own(cast, "place_calendar")
    Enrolment.objects.update(state="given_back", place=None)
    answer = Client().post(doing, {"calendar": "make"}, follow=True)
    assert answer.status_code == 200
    assert "calendar" not in answer.content.decode()
    assert not CalendarLink.objects.exists()


def test_a_program_gets_the_calendar_and_is_not_sent_it_twice(cast: Cast, feed: str) -> None:
    first = Client().get(feed)
    assert first.headers["Content-Type"] == feeds.CONTENT_TYPE
    assert first.content.startswith(b"BEGIN:VCALENDAR\r\n")
    etag = first.headers["ETag"]
    again = Client().get(feed, headers={"If-None-Match": etag})
    assert (again.status_code, again.content) == (304, b"")
    TripNight.objects.filter(trip=cast.trip).update(meeting_point="Another chapel")
    changed = Client().get(feed, headers={"If-None-Match": etag})
    assert changed.status_code == 200
    assert b"Another chapel" in changed.content


@pytest.mark.parametrize("other", ["place", "head_count", "invitation"])
def test_a_calendars_address_opens_nothing_else_and_others_open_no_calendar(
    cast: Cast, feed: str, other: str
) -> None:
    token = feed.removeprefix("/c/").removesuffix(".ics")
    assert Client().get(reverse(other, args=[token])).status_code == 404
    foreign = links.token_of(cast.enrolment)
    guessed = Client().get(reverse("calendar_feed", args=["A" * 22]))
    answer = Client().get(reverse("calendar_feed", args=[foreign]))
    assert answer.status_code == guessed.status_code == 404
    assert answer.content == guessed.content


def test_a_program_costs_few_questions(
    cast: Cast, feed: str, django_assert_max_num_queries: Callable[[int], object]
) -> None:
    with django_assert_max_num_queries(5):  # type: ignore[attr-defined]
        Client().get(feed)
