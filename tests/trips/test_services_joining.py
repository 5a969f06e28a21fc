"""Places: held on a confirmed mail, filled in, given back, lapsed, and never given twice."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.trips.joined import (
    EVENING,
    MEETING,
    REST,
    again,
    asked,
    joined,
    kinds,
    make_joinable,
    placed,
)
from tests.trips.making import NOON, make_user
from trips.models import Enrolment, Letter, Person, Trip, TripEvent
from trips.services import joining, links, places, trips
from trips.services.refusals import RefusedError

pytestmark = pytest.mark.django_db

State = Enrolment.State
LATER = NOON + timedelta(hours=73)  # a place is held for 72


@pytest.fixture
def trip() -> Trip:
    return make_joinable()


def test_asking_holds_nothing_and_confirming_holds_a_place(trip: Trip) -> None:
    enrolment = asked(trip)
    assert (enrolment.state, enrolment.place) == (State.ASKED, None)
    held = joining.confirm(enrolment, now=NOON)
    assert (held.state, held.place) == (State.HELD, 1)
    assert held.held_until == NOON + timedelta(hours=72)


def test_confirming_twice_changes_nothing(trip: Trip) -> None:
    enrolment = joined(trip)
    twice = joining.confirm(enrolment, now=NOON + timedelta(hours=1))
    assert (twice.place, twice.confirmed_at) == (1, NOON)
    assert TripEvent.objects.filter(what="held").count() == 1


def test_a_hold_does_not_outlast_the_meeting(trip: Trip) -> None:
    assert joined(trip, now=MEETING - timedelta(hours=5)).held_until == MEETING


def test_asking_again_with_one_mail_and_name_makes_no_second_enrolment(trip: Trip) -> None:
    first = joining.ask(trip, name="Éva  Ó", mail="Eva@Meadow.example", now=NOON)
    again_later = NOON + timedelta(hours=1)
    second = joining.ask(trip, name=" éva ó", mail="eva@meadow.example ", now=again_later)
    assert first == second
    assert Person.objects.count() == Enrolment.objects.count() == 1
    assert kinds() == ["link", "link"]


def test_pressing_twice_mails_once(trip: Trip) -> None:
    asked(trip)
    asked(trip, now=NOON + timedelta(seconds=1))
    assert kinds() == ["link"]


def test_one_mail_serves_a_family_and_no_crowd(trip: Trip) -> None:
    names = [joining.ask(trip, name=f"N{n}", mail="a@b.example", now=NOON) for n in range(8)]
    assert [each is not None for each in names] == [True] * 6 + [False] * 2


def test_where_all_places_are_taken_people_wait_in_order(trip: Trip) -> None:
    first, second, third, fourth = (joined(trip, name) for name in "ABCD")
    assert [first.state, second.state, third.state, fourth.state] == [
        State.HELD, State.HELD, State.WAITING, State.WAITING,
    ]  # fmt: skip
    assert [places.number_in_queue(each) for each in (second, third, fourth)] == [None, 1, 2]
    assert Trip.objects.get().status == Trip.Status.FULL


def test_who_gives_a_place_back_lets_the_next_one_move_up_with_a_mail(trip: Trip) -> None:
    first, _second, third, fourth = (joined(trip, name) for name in "ABCD")
    joining.give_back(first, now=NOON)
    assert (again(first).state, again(first).place) == (State.GIVEN_BACK, None)
    assert (again(third).state, again(third).place) == (State.HELD, 1)
    assert kinds(third)[-2:] == ["hold_ends", "moved_up"]
    assert places.number_in_queue(again(fourth)) == 1
    assert Trip.objects.get().status == Trip.Status.FULL


def test_the_last_one_to_leave_opens_the_trip_again(trip: Trip) -> None:
    first, _second = joined(trip, "A"), joined(trip, "B")
    assert Trip.objects.get().status == Trip.Status.FULL
    joining.give_back(first, now=NOON)
    reopened = Trip.objects.get()
    assert reopened.status == Trip.Status.OPEN
    assert reopened.version > trip.version  # an editor's stale copy cannot be saved over it


def test_a_confirmed_trip_stays_confirmed_when_its_places_change() -> None:
    trip = make_joinable(status=Trip.Status.CONFIRMED, capacity=1)
    joining.give_back(joined(trip), now=NOON)
    assert Trip.objects.get().status == Trip.Status.CONFIRMED


def test_a_hold_lapses_with_a_mail_and_the_next_one_moves_up(trip: Trip) -> None:
    first, _second, third = (joined(trip, name) for name in "ABC")
    assert joining.sweep_places(now=NOON + timedelta(hours=71)) == 0
    assert joining.sweep_places(now=LATER) == 2
    assert again(first).state == State.LAPSED
    assert kinds(first)[-1] == "lapsed"
    assert (again(third).state, again(third).held_until) == (
        State.HELD, LATER + timedelta(hours=72),
    )  # fmt: skip
    assert joining.sweep_places(now=LATER) == 0


def test_a_filled_in_place_does_not_lapse(trip: Trip) -> None:
    enrolment = placed(trip)
    joining.sweep_places(now=LATER)
    assert (again(enrolment).state, again(enrolment).place) == (State.PLACED, 1)


def test_filling_in_again_is_saved_and_mailed_once(trip: Trip) -> None:
    enrolment = placed(trip)
    joining.say_the_rest(enrolment, replace(REST, phone="112"), now=NOON)
    assert again(enrolment).person.phone == "112"
    assert kinds(enrolment).count("placed") == 1


def test_nothing_is_filled_in_for_who_waits(trip: Trip) -> None:
    for name in "AB":
        joined(trip, name)
    waiting = joined(trip, "C")
    with pytest.raises(RefusedError):
        joining.say_the_rest(waiting, REST, now=NOON)


def test_health_is_kept_with_consent_alone(trip: Trip) -> None:
    enrolment, note = joined(trip), replace(REST, health_note="Asthma")
    with pytest.raises(RefusedError, match="consent"):
        joining.say_the_rest(enrolment, note, now=NOON)
    assert again(enrolment).state == State.HELD
    joining.say_the_rest(enrolment, replace(note, health_consent=True), now=NOON)
    assert (again(enrolment).health_note, again(enrolment).health_consent_at) == ("Asthma", NOON)
    joining.say_the_rest(enrolment, REST, now=NOON)
    assert again(enrolment).health_consent_at is None


def test_health_goes_when_the_place_goes(trip: Trip) -> None:
    note = replace(REST, health_note="Asthma", health_consent=True)
    enrolment = joining.say_the_rest(joined(trip), note, now=NOON)
    joining.give_back(enrolment, now=NOON)
    assert again(enrolment).health_note == ""


def test_a_place_is_given_back_until_the_end_of_the_stated_day_there() -> None:
    trip = make_joinable(give_back_until=EVENING - timedelta(days=3))  # 2 June in Madrid, UTC+2
    last_minute = MEETING.replace(day=2, hour=21, minute=59)
    late, enrolment = last_minute + timedelta(minutes=1), placed(trip)
    with pytest.raises(RefusedError, match="last day"):
        joining.give_back(enrolment, now=late)
    assert joining.give_back(enrolment, now=last_minute).state == State.GIVEN_BACK


def test_without_a_stated_day_a_place_is_given_back_until_people_meet(trip: Trip) -> None:
    enrolment = placed(trip)
    with pytest.raises(RefusedError):
        joining.give_back(enrolment, now=MEETING)
    assert joining.give_back(enrolment, now=MEETING - timedelta(minutes=1)).place is None


def test_who_was_taken_off_is_told_and_may_ask_again(trip: Trip) -> None:
    enrolment = placed(trip)
    by = make_user()
    joining.remove(enrolment, by=by, now=NOON)
    assert kinds(enrolment)[-1] == "removed"
    assert TripEvent.objects.get(what="removed").by == by
    later = NOON + timedelta(hours=1)
    assert asked(trip, now=later) != enrolment


def test_nobody_is_missing_before_people_meet_and_a_mistake_is_taken_back(trip: Trip) -> None:
    enrolment, by = placed(trip), make_user()
    with pytest.raises(RefusedError):
        joining.mark_no_show(enrolment, by=by, now=MEETING - timedelta(minutes=1))
    joining.mark_no_show(enrolment, by=by, now=MEETING)
    assert (again(enrolment).state, again(enrolment).place) == (State.NO_SHOW, 1)
    joining.mark_came(enrolment, by=by, now=MEETING)
    assert again(enrolment).state == State.PLACED


def test_a_waiting_person_is_moved_up_once_however_often_it_is_pressed(trip: Trip) -> None:
    by = make_user()
    _a, _b, third, fourth, fifth = (joined(trip, name) for name in "ABCDE")
    for _press in range(2):
        joining.move_up(fifth, before=3, by=by, now=NOON)
    order = [places.number_in_queue(again(each)) for each in (third, fifth, fourth)]
    assert order == [1, 2, 3]


@pytest.mark.parametrize("status", ["draft", "running", "done", "cancelled"])
def test_nobody_joins_a_trip_that_is_not_open(status: str) -> None:
    trip = make_joinable()
    enrolment = asked(trip)
    Trip.objects.update(status=status)
    with pytest.raises(RefusedError):
        asked(trip)
    with pytest.raises(RefusedError):
        joining.confirm(enrolment, now=NOON)
    assert again(enrolment).state == State.ASKED


def test_nobody_loses_a_place_or_moves_up_once_people_have_met(trip: Trip) -> None:
    held, _other, waiting = (joined(trip, name) for name in "ABC")
    joining.sweep_places(now=MEETING)
    assert again(held).state == State.HELD
    assert again(waiting).state == State.WAITING


def test_nobody_is_told_of_a_lapse_when_the_trip_is_cancelled(trip: Trip) -> None:
    held = joined(trip)
    Trip.objects.update(status=Trip.Status.CANCELLED)
    joining.sweep_places(now=LATER)
    assert "lapsed" not in kinds(held)


def test_who_is_concerned_is_told_once_that_a_trip_is_cancelled(trip: Trip) -> None:
    _asked, waiting = asked(trip, "Z"), [joined(trip, name) for name in "ABC"][2]
    trips.step(Trip.objects.get(), Trip.Status.CANCELLED, by=None, now=NOON)
    assert kinds(waiting)[-1] == "trip_cancelled"
    assert kinds().count("trip_cancelled") == 3


def test_a_smaller_trip_takes_no_place_away_and_a_larger_one_lets_people_move_up(
    trip: Trip,
) -> None:
    first, second, third = (joined(trip, name) for name in "ABC")
    Trip.objects.update(capacity=1)
    joining.give_back(first, now=NOON)
    assert (again(second).place, again(third).state) == (2, State.WAITING)
    Trip.objects.update(capacity=3)
    joining.settle(trip, now=NOON)
    assert (again(third).state, again(third).place) == (State.HELD, 1)


def test_the_rows_themselves_refuse_a_place_given_twice(trip: Trip) -> None:
    joined(trip, "A")
    other = asked(trip, "B")
    with pytest.raises(IntegrityError), transaction.atomic():
        Enrolment.objects.filter(pk=other.pk).update(state=State.HELD, place=1)


def test_a_link_ends_two_days_after_asking_and_once_confirmed_after_the_trip(trip: Trip) -> None:
    enrolment = asked(trip)
    assert enrolment.link_expires_at == NOON + timedelta(days=2)
    confirmed = joining.confirm(enrolment, now=NOON)
    last_end = MEETING + timedelta(days=1, hours=6)
    assert confirmed.link_expires_at == last_end + timedelta(days=90)


def test_a_new_link_is_mailed_and_the_old_one_opens_nothing(trip: Trip) -> None:
    enrolment = joined(trip)
    old = links.token_of(enrolment)
    renewed = joining.renew_link(enrolment, now=NOON)
    rows = Enrolment.objects.all()
    assert links.found(rows, old, at=NOON) is None
    assert links.found(rows, links.token_of(renewed), at=NOON) == enrolment
    assert Letter.objects.filter(kind="link").count() == 2


def test_history_names_nobody(trip: Trip) -> None:
    enrolment = placed(trip, "Rosalind")
    joining.give_back(enrolment, now=NOON)
    told = str(list(TripEvent.objects.values()))
    assert "Rosalind" not in told
    assert str(enrolment.uid) in told
