"""Opening a brief reads a version and what is the reader's own, and computes nothing."""

from __future__ import annotations

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from tests.trips.briefed import bring, make_briefed, make_plans, publish_now
from tests.trips.joined import EVENING, placed
from tests.trips.making import NOON
from trips.models import Enrolment, Trip, TripNight
from trips.services import links
from trips.services.briefs.reading import read

pytestmark = pytest.mark.django_db


@pytest.fixture
def trip() -> Trip:
    return make_briefed()


@pytest.fixture
def ilse(trip: Trip) -> Enrolment:
    enrolment = placed(trip)
    bring(enrolment, "lens", focal_mm=24.0, widest_f_number=1.8)
    return enrolment


def test_a_night_without_a_version_has_nothing_to_read(trip: Trip, ilse: Enrolment) -> None:
    publish_now(trip)
    assert read(ilse, EVENING + timedelta(days=1)) is None


def test_before_the_plan_is_made_everybodys_version_is_read(trip: Trip, ilse: Enrolment) -> None:
    brief = publish_now(trip)
    reading = read(ilse, EVENING)
    assert reading is not None
    assert not reading.has_plan
    assert (reading.facts, reading.parts) == (brief.facts, brief.parts)


def test_the_readers_own_lies_over_what_everybody_reads(trip: Trip, ilse: Enrolment) -> None:
    brief = publish_now(trip)
    make_plans()
    reading = read(ilse, EVENING)
    assert reading is not None
    assert reading.has_plan
    assert reading.facts["reader"] == "Ilse"
    assert reading.facts["help"] == brief.facts["help"]
    assert list(reading.parts) == list(brief.parts)


def test_the_newest_version_is_read_without_a_plan_of_the_one_before(
    trip: Trip, ilse: Enrolment
) -> None:
    publish_now(trip)
    make_plans()
    TripNight.objects.update(meeting_point="The mill")
    publish_now(trip)
    reading = read(ilse, EVENING)
    assert reading is not None
    assert (reading.number, reading.has_plan) == (2, False)
    assert "The mill" in reading.parts["meet"]


def test_opening_asks_three_times_at_most_with_the_link(
    trip: Trip, ilse: Enrolment, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    publish_now(trip)
    make_plans()
    token = links.token_of(ilse)
    with django_assert_max_num_queries(3):
        opened = links.found(Enrolment.objects.select_related("trip", "person"), token, at=NOON)
        assert opened is not None
        assert read(opened, EVENING) is not None
