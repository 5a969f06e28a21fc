"""What calendars tell, and to whom: editions rise, places that are gone are taken out."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.trips.joined import REST, again, joined, make_joinable, placed
from tests.trips.making import NOON, make_user
from trips.models import CalendarLink, Enrolment, Site, Trip, TripInstructor, TripNight, User
from trips.services import calendars, go_no_go, joining, link_ends, links, trip_nights, trips
from trips.services.calendar_nights import CalendarNight, NightsCalendar, calendar_of
from trips.services.refusals import RefusedError

pytestmark = pytest.mark.django_db

LATER = NOON + timedelta(hours=1)


@pytest.fixture
def trip() -> Trip:
    trip = make_joinable(capacity=3)
    anna = make_user("anna@meadow.example")
    User.objects.update(first_name="Anna")
    leader = TripInstructor(trip=trip, user=anna)
    links.sign(leader)
    leader.save()
    trip.nights.update(
        meeting_latitude=40.4,
        meeting_longitude=-1.1,
        decision_at=NOON + timedelta(days=60),
        decision_place="the club room",
    )
    return trip


@pytest.fixture
def person(trip: Trip) -> Enrolment:
    return placed(trip)


def told(trip: Trip, person: Enrolment | None = None) -> NightsCalendar:
    """Read the calendar as if everything had just been fetched."""
    row = Trip.objects.get(pk=trip.pk)
    link = calendars.make_link(row, again(person) if person else None, now=NOON)
    return calendar_of(CalendarLink.objects.select_related("trip", "enrolment").get(pk=link.pk))


def first(trip: Trip, person: Enrolment | None = None) -> CalendarNight:
    return told(trip, person).nights[0]


def night_of(trip: Trip) -> TripNight:
    row: TripNight = trip.nights.select_related("spot__site", "trip").all()[0]
    return row


def test_an_open_night_is_tentative_and_tells_what_silence_means(
    trip: Trip, person: Enrolment
) -> None:
    night = first(trip, person)
    assert night.status == "TENTATIVE"
    assert "If you hear nothing, do not set out." in night.description
    assert "Local rules, land managers, and licensed guides" in night.description
    assert "Meet at 20:30, until about 02:30, on the clocks of Europe/Madrid." in night.description


def test_each_thing_that_happens_makes_a_later_edition(trip: Trip, person: Enrolment) -> None:
    """A meeting moved, a decision, taken back, called off, and the trip cancelled."""
    by, seen = trip.instructors.get().user, [first(trip, person)]

    def moved() -> None:
        night = night_of(trip)
        night.meeting_at += timedelta(minutes=30)
        trip_nights.save_night(night, by=by, now=NOON)

    def decided(what: str) -> None:
        go_no_go.decide(night_of(trip), what, by=by, now=NOON)

    def cancelled() -> None:
        trips.step(Trip.objects.get(pk=trip.pk), "cancelled", by=by, now=NOON)

    for deed in (
        moved,
        lambda: decided("go"),
        lambda: decided(""),
        lambda: decided("no_go"),
        lambda: decided("go"),
        cancelled,
    ):
        deed()
        seen.append(first(trip, person))
    numbers = [night.sequence for night in seen]
    assert numbers == sorted(set(numbers))
    assert [night.status for night in seen] == [
        "TENTATIVE", "TENTATIVE", "CONFIRMED", "TENTATIVE", "CANCELLED", "CONFIRMED", "CANCELLED",
    ]  # fmt: skip
    assert len({night.uid for night in seen}) == 1
    assert seen[-1].description == "This trip is cancelled. Do not set out."
    assert seen[-1].summary == "Cancelled: June on the hill"


def test_a_place_is_tentative_while_it_is_held_and_taken_out_once_it_is_given_back(
    trip: Trip,
) -> None:
    go_no_go.decide(night_of(trip), "go", by=trip.instructors.get().user, now=NOON)
    person = joined(trip)
    held = first(trip, person)
    joining.say_the_rest(again(person), REST, now=NOON)
    has_place = first(trip, person)
    joining.give_back(again(person), now=NOON)
    gone = first(trip, person)
    statuses = [night.status for night in (held, has_place, gone)]
    assert statuses == ["TENTATIVE", "CONFIRMED", "CANCELLED"]
    assert held.sequence < has_place.sequence < gone.sequence
    assert (gone.location, gone.position) == ("", None)
    assert gone.description == "You have no place on this trip any more. Do not set out."


def test_a_calendar_names_who_leads_and_nobody_else(trip: Trip, person: Enrolment) -> None:
    other = placed(trip, "Bartholomew")
    for night in told(trip, person).nights + told(trip).nights:
        assert "Bartholomew" not in str(night)
        assert links.token_of(other) not in str(night)
    go_no_go.decide(night_of(trip), "go", by=trip.instructors.get().user, now=NOON)
    assert "Anna calls you before" in first(trip, person).description


def test_the_private_page_is_in_the_persons_own_calendar_alone(
    trip: Trip, person: Enrolment
) -> None:
    assert first(trip, person).url.endswith(f"/b/{links.token_of(person)}/")
    assert first(trip).url == ""


@pytest.mark.parametrize("is_sensitive", [False, True])
def test_a_position_goes_out_only_where_it_is_not_sensitive(
    trip: Trip, person: Enrolment, is_sensitive: bool
) -> None:
    Site.objects.update(position_is_sensitive=is_sensitive)
    expected = None if is_sensitive else (40.4, -1.1)
    assert first(trip, person).position == expected
    assert first(trip).position == expected


def test_it_was_revised_when_something_that_it_tells_was(trip: Trip, person: Enrolment) -> None:
    before = told(trip, person)
    placed(trip, "Bo")  # somebody else's place is told to nobody
    assert told(trip, person) == before
    night = night_of(trip)
    trip_nights.save_night(night, by=trip.instructors.get().user, now=LATER)
    assert told(trip, person).revised_at == LATER


def test_a_calendar_is_made_once_and_is_another_after_it_was_revoked(
    trip: Trip, person: Enrolment
) -> None:
    one = calendars.make_link(trip, person, now=NOON)
    assert calendars.make_link(trip, person, now=NOON) == one
    assert calendars.make_link(trip, now=NOON) != one
    token = links.token_of(one)
    assert calendars.find(token, at=NOON) == one
    calendars.revoke(trip, person, now=NOON)
    calendars.revoke(trip, person, now=NOON)
    assert calendars.find(token, at=NOON) is None
    assert links.token_of(calendars.make_link(trip, person, now=NOON)) != token


def test_whoever_has_no_place_gets_no_calendar(trip: Trip, person: Enrolment) -> None:
    joining.give_back(person, now=NOON)
    with pytest.raises(RefusedError, match="for who has a place"):
        calendars.make_link(trip, person, now=NOON)


def test_a_new_private_link_makes_the_calendar_that_holds_it_useless(
    trip: Trip, person: Enrolment
) -> None:
    token = links.token_of(calendars.make_link(trip, person, now=NOON))
    joining.renew_link(person, now=NOON)
    assert calendars.find(token, at=NOON) is None


def test_a_calendar_ends_with_the_links_of_the_trip(trip: Trip) -> None:
    link = calendars.make_link(trip, now=NOON)
    end = link_ends.end_of(trip)
    assert link.link_expires_at == end
    Trip.objects.update(keep_days=5)
    trip.refresh_from_db()
    link_ends.set_ends(trip)
    link.refresh_from_db()
    assert link.link_expires_at == link_ends.end_of(trip) != end
