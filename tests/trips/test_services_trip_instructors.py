"""Who leads a trip."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest

from tests.conftest import WHEN, Cast
from trips.models import Tick, TripInstructor
from trips.services import links
from trips.services.refusals import TripRefusedError
from trips.services.trip_deeds import deeds_of
from trips.services.trip_instructors import add_instructor, choosable_users, set_phone, take_off

LATER = WHEN + timedelta(hours=1)


def test_a_member_is_added_with_a_link_of_their_own_and_is_then_no_longer_to_choose(
    cast: Cast,
) -> None:
    trip = cast.trip
    assert choosable_users(trip) == [cast.coordinator]
    added = add_instructor(trip, cast.coordinator, by=cast.instructor, now=LATER, phone="+34 600")
    assert choosable_users(trip) == []
    tokens = {links.token_of(one) for one in trip.instructors.all()}
    assert len(tokens) == 2
    found = links.found(TripInstructor.objects.all(), links.token_of(added), at=LATER)
    assert found == added


@pytest.mark.parametrize(
    ("who", "phone", "words"),
    [
        ("stranger", "", "stranger@harbour.example is not a member of Meadow Night Club"),
        ("instructor", "", "leads this trip already"),
        ("coordinator", "0" * 41, "at most 40 characters"),
    ],
)
def test_strangers_and_leaders_are_not_added(cast: Cast, who: str, phone: str, words: str) -> None:
    user = getattr(cast, who)
    with pytest.raises(TripRefusedError, match=words):
        add_instructor(cast.trip, user, by=cast.instructor, now=LATER, phone=phone)
    assert cast.trip.instructors.count() == 1


def test_the_number_of_who_leads_can_be_changed_but_not_to_a_story(cast: Cast) -> None:
    one = cast.trip_instructor
    set_phone(one, "+34 600 000 003", by=cast.coordinator, now=LATER)
    with pytest.raises(TripRefusedError, match="at most 40 characters"):
        set_phone(one, "x" * 41, by=cast.coordinator, now=LATER)
    assert cast.trip_instructor.phone == "+34 600 000 003"


def test_one_of_two_is_taken_off_and_the_link_opens_nothing(cast: Cast) -> None:
    added = add_instructor(cast.trip, cast.coordinator, by=cast.instructor, now=LATER)
    secret = links.token_of(added)
    take_off(added, by=cast.instructor, now=LATER)
    assert links.found(TripInstructor.objects.all(), secret, at=LATER) is None
    deed = deeds_of(cast.trip)[0]
    assert deed.words == "took coordinator@meadow.example off the instructors"


def test_the_last_one_stays(cast: Cast) -> None:
    with pytest.raises(TripRefusedError, match="Somebody must lead the trip"):
        take_off(cast.trip_instructor, by=cast.instructor, now=LATER)


def test_who_counted_heads_stays_so_that_no_tick_goes_with_them(cast: Cast) -> None:
    add_instructor(cast.trip, cast.coordinator, by=cast.instructor, now=LATER)
    Tick.objects.create(
        client_uid=uuid4(), night=cast.trip_night, enrolment=cast.enrolment,
        instructor=cast.trip_instructor, kind="here", at=LATER, received_at=LATER,
    )  # fmt: skip
    with pytest.raises(TripRefusedError, match="stands in a head count"):
        take_off(cast.trip_instructor, by=cast.instructor, now=LATER)
    assert Tick.objects.count() == 1
