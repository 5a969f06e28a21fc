"""Private links: found by their hash, and by nothing else."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.conftest import WHEN, Cast
from trips.models import Enrolment, Person, Trip, TripInstructor
from trips.services import links

TOKEN_LENGTH = 22


@pytest.fixture
def trip(cast: Cast) -> Trip:
    trip = Trip(organisation=cast.club, name="June on the hill")
    links.sign_invitation(trip)
    trip.save()
    return trip


@pytest.fixture
def enrolment(trip: Trip) -> Enrolment:
    person = Person.objects.create(
        organisation=trip.organisation, name="Ilse", mail="ilse@meadow.example"
    )
    row = Enrolment(trip=trip, person=person, asked_at=WHEN)
    links.sign(row)
    row.save()
    return row


def test_a_link_opens_its_own_row(enrolment: Enrolment) -> None:
    secret = links.token_of(enrolment)
    assert len(secret) == TOKEN_LENGTH
    assert links.found(Enrolment.objects.all(), secret, at=WHEN) == enrolment


def test_a_link_is_not_kept_in_the_row(enrolment: Enrolment) -> None:
    kept = Enrolment.objects.filter(pk=enrolment.pk).values().get()
    assert links.token_of(enrolment) not in str(kept)


def test_a_revoked_link_opens_nothing_and_the_next_one_does(enrolment: Enrolment) -> None:
    old = links.token_of(enrolment)
    links.revoke(enrolment)
    rows = Enrolment.objects.all()
    assert links.found(rows, old, at=WHEN) is None
    assert links.found(rows, links.token_of(enrolment), at=WHEN) == enrolment


def test_a_link_does_not_outlive_its_hour(enrolment: Enrolment) -> None:
    enrolment.link_expires_at = WHEN
    enrolment.save()
    secret, rows = links.token_of(enrolment), Enrolment.objects.all()
    assert links.found(rows, secret, at=WHEN - timedelta(seconds=1)) == enrolment
    assert links.found(rows, secret, at=WHEN) is None


def test_a_link_for_one_purpose_does_not_open_another(enrolment: Enrolment, cast: Cast) -> None:
    leader = TripInstructor(trip=enrolment.trip, user=cast.instructor, uid=enrolment.uid)
    links.sign(leader)
    leader.save()
    assert links.token_of(leader) != links.token_of(enrolment)
    assert links.found(TripInstructor.objects.all(), links.token_of(enrolment), at=WHEN) is None


def test_a_guess_and_a_hash_open_nothing(enrolment: Enrolment) -> None:
    for secret in ("", "guess", enrolment.link_hash, str(enrolment.uid)):
        assert links.found(Enrolment.objects.all(), secret, at=WHEN) is None


def test_an_invitation_can_be_revoked_without_touching_a_place(enrolment: Enrolment) -> None:
    trip = enrolment.trip
    old = links.invitation_of(trip)
    assert links.invited(Trip.objects.all(), old) == trip
    links.revoke_invitation(trip)
    assert links.invited(Trip.objects.all(), old) is None
    assert links.found(Enrolment.objects.all(), links.token_of(enrolment), at=WHEN) == enrolment


def test_another_link_key_makes_other_links(enrolment: Enrolment, settings: object) -> None:
    before = links.token_of(enrolment)
    settings.LINK_KEY = "another"  # type: ignore[attr-defined]
    assert links.token_of(enrolment) != before
