"""What a brief still lacks, and where each is mended."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from tests.trips.briefed import draft, facts, make_briefed, the_night
from tests.trips.joined import MEETING, placed
from tests.trips.making import NOON
from trips.models import (
    Landmark,
    Site,
    SiteMonth,
    Spot,
    TargetEntry,
    Trip,
    TripInstructor,
    TripNight,
)
from trips.services.briefs.readiness import lacks_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def trip() -> Trip:
    """A trip that lacks nothing."""
    trip = make_briefed()
    placed(trip)
    Site.objects.update(emergency_number="112")
    Spot.objects.update(skyline=[[0, 2], [180, 5]])
    TripNight.objects.update(decision_at=NOON, decision_place="The club room", air_c=4.0)
    return trip


def lacks(trip: Trip, now: Any = NOON) -> list[tuple[str, str]]:
    drafted = replace(draft(trip), now=now)
    return [(one.where, one.words) for one in lacks_of(drafted, facts(trip))]


def test_a_night_that_lacks_nothing_says_nothing(trip: Trip) -> None:
    assert lacks(trip) == []


@pytest.mark.parametrize(
    ("row", "fields", "where", "words"),
    [
        (TripNight, {"decision_at": None}, "decision", "The hour of the decision"),
        (TripNight, {"decision_place": ""}, "decision", "Where it is decided"),
        (TripNight, {"meeting_point": ""}, "night", "Where people meet"),
        (TripNight, {"air_c": None}, "weather", "how cold it becomes is not known"),
        (Site, {"on_coast": True}, "tides", "is on a coast and lacks: high water"),
        (Site, {"emergency_number": ""}, "site", "Nobody has confirmed the emergency number"),
        (Spot, {"skyline": []}, "skyline", "heights are from level, and nothing hides a target"),
        (Landmark, {"is_seen_at_night": False}, "spot", "No landmark is seen at night"),
        (TripInstructor, {"phone": ""}, "instructors", "Nobody who leads has a phone number"),
        (TargetEntry, {"target": "deep-sky:NGC0104", "name": "47 Tucanae"},
         "targets", "No target can be taken"),
    ],
)  # fmt: skip
def test_what_is_lacking_is_said_once_and_leads_to_where_it_is_mended(
    trip: Trip, row: Any, fields: dict[str, Any], where: str, words: str
) -> None:
    row.objects.update(**fields)
    found = lacks(trip)
    assert [one for one, _words in found] == [where]
    assert words in found[0][1]


def test_a_trip_without_people_can_be_published_and_that_is_said(trip: Trip) -> None:
    trip.enrolments.all().delete()
    [(where, words)] = lacks(trip)
    assert where == "people"
    assert "Nobody has a place yet. It can be published" in words


def test_the_usual_cold_of_the_month_is_no_forecast(trip: Trip) -> None:
    TripNight.objects.update(air_c=None)
    SiteMonth.objects.create(site=the_night(trip).spot.site, month=6, low_c=7.0)
    [(where, words)] = lacks(trip)
    assert (where, words) == (
        "weather", "Nobody has typed a forecast: the cold is the usual one of June here.",
    )  # fmt: skip


def test_a_night_that_is_over_says_only_that_and_one_under_way_does_not(trip: Trip) -> None:
    assert lacks(trip, MEETING + timedelta(hours=5)) == []
    TripNight.objects.update(meeting_point="")
    [(where, words)] = lacks(trip, MEETING + timedelta(hours=6))
    assert where == "night"
    assert "This night is over" in words
