"""The gear of people: added once, kept, carried over; what the club lends, never twice at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from tests.conftest import FIRST, WHEN, Cast
from trips.models import Enrolment, Loan, LoanItem, OwnGear, Person, Trip, TripEvent
from trips.planning.gear import Batteries, DewHeater, Lens, Piece, RedLight, Tape, Tracker, written
from trips.services import gear, loans
from trips.services.joining import confirm
from trips.services.links import sign
from trips.services.refusals import RefusedError
from trips.services.trips import make_trip

LENS = Lens(focal_mm=24, widest_f_number=1.8)
TRACKER = Tracker(name="Tern", payload_kg=5)


def enrolled(trip: Trip, name: str, *, place: int | None) -> Enrolment:
    person, _made = Person.objects.get_or_create(
        organisation=trip.organisation, name=name, mail=f"{name.lower()}@example.org"
    )
    state = "placed" if place else "waiting"
    row = Enrolment(trip=trip, person=person, place=place, state=state, asked_at=WHEN)
    sign(row)
    row.save()
    return row


def another_trip(cast: Cast) -> Trip:
    return make_trip(
        cast.club, name="Same evening", evenings=[FIRST], spot=cast.spot, by=cast.coordinator,
        now=WHEN,
    )  # fmt: skip


def in_kit(cast: Cast, piece: Piece = TRACKER) -> LoanItem:
    item = LoanItem(organisation=cast.club)
    loans.save_item(item, piece)
    return item


def test_a_piece_is_added_and_the_very_same_again_is_the_one_that_is_there(cast: Cast) -> None:
    first = gear.add_piece(cast.enrolment, LENS)
    assert gear.add_piece(cast.enrolment, LENS) == first
    gear.add_piece(cast.enrolment, replace(LENS, name="The other one"))
    assert gear.gear_of(cast.enrolment).lenses == (LENS, replace(LENS, name="The other one"))


def test_thirty_of_a_kind_are_the_most(cast: Cast) -> None:
    for mm in range(30):
        gear.add_piece(cast.enrolment, replace(LENS, focal_mm=50.0 + mm))
    with pytest.raises(RefusedError, match="30 of a kind"):
        gear.add_piece(cast.enrolment, LENS)
    assert len(gear.gear_of(cast.enrolment).lenses) == 30
    gear.add_piece(cast.enrolment, Tape())  # of another kind


def test_a_piece_is_changed_and_taken_away_by_its_owner_alone(cast: Cast) -> None:
    row = gear.add_piece(cast.enrolment, LENS)
    gear.change_piece(row, replace(LENS, focal_mm=35.0))
    assert gear.gear_of(cast.enrolment).lenses[0].focal_mm == 35
    assert not gear.remove_piece(enrolled(cast.trip, "Bruno", place=2), row.pk)
    assert gear.remove_piece(cast.enrolment, row.pk)
    assert not gear.remove_piece(cast.enrolment, row.pk)  # pressed twice


def test_small_things_are_kept_one_of_each(cast: Cast) -> None:
    fuller = gear.add_piece(cast.enrolment, DewHeater(hours=6.0))
    for number in (2, 3):
        small = {"batteries": Batteries(number=number), "red_light": RedLight(), "tape": None,
                 "dew_heater": DewHeater()}  # fmt: skip
        gear.keep_small(cast.enrolment, small)
    found = gear.gear_of(cast.enrolment)
    assert (found.batteries, found.red_lights) == (3, (RedLight(),))
    assert OwnGear.objects.filter(pk=fuller.pk, spec={"hours": 6.0}).exists()
    gear.keep_small(cast.enrolment, {"dew_heater": None, "red_light": None})
    assert (gear.gear_of(cast.enrolment).dew_heaters, found.of(Tape)) == ((), ())


def test_what_no_kind_knows_any_more_is_left_out_and_breaks_nothing(cast: Cast) -> None:
    OwnGear.objects.create(enrolment=cast.enrolment, kind="anvil", spec={})
    OwnGear.objects.create(enrolment=cast.enrolment, kind="lens", spec={"focal_mm": 0})
    assert gear.gear_of(cast.enrolment).own == ()


def test_gear_of_an_earlier_trip_is_carried_over_once_and_for_the_same_person(cast: Cast) -> None:
    before = cast.enrolment
    gear.add_piece(before, LENS)
    again = enrolled(another_trip(cast), before.person.name, place=1)
    Enrolment.objects.filter(pk=again.pk).update(person=before.person)
    again.refresh_from_db()
    assert gear.gear_before(again) == before
    assert gear.copy_gear(before, again) == 1
    assert gear.copy_gear(before, again) == 0
    assert gear.gear_of(again).lenses == (LENS,)
    other = enrolled(again.trip, "Carla", place=2)
    assert (gear.gear_before(other), gear.copy_gear(before, other)) == (None, 0)


def test_what_is_lent_counts_on_its_evening(cast: Cast) -> None:
    loans.lend(in_kit(cast), cast.trip_night, cast.enrolment, by=cast.instructor, now=WHEN)
    everybody = gear.gears_of(cast.trip)
    assert everybody[cast.enrolment.pk].on(FIRST).trackers == (TRACKER,)
    assert everybody[cast.enrolment.pk].on(FIRST + timedelta(days=1)).trackers == ()


def test_who_asks_has_nothing_until_it_is_granted_and_sees_a_refusal(cast: Cast) -> None:
    item = in_kit(cast)
    assert loans.ask(item, cast.enrolment, cast.trip.nights.all()) == 2
    assert loans.ask(item, cast.enrolment, cast.trip.nights.all()) == 0  # pressed twice
    assert gear.gear_of(cast.enrolment).trackers == ()
    first, second = loans.loans_of(cast.enrolment)
    loans.lend(item, first.night, cast.enrolment, by=cast.instructor, now=WHEN)
    loans.refuse(second, by=cast.instructor, now=WHEN)
    assert [(one.is_granted, one.refused_at) for one in loans.loans_of(cast.enrolment)] == [
        (True, None), (False, WHEN)
    ]  # fmt: skip
    assert gear.gear_of(cast.enrolment).trackers == (TRACKER,)
    told = TripEvent.objects.filter(trip=cast.trip, what__startswith="loan")
    assert {one.what for one in told} == {"loan_granted", "loan_refused"}


def test_a_piece_is_lent_once_an_evening_whatever_the_trip(cast: Cast) -> None:
    item, ines = in_kit(cast), cast.enrolment
    loans.lend(item, cast.trip_night, ines, by=cast.instructor, now=WHEN)
    other = another_trip(cast)
    bruno = enrolled(other, "Bruno", place=1)
    with pytest.raises(RefusedError, match=f"Tern is lent to {ines.person.name} on"):
        loans.lend(item, other.nights.get(), bruno, by=cast.coordinator, now=WHEN)
    with pytest.raises(RefusedError, match="somebody else on every one"):
        loans.ask(item, bruno, other.nights.all())
    row = Loan(item=item, night=other.nights.get(), evening=FIRST, enrolment=bruno)
    with pytest.raises(IntegrityError), transaction.atomic():
        row.save()


def test_what_a_person_without_a_place_had_is_free_again(cast: Cast) -> None:
    item, ines = in_kit(cast), cast.enrolment
    loans.lend(item, cast.trip_night, ines, by=cast.instructor, now=WHEN)
    Enrolment.objects.filter(pk=ines.pk).update(place=None, state="given_back")
    other = another_trip(cast)
    bruno = enrolled(other, "Bruno", place=1)
    assert loans.free_for([item], list(other.nights.all()), bruno) == [item]
    loans.lend(item, other.nights.get(), bruno, by=cast.coordinator, now=WHEN)
    assert Loan.objects.get().enrolment == bruno


def test_nobody_without_a_place_and_nothing_of_another_club_is_lent(cast: Cast) -> None:
    waiting = enrolled(cast.trip, "Dov", place=None)
    with pytest.raises(RefusedError, match="who has a place"):
        loans.lend(in_kit(cast), cast.trip_night, waiting, by=cast.instructor, now=WHEN)
    foreign = LoanItem.objects.create(
        organisation=cast.elsewhere, kind="tracker", name="Gull", spec=written(TRACKER)
    )
    with pytest.raises(RefusedError, match="not in this club"):
        loans.ask(foreign, cast.enrolment, cast.trip.nights.all())


def test_a_piece_that_was_given_back_can_be_asked_for_again(cast: Cast) -> None:
    item = in_kit(cast)
    loans.ask(item, cast.enrolment, [cast.trip_night])
    assert loans.free_for([item], [cast.trip_night], cast.enrolment) == []
    assert loans.withdraw(cast.enrolment, loans.loans_of(cast.enrolment)[0].pk)
    assert loans.free_for([item], [cast.trip_night], cast.enrolment) == [item]


def test_loans_follow_a_night_that_moves_and_give_way_where_the_piece_is_lent(cast: Cast) -> None:
    item, night = in_kit(cast), cast.trip_night
    loan = loans.lend(item, night, cast.enrolment, by=cast.instructor, now=WHEN)
    second = cast.trip.nights.last()
    assert second
    loans.lend(item, second, enrolled(cast.trip, "Eda", place=2), by=cast.instructor, now=WHEN)
    night.date = second.date  # as a night of another trip would
    loans.follow_night(night)
    loan.refresh_from_db()
    assert (loan.evening, loan.is_granted) == (second.date, False)


def test_a_name_is_given_once_in_the_kit_and_an_archived_piece_is_lent_no_more(cast: Cast) -> None:
    item = in_kit(cast)
    loans.lend(item, cast.trip_night, cast.enrolment, by=cast.instructor, now=WHEN)
    with pytest.raises(RefusedError, match="already “Tern”"):
        in_kit(cast)
    loans.archive_item(item, now=WHEN)
    assert not Loan.objects.exists()
    assert in_kit(cast).pk != item.pk


def test_who_confirms_a_place_brings_the_gear_of_the_latest_trip(cast: Cast) -> None:
    before = cast.enrolment
    gear.add_piece(before, LENS)
    other = another_trip(cast)
    Trip.objects.filter(pk=other.pk).update(status="open")
    again = Enrolment(trip=other, person=before.person, state="asked", asked_at=WHEN)
    sign(again)
    again.save()
    assert gear.gear_of(again).own == ()
    confirm(again, now=WHEN)
    assert gear.gear_of(again).own == (LENS,)
