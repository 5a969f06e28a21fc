"""A version of a brief is published once, numbered, and never changed after."""

from __future__ import annotations

import pytest

from tests.trips.briefed import facts, make_briefed, publish_now, the_night
from trips.models import Brief, BriefNote, Trip, TripEvent, TripNight
from trips.services.briefs.publishing import latest, news_of
from trips.services.refusals import RefusedError

pytestmark = pytest.mark.django_db


@pytest.fixture
def trip() -> Trip:
    return make_briefed()


def test_versions_count_from_one_and_history_says_who_published_which(trip: Trip) -> None:
    first = publish_now(trip)
    TripNight.objects.update(meeting_point="The mill")
    second = publish_now(trip)
    assert (first.number, second.number) == (1, 2)
    assert latest(the_night(trip)) == second
    told = TripEvent.objects.filter(what="brief_published").order_by("pk")
    assert [event.detail["number"] for event in told] == [1, 2]


def test_what_was_published_stays_as_it_was(trip: Trip) -> None:
    publish_now(trip)
    TripNight.objects.update(meeting_point="The mill")
    assert Brief.objects.get().facts["glance"]["meet_point"] == "The chapel"
    assert "The mill" not in str(Brief.objects.get().parts)


def test_the_same_again_is_refused(trip: Trip) -> None:
    publish_now(trip)
    with pytest.raises(RefusedError, match="Nothing is other than in version 1"):
        publish_now(trip)


def test_pressed_twice_it_is_published_once(trip: Trip) -> None:
    first = publish_now(trip, expects=1)
    TripNight.objects.update(meeting_point="The mill")
    assert publish_now(trip, expects=1) == first
    assert publish_now(trip, expects=2).number == 2


def test_what_is_other_is_listed_in_both_versions_words(trip: Trip) -> None:
    assert publish_now(trip).changes == []
    TripNight.objects.update(meeting_point="The mill")
    BriefNote.objects.create(night=the_night(trip), part="bring", text="A tent.", is_instead=False)
    waiting = news_of(the_night(trip), facts(trip)).changes
    assert waiting == publish_now(trip).changes
    assert waiting[0] == "Meet: The mill. Before: The chapel."
    assert "Clothing and battery: who leads wrote into it." in waiting
    assert not any("Targets" in sentence for sentence in waiting)


def test_a_brief_of_nobodys_trip_and_of_a_polar_day_can_be_published(trip: Trip) -> None:
    site = the_night(trip).spot.site
    site.latitude, site.longitude, site.zone = 69.7, 18.9, "Europe/Oslo"
    site.save()
    site.spots.update(latitude=69.7, longitude=18.9)
    brief = publish_now(trip)
    assert trip.enrolments.count() == 0
    assert brief.facts["targets"] == []
    assert "Nothing that is wanted stands right" in brief.parts["targets"]


def test_an_instructors_markup_is_shown_as_text(trip: Trip) -> None:
    bad = "<script>alert(1)</script> مرحبا " + "x" * 19_000
    BriefNote.objects.create(night=the_night(trip), part="way", text=bad, is_instead=True)
    way = publish_now(trip).parts["way"]
    assert "<script>" not in way
    assert "&lt;script&gt;" in way
    assert 'dir="auto"' in way


def test_times_that_a_clock_left_out_are_refused_in_a_sentence(trip: Trip) -> None:
    """A zone that skipped a whole day has no such night."""
    site = the_night(trip).spot.site
    site.zone = "Pacific/Apia"
    site.save()
    TripNight.objects.filter(pk=the_night(trip).pk).update(date="2011-12-30")
    night = TripNight.objects.get(date="2011-12-30")
    with pytest.raises(RefusedError, match="there is no such night"):
        publish_now(trip, night=night)
    assert not Brief.objects.exists()
