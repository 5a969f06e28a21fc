"""The people of a trip's board: shown to members, changed by who leads, health for those alone."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pytest_django.fixtures import DjangoAssertNumQueries

from tests.conftest import WHEN, Cast
from tests.trips.joined import again, asked, joined, make_joinable, placed
from tests.trips.making import make_user
from trips.models import Enrolment, Letter, Membership, Person, Trip, TripInstructor, TripNight
from trips.services import links

State = Enrolment.State
Browser = Callable[[str], Client]


@pytest.fixture
def trip(cast: Cast) -> Trip:
    """A trip with two places that the instructor leads, and the coordinator does not."""
    trip = make_joinable(site=cast.site)
    leader = TripInstructor(trip=trip, user=cast.instructor)
    links.sign(leader)
    leader.save()
    return trip


def board(client: Client, trip: Trip) -> str:
    return client.get(reverse("trip_detail", args=[trip.pk])).content.decode()


def press(client: Client, enrolment: Enrolment, deed: str, **typed: object) -> Enrolment:
    answer = client.post(reverse(f"enrolment_{deed}", args=[enrolment.pk]), typed)
    assert answer.status_code == 302
    return again(enrolment)


def test_notes_on_health_are_read_by_those_who_lead_and_by_nobody_else(
    trip: Trip, signed_in: Browser
) -> None:
    enrolment = placed(trip)
    Enrolment.objects.filter(pk=enrolment.pk).update(
        health_note="Carries an inhaler", health_consent_at=WHEN
    )
    assert "Carries an inhaler" in board(signed_in("instructor"), trip)
    assert "Carries an inhaler" not in board(signed_in("coordinator"), trip)
    people = signed_in("instructor").get(reverse("trip_people_csv", args=[trip.pk]))
    assert b"inhaler" not in people.content


def test_a_member_who_does_not_lead_sees_who_comes_and_not_how_to_reach_them(
    trip: Trip, cast: Cast, client: Client
) -> None:
    enrolment = placed(trip, "Rosalind")
    other = make_user("other@meadow.example")
    Membership.objects.create(user=other, organisation=cast.club, role="instructor")
    client.force_login(other, backend="django.contrib.auth.backends.ModelBackend")
    page = board(client, trip)
    assert "Rosalind" in page
    assert "+34 600 000 000" not in page
    assert "rosalind@meadow.example" not in page
    for deed in ("remove", "no_show", "came", "move_up", "new_link"):
        answer = client.post(reverse(f"enrolment_{deed}", args=[enrolment.pk]))
        assert answer.status_code == 403
    assert client.get(reverse("trip_people_csv", args=[trip.pk])).status_code == 403


def test_who_is_taken_off_lets_the_next_one_move_up(trip: Trip, signed_in: Browser) -> None:
    first, _second, third = (joined(trip, name, now=timezone.now()) for name in "ABC")
    Trip.objects.update(status=Trip.Status.FULL)
    TripNight.objects.update(
        meeting_at=timezone.now() + timedelta(days=9), ends_at=timezone.now() + timedelta(days=10)
    )
    assert press(signed_in("instructor"), first, "remove").state == State.REMOVED
    assert again(third).state == State.HELD


def test_who_did_not_come_is_marked_and_a_mistake_taken_back(
    trip: Trip, signed_in: Browser
) -> None:
    enrolment, client = placed(trip), signed_in("instructor")
    TripNight.objects.update(meeting_at=timezone.now() + timedelta(hours=1),
                             ends_at=timezone.now() + timedelta(hours=6))  # fmt: skip
    assert press(client, enrolment, "no_show").state == State.PLACED
    assert "Nobody is missing before people meet" in board(client, trip)
    TripNight.objects.update(meeting_at=timezone.now() - timedelta(hours=1))
    assert press(client, enrolment, "no_show").state == State.NO_SHOW
    assert press(client, enrolment, "came").state == State.PLACED


def test_a_waiting_person_passes_the_one_before(trip: Trip, signed_in: Browser) -> None:
    _a, _b, third, fourth = (joined(trip, name) for name in "ABCD")
    client = signed_in("coordinator")
    moved = press(client, fourth, "move_up", before=2)
    press(client, fourth, "move_up", before=2)  # a double tap
    assert moved.queue_number == again(fourth).queue_number
    assert (moved.queue_number or 0) < (again(third).queue_number or 0)
    assert press(client, fourth, "move_up", before="=2").queue_number == moved.queue_number


def test_a_link_is_revoked_and_another_one_mailed(trip: Trip, signed_in: Browser) -> None:
    enrolment = joined(trip)
    old = links.token_of(enrolment)
    renewed = press(signed_in("instructor"), enrolment, "new_link")
    assert links.token_of(renewed) != old
    assert Letter.objects.filter(enrolment=enrolment, kind="link").count() == 2


def test_a_letter_that_was_refused_is_shown_and_can_be_tried_again(
    trip: Trip, signed_in: Browser
) -> None:
    asked(trip, "Rosalind")
    client = signed_in("instructor")
    assert "did not go out" not in board(client, trip)
    Letter.objects.update(state="failed", attempts=7, error="550 no such person")
    page = board(client, trip)
    assert "1 letter did not go out." in page
    assert "550 no such person" in page
    client.post(reverse("letter_again", args=[Letter.objects.get().pk]))
    assert Letter.objects.get().state == Letter.State.QUEUED
    assert "did not go out" not in board(client, trip)


def test_the_list_to_take_along_runs_no_formula(trip: Trip, signed_in: Browser) -> None:
    named, _other, waiting = (joined(trip, name) for name in ("Rosalind", "B", "C"))
    formula = '=HYPERLINK("http://x.example","here")'
    Person.objects.filter(pk=named.person_id).update(name=formula, phone="+34 600")
    answer = signed_in("instructor").get(reverse("trip_people_csv", args=[trip.pk]))
    rows = list(csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig"))))
    assert [row["place"] for row in rows] == ["1", "2", ""]
    assert rows[0]["name"] == f"'{formula}"
    assert (rows[2]["name"], rows[2]["waiting"]) == (waiting.person.name, "1")


def test_names_run_nothing_on_the_board(trip: Trip, signed_in: Browser) -> None:
    enrolment = placed(trip)
    name = "<script>alert(1)</script> ليلى 🌌"
    Person.objects.filter(pk=enrolment.person_id).update(name=name)
    page = board(signed_in("instructor"), trip)
    assert "<script>alert" not in page
    assert "ليلى 🌌</bdi>" in page


def test_forty_people_ask_for_one_query_of_their_own(
    trip: Trip, signed_in: Browser, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    Trip.objects.update(capacity=40)
    for n in range(40):
        placed(trip, f"N{n}")
    client = signed_in("instructor")
    with django_assert_max_num_queries(17):  # two of them the session and who is signed in
        board(client, trip)
