"""Trips and their nights: made, saved, stepped."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from tests.conftest import FIRST, WHEN, Cast, store_nights
from trips.almanac.local_time import local
from trips.models import (
    Enrolment,
    Letter,
    Person,
    Site,
    Spot,
    TargetList,
    Trip,
    TripEvent,
    TripNight,
)
from trips.services.editing import EditedMeanwhileError
from trips.services.links import invitation_of, invited, revoke_invitation, sign
from trips.services.night_proposals import next_night
from trips.services.refusals import TripRefusedError
from trips.services.trip_nights import remove_night, save_night
from trips.services.trips import make_trip, save_trip, step

DAY = timedelta(days=1)
LATER = WHEN + timedelta(hours=1)


def made(cast: Cast, **values: Any) -> Trip:
    usual: dict[str, Any] = {
        "name": "Two dark nights", "evenings": [FIRST], "spot": cast.spot,
        "by": cast.instructor, "now": WHEN, "season": cast.season,
    }  # fmt: skip
    return make_trip(cast.club, **(usual | values))


def take(trip: Trip, to: str, cast: Cast, *, now: datetime = LATER) -> Trip:
    step(trip, to, by=cast.instructor, now=now)
    return Trip.objects.get(pk=trip.pk)


def enrolled(trip: Trip, *, state: str) -> Enrolment:
    """Enrol somebody else, without a place."""
    person = Person.objects.create(organisation=trip.organisation, name="Aud", mail="a@b.example")
    row = Enrolment(trip=trip, person=person, state=state, asked_at=WHEN)
    sign(row)
    row.save()
    return row


def away_spot(cast: Cast) -> Spot:
    spot: Spot = Spot.objects.create(
        site=cast.far_site, name="Quay End", latitude=43.4, longitude=-4.0
    )
    return spot


def test_a_trip_has_a_night_an_evening_with_the_seasons_hours(cast: Cast) -> None:
    store_nights(cast.site, FIRST, FIRST + DAY)
    trip = made(cast, evenings=[FIRST + DAY, FIRST, FIRST])
    nights = list(trip.nights.all())
    assert [night.date for night in nights] == [FIRST, FIRST + DAY]
    # The invented nights: sunset 18:00, dark from 20:00 (UTC); people stay until 02:00 in Madrid.
    assert nights[0].meeting_at == datetime(2027, 3, 1, 17, tzinfo=UTC)
    assert nights[0].ends_at == datetime(2027, 3, 2, 1, tzinfo=UTC)
    assert nights[0].call_out_at == nights[0].ends_at + timedelta(minutes=60)


def test_the_end_is_on_the_clock_of_the_site_where_clocks_change(cast: Cast) -> None:
    """Spain's clocks jump from 02:00 to 03:00 on Sunday 28 March 2027 (EU directive 2000/84/EC)."""
    trip = made(cast, evenings=[date(2027, 3, 26), date(2027, 3, 27), date(2027, 3, 28)])
    ends = [night.ends_at for night in trip.nights.all()]
    assert [end.hour for end in ends] == [1, 1, 0]
    assert [local(end, "Europe/Madrid").hour for end in ends] == [2, 3, 2]


def test_who_makes_a_trip_leads_it_and_the_history_says_so(cast: Cast) -> None:
    trip = made(cast)
    assert [one.user for one in trip.instructors.all()] == [cast.instructor]
    events = TripEvent.objects.filter(trip=trip).order_by("pk")
    assert [one.what for one in events] == ["made"]
    assert {(one.by, one.at) for one in events} == {(cast.instructor, WHEN)}


def test_a_new_trip_can_be_found_by_its_invitation_until_that_is_revoked(cast: Cast) -> None:
    trip = made(cast)
    secret = invitation_of(trip)
    assert invited(Trip.objects.all(), secret) == trip
    revoke_invitation(trip)
    assert invited(Trip.objects.all(), secret) is None


def test_an_editor_who_opened_the_form_before_does_not_bring_a_revoked_invitation_back(
    cast: Cast,
) -> None:
    trip = made(cast)
    opened, secret = Trip.objects.get(pk=trip.pk), invitation_of(trip)
    revoke_invitation(trip)
    opened.notes = "Bring chairs"
    save_trip(opened, by=cast.coordinator, now=LATER)
    assert Trip.objects.get(pk=trip.pk).notes == "Bring chairs"
    assert invited(Trip.objects.all(), secret) is None


def test_the_second_of_two_editors_is_told(cast: Cast) -> None:
    first, second = made(cast), Trip.objects.get()
    save_trip(first, by=cast.instructor, now=LATER)
    with pytest.raises(EditedMeanwhileError):
        save_trip(second, by=cast.coordinator, now=LATER)
    night, other = TripNight.objects.get(), TripNight.objects.get()
    save_night(night, by=cast.instructor, now=LATER)
    with pytest.raises(EditedMeanwhileError):
        save_night(other, by=cast.coordinator, now=LATER)


def test_a_night_that_was_closed_meanwhile_stays_closed_when_it_is_edited(cast: Cast) -> None:
    made(cast)
    opened = TripNight.objects.get()
    TripNight.objects.update(closed_at=LATER, closed_by="Ines")
    opened.meeting_point = "Chapel"
    save_night(opened, by=cast.instructor, now=LATER)
    stored = TripNight.objects.get()
    assert (stored.meeting_point, stored.closed_at) == ("Chapel", LATER)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"evenings": []}, "A trip has 1 to 31 nights."),
        ({"evenings": [FIRST + n * DAY for n in range(32)]}, "A trip has 1 to 31 nights."),
        ({"evenings": [date(1800, 1, 1)]}, "1800"),
        ({"by": "stranger"}, "is not a member of Meadow Night Club"),
        ({"spot": "away"}, "“Quay End” belongs to another organisation"),
        ({"second_spot": "same"}, "The second spot is the first one"),
        ({"second_spot": "away"}, "“Quay End” belongs to another organisation"),
        ({"target_list": "away"}, "“Harbour sky” belongs to another organisation"),
    ],
)
def test_what_cannot_be_is_refused_in_one_sentence_and_nothing_is_made(
    cast: Cast, wrong: dict[str, Any], words: str
) -> None:
    away = TargetList.objects.create(organisation=cast.elsewhere, name="Harbour sky")
    rows = {"stranger": cast.stranger, "same": cast.spot}
    rows["away"] = away if "target_list" in wrong else away_spot(cast)
    values = {name: rows.get(value, value) if isinstance(value, str) else value
              for name, value in wrong.items()}  # fmt: skip
    with pytest.raises(TripRefusedError, match=words):
        made(cast, **values)
    assert not Trip.objects.exists()


def test_a_trip_runs_through_its_steps_and_the_history_has_each(cast: Cast) -> None:
    trip, night = cast.trip, cast.trip_night
    assert cast.enrolment.place == 1
    for to in ("open", "confirmed"):
        trip = take(trip, to, cast)
    trip = take(trip, "running", cast, now=night.meeting_at)
    TripNight.objects.update(closed_at=night.ends_at)
    trip = take(trip, "done", cast, now=night.ends_at + DAY)
    steps = TripEvent.objects.filter(trip=trip, what="stepped").order_by("pk")
    assert [(one.detail["before"], one.detail["after"]) for one in steps] == [
        ("draft", "open"), ("open", "confirmed"), ("confirmed", "running"), ("running", "done"),
    ]  # fmt: skip


def test_a_step_that_does_not_exist_names_those_that_do(cast: Cast) -> None:
    with pytest.raises(TripRefusedError, match="is draft; from there it can become: open, canc"):
        step(cast.trip, "running", by=cast.instructor, now=LATER)
    cancelled = take(cast.trip, "cancelled", cast)
    with pytest.raises(TripRefusedError, match="is cancelled, and stays so"):
        step(cancelled, "open", by=cast.instructor, now=LATER)


@pytest.mark.parametrize("lacking", [{"decision_at": None}, {"decision_place": ""}])
def test_a_trip_does_not_open_before_each_night_has_its_hour_and_place_of_decision(
    cast: Cast, lacking: dict[str, Any]
) -> None:
    assert cast.trip_night.date == FIRST
    TripNight.objects.filter(date=FIRST + DAY).update(**lacking)
    with pytest.raises(TripRefusedError, match="Tuesday 2 March 2027 needs an hour and a place"):
        step(cast.trip, "open", by=cast.instructor, now=LATER)


def test_a_trip_is_not_confirmed_with_fewer_people_than_it_takes(cast: Cast) -> None:
    trip = take(cast.trip, "open", cast)
    Trip.objects.update(least_people=2)
    assert cast.enrolment.place == 1
    with pytest.raises(TripRefusedError, match="1 of at least 2 people have a place"):
        step(Trip.objects.get(), "confirmed", by=cast.instructor, now=LATER)
    assert trip.status == "open"


@pytest.mark.parametrize(("to", "told"), [("confirmed", "trip_confirmed"),
                                          ("cancelled", "trip_cancelled")])  # fmt: skip
def test_who_comes_is_told_of_the_step_and_who_gave_the_place_back_is_not(
    cast: Cast, to: str, told: str
) -> None:
    coming, gone = cast.enrolment, enrolled(cast.trip, state="given_back")
    take(take(cast.trip, "open", cast), to, cast)
    letters = Letter.objects.filter(kind=told)
    assert [one.enrolment for one in letters] == [coming] != [gone]


def test_a_trip_is_not_cancelled_over_the_heads_of_those_who_are_out(cast: Cast) -> None:
    """Cancelled, it would call nobody out."""
    night = cast.trip_night
    Trip.objects.update(status="running")
    with pytest.raises(TripRefusedError, match="Monday 1 March 2027 is not closed"):
        step(Trip.objects.get(), "cancelled", by=cast.instructor, now=night.meeting_at)
    TripNight.objects.filter(pk=night.pk).update(closed_at=night.ends_at)
    assert take(Trip.objects.get(), "cancelled", cast, now=night.ends_at).status == "cancelled"


def test_a_coast_night_is_not_confirmed_before_somebody_read_a_tide_table(cast: Cast) -> None:
    assert cast.enrolment.place == 1
    trip = take(cast.trip, "open", cast)
    Site.objects.filter(pk=cast.site.pk).update(on_coast=True)
    with pytest.raises(TripRefusedError, match="is on a coast and lacks: high water"):
        step(trip, "confirmed", by=cast.instructor, now=LATER)
    for night in trip.nights.all():
        night.tides.create(kind="high", at=night.meeting_at, height_m=3.1)
        night.tides.create(kind="low", at=night.ends_at, height_m=0.4)
    TripNight.objects.update(tide_datum="chart datum", tide_source="a table", leave_spot_by=LATER)
    assert take(trip, "confirmed", cast).status == "confirmed"


def test_full_and_open_follow_from_the_places_taken(cast: Cast) -> None:
    trip = take(cast.trip, "open", cast)
    with pytest.raises(TripRefusedError, match="8 places are free"):
        step(trip, "full", by=None, now=LATER)
    Trip.objects.update(capacity=1)
    assert cast.enrolment.place == 1
    trip = take(Trip.objects.get(), "full", cast)
    with pytest.raises(TripRefusedError, match="All places are taken"):
        step(trip, "open", by=None, now=LATER)
    Enrolment.objects.update(state="given_back", place=None)
    assert take(trip, "open", cast).status == "open"


def test_a_trip_runs_from_the_day_of_its_first_night_and_not_before(cast: Cast) -> None:
    assert cast.enrolment.place == 1
    trip = take(take(cast.trip, "open", cast), "confirmed", cast)
    eve = datetime(2027, 2, 28, 22, 59, tzinfo=UTC)
    with pytest.raises(TripRefusedError, match="Its first night is Monday 1 March 2027"):
        step(trip, "running", by=cast.instructor, now=eve)
    assert take(trip, "running", cast, now=eve + timedelta(minutes=1)).status == "running"


def test_a_trip_is_not_done_while_somebody_may_still_be_out(cast: Cast) -> None:
    Trip.objects.filter(pk=cast.trip.pk).update(status="running")
    TripNight.objects.filter(date=FIRST).update(closed_at=LATER)
    with pytest.raises(TripRefusedError, match="Tuesday 2 March 2027 is not closed"):
        step(Trip.objects.get(), "done", by=cast.instructor, now=LATER)
    TripNight.objects.filter(date=FIRST + DAY).update(decision="no_go")
    assert take(Trip.objects.get(), "done", cast).status == "done"


def test_of_two_who_step_at_once_the_second_is_told(cast: Cast) -> None:
    one, other = cast.trip, Trip.objects.get()
    step(one, "cancelled", by=cast.instructor, now=LATER)
    with pytest.raises(TripRefusedError, match="moved the trip on meanwhile"):
        step(other, "open", by=cast.coordinator, now=LATER)


def test_places_are_not_cut_under_the_people_who_have_them(cast: Cast) -> None:
    assert cast.enrolment.place == 1
    Trip.objects.update(least_people=0)
    trip = Trip.objects.get()
    trip.capacity = 0
    with pytest.raises(TripRefusedError, match="1 person has a place"):
        save_trip(trip, by=cast.instructor, now=LATER)


def test_a_night_is_added_and_taken_off_but_never_the_last(cast: Cast) -> None:
    trip, night = cast.trip, cast.trip_night
    remove_night(night, by=cast.instructor, now=LATER)
    (left,) = trip.nights.all()
    with pytest.raises(TripRefusedError, match="keeps at least one night"):
        remove_night(left, by=cast.instructor, now=LATER)


def test_a_night_that_has_turns_does_not_move_to_another_evening(cast: Cast) -> None:
    night = cast.trip_night
    night.rotas.create(what="Kiln", starts_at=night.meeting_at, ends_at=night.ends_at)
    night.date = FIRST - DAY
    with pytest.raises(TripRefusedError, match="hold this night to its evening"):
        save_night(night, by=cast.instructor, now=LATER)
    night.rotas.all().delete()
    save_night(night, by=cast.instructor, now=LATER)
    assert TripNight.objects.filter(date=FIRST - DAY).exists()


def test_a_night_does_not_move_to_an_evening_that_is_over_but_stays_on_its_own(cast: Cast) -> None:
    after, night = WHEN + timedelta(days=90), cast.trip_night
    save_night(night, by=cast.instructor, now=after)
    night.date -= DAY
    with pytest.raises(TripRefusedError, match="That evening is over"):
        save_night(night, by=cast.instructor, now=after)


def test_a_trip_that_people_join_keeps_the_hour_and_place_of_each_decision(cast: Cast) -> None:
    night = cast.trip_night
    night.decision_place = ""
    save_night(night, by=cast.instructor, now=LATER)  # a draft may still lack it
    night.decision_place = "the chapel door"
    save_night(night, by=cast.instructor, now=LATER)
    night.trip = take(cast.trip, "open", cast)
    night.decision_at = None
    with pytest.raises(TripRefusedError, match="write the hour and the place of the decision"):
        save_night(night, by=cast.instructor, now=LATER)


def test_the_next_night_is_decided_as_long_before_as_the_last(cast: Cast) -> None:
    """Decided on the day before, in the evening: at that hour of its own day people have met."""
    night = list(cast.trip.nights.all())[-1]
    night.decision_at = night.meeting_at - timedelta(hours=22)
    night.save()
    assert next_night(cast.trip).decision_at == night.decision_at + DAY


def test_a_cancelled_trip_gets_no_more_nights(cast: Cast) -> None:
    trip = take(cast.trip, "cancelled", cast)
    with pytest.raises(TripRefusedError, match="is cancelled: it gets no more nights"):
        save_night(next_night(trip), by=cast.instructor, now=LATER)


def test_a_night_ends_after_people_meet_and_shares_its_evening_with_no_other(cast: Cast) -> None:
    night = cast.trip_night
    night.ends_at = night.meeting_at
    with pytest.raises(TripRefusedError, match="ends before people meet"):
        save_night(night, by=cast.instructor, now=LATER)
    night = cast.trip_night
    night.date += DAY
    with pytest.raises(TripRefusedError, match="has a night on that evening already"):
        save_night(night, by=cast.instructor, now=LATER)
