"""Taking in what phones gathered: each mark once, and nobody else's."""

from __future__ import annotations

import uuid
from datetime import UTC, datetime, timedelta

import pytest

from tests.conftest import Cast
from trips.models import Enrolment, Tick, TripNight
from trips.planning.head_count import Mark, standing
from trips.services.head_counts import Counted, SentTick, night_now, people_of, take


@pytest.fixture
def night(cast: Cast) -> TripNight:
    assert cast.enrolment.state == Enrolment.State.PLACED
    return cast.trip_night


def _tick(who: str, kind: str, at: datetime) -> SentTick:
    return SentTick(uuid.uuid4(), who, kind, at)


def _person(night: TripNight, key: str) -> Counted:
    return next(one for one in people_of(night) if one.key == key)


def test_participants_and_leaders_are_counted(cast: Cast, night: TripNight) -> None:
    keys = [one.key for one in people_of(night)]
    assert keys == [f"p{cast.enrolment.pk}", f"l{cast.trip_instructor.pk}"]


def test_who_gave_the_place_back_is_not_expected(cast: Cast, night: TripNight) -> None:
    Enrolment.objects.update(state=Enrolment.State.GIVEN_BACK, place=None)
    assert [one.leads for one in people_of(night)] == [True]


def test_a_post_that_is_repeated_changes_nothing(cast: Cast, night: TripNight) -> None:
    key, at = f"p{cast.enrolment.pk}", night.meeting_at
    ticks = [_tick(key, "here", at), _tick(key, "left", at + timedelta(hours=3))]
    for _ in range(3):
        taken = take(ticks, night=night, by=cast.trip_instructor, now=at + timedelta(hours=4))
        assert taken.kept == tuple(tick.client_uid for tick in ticks)
    assert Tick.objects.count() == 2
    assert _person(night, key).standing.has_left


def test_forty_people_gathered_in_an_hour_without_signal_arrive_in_one_post(
    cast: Cast, night: TripNight
) -> None:
    cast.trip.enrolments.all().delete()
    rows = [_enrol(cast, n) for n in range(40)]
    at = night.meeting_at
    ticks = [_tick(f"p{row.pk}", "here", at + timedelta(seconds=90 * n))
             for n, row in enumerate(rows)]  # fmt: skip
    taken = take(ticks, night=night, by=cast.trip_instructor, now=at + timedelta(hours=1))
    assert len(taken.kept) == 40
    assert sum(one.standing.is_here for one in people_of(night)) == 40


def test_a_mark_of_somebody_who_is_not_on_the_trip_is_refused_and_the_rest_kept(
    cast: Cast, night: TripNight
) -> None:
    own, foreign = f"p{cast.enrolment.pk}", "p999999"
    ticks = [_tick(own, "here", night.meeting_at), _tick(foreign, "here", night.meeting_at)]
    taken = take(ticks, night=night, by=cast.trip_instructor, now=night.meeting_at)
    assert taken.kept == (ticks[0].client_uid,)
    assert [one.client_uid for one in taken.refused] == [ticks[1].client_uid]


def test_a_phone_whose_clock_runs_ahead_does_not_outlast_later_marks(
    cast: Cast, night: TripNight
) -> None:
    key, now = f"p{cast.enrolment.pk}", night.meeting_at
    take([_tick(key, "here", now + timedelta(days=1))],
         night=night, by=cast.trip_instructor, now=now)  # fmt: skip
    later = now + timedelta(hours=1)
    take([_tick(key, "left", later)], night=night, by=cast.trip_instructor, now=later)
    assert _person(night, key).standing.has_left


def test_a_phone_whose_clock_stands_at_nothing_is_not_lost(cast: Cast, night: TripNight) -> None:
    key, now = f"p{cast.enrolment.pk}", night.meeting_at
    tick = _tick(key, "here", datetime(1970, 1, 1, tzinfo=UTC))
    assert take([tick], night=night, by=cast.trip_instructor, now=now).kept == (tick.client_uid,)
    assert _person(night, key).standing == standing([Mark("here", now, str(cast.trip_instructor))])


@pytest.mark.parametrize(("hours", "date"), [(-30, 0), (-2, 0), (9, 0), (20, 1), (100, 1)])
def test_the_night_that_is_on_is_shown_else_the_next_else_the_last(
    cast: Cast, night: TripNight, hours: int, date: int
) -> None:
    first, second = cast.trip.nights.order_by("date")
    found = night_now(cast.trip, now=first.meeting_at + timedelta(hours=hours))
    assert found == (first, second)[date]


def _enrol(cast: Cast, n: int) -> Enrolment:
    person = cast.club.people.create(name=f"Person {n}", mail=f"p{n}@meadow.example")
    row = Enrolment(trip=cast.trip, person=person, state="placed", place=n + 1,
                    asked_at=cast.trip_night.meeting_at, link_hash=f"{n}")  # fmt: skip
    row.save()
    return row
