"""What of trips stands among the decisions on the first page, and what does not."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from tests.conftest import FIRST, Cast
from trips.models import Trip, TripNight
from trips.services.trip_decisions import trips_waiting

HOUR, DAY = timedelta(hours=1), timedelta(days=1)


def said(cast: Cast, at: datetime) -> list[str]:
    return [one.sentence for one in trips_waiting([cast.club], at=at)]


@pytest.fixture
def night(cast: Cast) -> TripNight:
    """The first night of a trip that takes place; the second was called off."""
    first = cast.trip_night
    Trip.objects.update(status="confirmed")
    TripNight.objects.exclude(pk=first.pk).update(decision="no_go")
    return first


def test_a_trip_waits_from_a_week_before_its_day(cast: Cast) -> None:
    Trip.objects.filter(pk=cast.trip.pk).update(
        status="open", decided_by=date(2027, 2, 20), least_people=4
    )
    assert cast.enrolment.place == 1
    day = datetime.combine(date(2027, 2, 13), cast.trip_night.meeting_at.timetz())
    assert said(cast, day) == [
        "Whether Spring dark nights runs is decided by 20 February: 1 of at least 4 people have a "
        "place."
    ]
    assert said(cast, day - DAY) == []
    Trip.objects.update(status="confirmed")
    assert said(cast, day) == []


def test_a_night_waits_from_the_day_before_its_decision_until_it_is_made(
    cast: Cast, night: TripNight
) -> None:
    assert night.decision_at is not None
    assert said(cast, night.decision_at - 23 * HOUR) == [
        "Spring dark nights: whether you go on 1 March is decided at 13:55, 1 March."
    ]
    assert said(cast, night.decision_at - 25 * HOUR) == []
    TripNight.objects.filter(date=FIRST).update(decision="go")
    assert said(cast, night.decision_at - HOUR) == []


def test_a_night_that_nobody_closed_comes_first(cast: Cast, night: TripNight) -> None:
    assert said(cast, night.call_out_at) == [
        "Spring dark nights: the night of 1 March is not closed. Is everybody back?"
    ]
    TripNight.objects.filter(date=FIRST).update(closed_at=night.ends_at)
    assert said(cast, night.call_out_at) == []


def test_another_clubs_trips_are_not_told(cast: Cast, night: TripNight) -> None:
    assert list(trips_waiting([cast.elsewhere], at=night.call_out_at)) == []
