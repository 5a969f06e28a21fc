"""The board and the list of trips: what they say, to whom, and with how many questions."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.conftest import WHEN, Cast
from tests.trips.full_trip import fill
from trips.models import Site, Trip, TripEvent
from trips.services.links import invitation_of, invited
from trips.services.trip_lines import lines_of
from trips.services.trips import make_trip

MOST_QUERIES = 15


@pytest.fixture
def instructor(signed_in: Callable[[str], Client]) -> Client:
    return signed_in("instructor")


def board(client: Client, trip: Trip) -> str:
    return client.get(reverse("trip_detail", args=[trip.pk])).content.decode()


def test_the_board_of_forty_people_asks_few_questions(cast: Cast, instructor: Client) -> None:
    """On a coast, with gear, loans, turns, cars and ticks of each."""
    Site.objects.filter(pk=cast.site.pk).update(on_coast=True)
    Trip.objects.filter(pk=cast.trip.pk).update(
        capacity=40, status="confirmed", target_list=cast.target_list
    )
    fill(cast.trip, 40, now=WHEN)
    trip = cast.trip
    board(instructor, trip)
    with CaptureQueriesContext(connection) as asked:
        page = board(instructor, trip)
    assert "Person 40" in page
    told = "\n".join(query["sql"][:200] for query in asked.captured_queries)
    assert len(asked) <= MOST_QUERIES, told


def test_a_draft_says_what_it_lacks_and_offers_no_step_that_is_refused(
    cast: Cast, instructor: Client
) -> None:
    night = cast.trip_night
    night.decision_place = ""
    night.save()
    page = board(instructor, cast.trip)
    assert "Before you can say “Open it”" in page
    assert "Monday 1 March 2027 needs an hour and a place for the decision" in page
    assert 'value="open"' not in page


def test_a_draft_that_lacks_nothing_offers_the_step(cast: Cast, instructor: Client) -> None:
    page = board(instructor, cast.trip)
    assert 'name="to" value="open"' in page
    step = reverse("trip_step", args=[cast.trip.pk])
    after = instructor.post(step, {"to": "open"}, follow=True).content.decode()
    assert "Open: 0 of 8 places are taken." in after


@pytest.mark.parametrize("to", ["", "done", "nonsense"])
def test_a_step_that_cannot_be_taken_is_refused_in_a_sentence(
    cast: Cast, instructor: Client, to: str
) -> None:
    step = reverse("trip_step", args=[cast.trip.pk])
    page = instructor.post(step, {"to": to}, follow=True).content.decode()
    assert "is draft; from there it can become: open, cancelled." in page


def test_a_trip_without_anybody_at_home_says_so_where_it_is_confirmed(
    cast: Cast, instructor: Client
) -> None:
    words = "it would reach those who lead alone"
    Trip.objects.filter(pk=cast.trip.pk).update(
        status="open", least_people=0, contact_mail="a@home.example"
    )
    assert words not in board(instructor, cast.trip)
    Trip.objects.filter(pk=cast.trip.pk).update(contact_mail="")
    assert words in board(instructor, cast.trip)


def test_a_step_says_what_comes_of_it(cast: Cast, instructor: Client) -> None:
    url = reverse("trip_step", args=[cast.trip.pk])
    page = instructor.post(url, {"to": "open"}, follow=True).content.decode()
    assert "People can ask for a place now: hand round the invitation." in page
    page = instructor.post(url, {"to": "done"}, follow=True).content.decode()
    assert "It is done" not in page


def test_a_cancelled_trip_stays_to_be_read_and_offers_nothing(
    cast: Cast, instructor: Client
) -> None:
    step = reverse("trip_step", args=[cast.trip.pk])
    assert "This cannot be taken back" in instructor.get(step).content.decode()
    page = instructor.post(step, {"to": "cancelled"}, follow=True).content.decode()
    assert "Cancelled on" in page
    assert "Car park below the wall" in page
    assert step not in page


@pytest.mark.parametrize("status", ["done", "cancelled"])
def test_a_trip_that_is_over_is_not_offered_to_be_cancelled(
    cast: Cast, instructor: Client, status: str
) -> None:
    Trip.objects.filter(pk=cast.trip.pk).update(status=status)
    page = instructor.get(reverse("trip_step", args=[cast.trip.pk])).content.decode()
    assert f"It is {status} already, and stays so." in page
    assert 'name="to"' not in page


def test_the_invitation_is_shown_and_a_revoked_one_is_another(
    cast: Cast, instructor: Client
) -> None:
    trip = cast.trip
    first = invitation_of(trip)
    assert f"/j/{first}/" in board(instructor, trip)
    instructor.post(reverse("trip_invitation", args=[trip.pk]))
    page = board(instructor, trip)
    assert first not in page
    assert invited(Trip.objects.all(), first) is None


def test_the_open_page_is_named_only_where_it_is_on(cast: Cast, instructor: Client) -> None:
    trip = cast.trip
    where = reverse("join", args=[trip.uid])
    assert where not in board(instructor, trip)
    Trip.objects.filter(pk=trip.pk).update(is_public=True)
    assert where in board(instructor, trip)


def test_the_history_names_who_did_what_and_nobody_who_is_deleted(
    cast: Cast, instructor: Client
) -> None:
    trip, enrolment = cast.trip, cast.enrolment
    for uid, what in ((enrolment.uid, "placed"), (trip.uid, "given_back")):
        TripEvent.objects.create(trip=trip, at=WHEN, what=what, enrolment_uid=uid)
    TripEvent.objects.create(
        trip=trip, at=WHEN, what="no_show", enrolment_uid=enrolment.uid, by=cast.coordinator
    )
    TripEvent.objects.create(trip=trip, at=WHEN, what="full")
    page = instructor.get(reverse("trip_history", args=[trip.pk])).content.decode()
    assert "<bdi>Ines Calder</bdi> has a place" in page
    assert "<bdi>somebody</bdi> gave the place back" in page
    assert "<bdi>instructor@meadow.example</bdi> made the trip" in page
    assert "<bdi>Ines Calder</bdi> did not come" in page
    assert "(<bdi>coordinator@meadow.example</bdi>)" in page
    assert "All places are taken: the trip is full" in page


def test_a_deed_that_has_no_words_yet_is_told_by_its_code(cast: Cast, instructor: Client) -> None:
    TripEvent.objects.create(trip=cast.trip, at=WHEN, what="brief_sent")
    page = instructor.get(reverse("trip_history", args=[cast.trip.pk])).content.decode()
    assert "Brief sent" in page


def test_trips_stand_in_order_those_ahead_first_and_strangers_see_none(cast: Cast) -> None:
    soon, later = cast.trip, make_trip(
        cast.club, name="Later", evenings=[date(2027, 5, 1)], spot=cast.spot,
        by=cast.instructor, now=WHEN,
    )  # fmt: skip
    off = make_trip(
        cast.club, name="Off", evenings=[date(2027, 4, 1)], spot=cast.spot,
        by=cast.instructor, now=WHEN,
    )  # fmt: skip
    Trip.objects.filter(pk=off.pk).update(status="cancelled")
    lines = lines_of(cast.instructor, now=WHEN)
    assert [(line.trip, line.is_ahead) for line in lines] == [
        (soon, True), (later, True), (off, False),
    ]  # fmt: skip
    assert lines_of(cast.stranger, now=WHEN) == []
    during = datetime(2027, 3, 3, 10, tzinfo=UTC)  # the morning after the last night
    assert next(line.trip for line in lines_of(cast.instructor, now=during)) == soon
    after = during + timedelta(hours=2)
    assert next(line.trip for line in lines_of(cast.instructor, now=after)) == later


def test_the_first_page_and_the_list_name_what_is_ahead(
    cast: Cast, instructor: Client, signed_in: Callable[[str], Client]
) -> None:
    name = cast.trip.name
    for page in ("home", "trip_list"):
        assert name in instructor.get(reverse(page)).content.decode()
        assert name not in signed_in("stranger").get(reverse(page)).content.decode()


def test_an_instructor_is_added_and_taken_off_on_the_page(cast: Cast, instructor: Client) -> None:
    trip = cast.trip
    where = reverse("trip_instructors", args=[trip.pk])
    instructor.post(where, {"user": f"{cast.coordinator.pk}", "phone": "+34 600"})
    added = trip.instructors.get(user=cast.coordinator)
    assert added.phone == "+34 600"
    instructor.post(where, {"instructor": f"{added.pk}", "phone": "+34 601"})
    assert trip.instructors.get(pk=added.pk).phone == "+34 601"
    instructor.post(reverse("trip_instructor_off", args=[trip.pk, added.pk]))
    assert trip.instructors.count() == 1


@pytest.mark.parametrize("user", ["", "0", "stranger", "²"])
def test_nobody_from_elsewhere_is_made_an_instructor(
    cast: Cast, instructor: Client, user: str
) -> None:
    where = reverse("trip_instructors", args=[cast.trip.pk])
    typed = f"{cast.stranger.pk}" if user == "stranger" else user
    page = instructor.post(where, {"user": typed}, follow=True).content.decode()
    assert "Nobody is chosen who could lead" in page
    assert cast.trip.instructors.count() == 1
