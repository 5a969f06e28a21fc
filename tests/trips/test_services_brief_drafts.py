"""A night's brief says what rows and sky say, in words, and guesses nothing."""

from __future__ import annotations

import re
from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from pytest_django import DjangoAssertNumQueries

from tests.trips.briefed import facts, make_briefed, the_night
from tests.trips.joined import make_joinable
from tests.trips.making import NOON, make_site
from trips.models import BriefNote, Night, Site, Spot, TargetEntry, TargetWindows, TripNight
from trips.services.briefs.drafts import draft_of, facts_of

pytestmark = pytest.mark.django_db


def test_it_says_where_and_when_people_meet_and_what_silence_means() -> None:
    glance = facts(make_briefed()).glance
    assert (glance.meet_clock, glance.meet_point) == ("20:30", "The chapel")
    assert "do not set out" in glance.decision[0]


def test_a_night_that_goes_says_the_other_rule_of_silence() -> None:
    trip = make_briefed()
    TripNight.objects.update(decision="go")
    assert facts(trip).glance.state == "go"
    said = facts(trip).glance.decision[0]
    assert said.startswith("We go to Wall. If that changes, Nadia calls you before")
    assert said.endswith("If you hear nothing, come.")
    assert "The chapel" not in said  # it stands large beside it


def test_a_target_is_told_in_fists_from_a_landmark_then_in_degrees_with_their_minute() -> None:
    core = facts(make_briefed()).targets[0]
    assert core.direction == "One and a half fists left of the hut, two up"
    assert core.degrees.startswith("At 02:")
    assert "true" in core.degrees
    assert "compass" in core.degrees
    assert core.settings.startswith("15 s, f/2.8, ISO")
    assert "<svg" in core.picture


def test_without_a_landmark_a_target_is_told_by_the_compass() -> None:
    trip = make_briefed()
    the_night(trip).spot.landmarks.all().delete()
    assert facts(trip).targets[0].direction.startswith("South")


def test_the_first_frame_has_three_settings_and_each_large_by_itself() -> None:
    first = facts(make_briefed()).first
    assert first is not None
    assert (first.shutter, first.aperture) == ("15 s", "f/2.8")
    assert int(first.iso.replace("\u00a0", "")) >= 1600


def test_the_night_is_one_list_from_meeting_to_leaving() -> None:
    rows = facts(make_briefed()).rows
    assert [row.kind for row in (rows[0], rows[-1])] == ["meet", "leave"]
    assert [row.at for row in rows[1:-1]] == sorted(row.at for row in rows[1:-1])
    assert {"target", "foreground", "focus", "sky"} <= {row.kind for row in rows}


def test_the_dangers_of_the_spot_come_first_and_one_of_another_spot_does_not() -> None:
    trip = make_briefed()
    night = the_night(trip)
    other = Spot.objects.create(site=night.spot.site, name="Far", latitude=40.4, longitude=-1.1)
    other.hazards.create(site=other.site, kind="ice", text="ice at the outlet")
    dangers = facts(trip).dangers
    assert dangers[0] == "Cliff or steep edge: a drop behind the wall"
    assert not any("ice at the outlet" in one for one in dangers)


def test_a_place_without_a_written_danger_says_that_nobody_wrote_one() -> None:
    assert "Nobody has written down a danger" in facts(make_joinable()).dangers[0]


def test_the_emergency_number_is_said_once_somebody_confirmed_it_and_never_assumed() -> None:
    trip = make_briefed()
    site = the_night(trip).spot.site
    site.country = "ES"
    site.save()
    assert facts(trip).help.number == ""
    assert "not confirmed" in facts(trip).help.how[0]
    site.emergency_number = "112"
    site.save()
    assert facts(trip).help.number == "112"


def test_a_sensitive_position_is_kept_back() -> None:
    trip = make_briefed()
    TripNight.objects.update(meeting_latitude=40.39, meeting_longitude=-1.09)
    assert facts(trip).meet_geo == "geo:40.39000,-1.09000"
    site = the_night(trip).spot.site
    site.position_is_sensitive = True
    site.save()
    said = facts(trip).help
    assert (said.geo, facts(trip).meet_geo) == ("", "")
    assert "40.4" not in " ".join(said.position)


def test_a_coast_night_says_first_by_when_the_spot_must_be_left() -> None:
    trip = make_briefed()
    TripNight.objects.update(leave_spot_by=datetime(2027, 6, 5, 22, tzinfo=UTC))
    said = facts(trip)
    assert "leaves the spot by 00:00" in said.dangers[0]
    assert any("must be left" in row.words for row in said.rows)


def test_a_night_moved_to_the_second_spot_is_told_from_there() -> None:
    trip = make_briefed()
    night = the_night(trip)
    night.second_spot = Spot.objects.create(
        site=night.spot.site, name="Sheepfold", latitude=40.41, longitude=-1.1
    )
    night.decision = TripNight.Decision.SECOND
    night.save()
    said = facts(trip)
    assert said.spot == "Sheepfold"
    assert said.targets[0].direction.startswith("South")


def test_people_leave_for_where_they_meet_also_when_it_goes_on_to_the_second_spot() -> None:
    trip = make_briefed()
    night = the_night(trip)
    Site.objects.update(drive_minutes=60)
    before = facts(trip).glance.leave_by
    near = make_site(trip.organisation, name="Near", drive_minutes=10)
    second = Spot.objects.create(site=near, name="Ford", latitude=40.5, longitude=-1.1)
    TripNight.objects.filter(pk=night.pk).update(second_spot=second, decision="second")
    assert facts(trip).glance.leave_by == before == "19:25"


def test_a_polar_day_says_that_it_does_not_get_dark_and_has_no_target() -> None:
    trip = make_briefed()
    site = the_night(trip).spot.site
    site.latitude, site.longitude, site.zone = 69.7, 18.9, "Europe/Oslo"
    site.save()
    Spot.objects.update(latitude=69.7, longitude=18.9)
    said = facts(trip)
    assert said.glance.dark.words.startswith("No dark")
    assert said.targets == ()
    assert said.first is None
    assert "core" in " ".join(said.not_tonight)


def test_what_an_instructor_wrote_stands_by_its_part_as_text() -> None:
    trip = make_briefed()
    BriefNote.objects.create(night=the_night(trip), part="focus", text="<b>x</b>", is_instead=True)
    written = facts(trip).written["focus"]
    assert (written.text, written.is_instead) == ("<b>x</b>", True)


def test_units_of_a_reader_are_theirs() -> None:
    trip = make_briefed()
    TripNight.objects.update(air_c=-5.0, wind_kmh=30.0)
    assert facts(trip).glance.coldest.words == "−5 °C"
    assert facts(trip, "imperial").glance.coldest.words == "23 °F"
    assert facts(trip, "imperial").glance.coldest.more.startswith("Feels like 9 °F")


def test_drafting_asks_the_database_at_most_twelve_times(
    django_assert_max_num_queries: DjangoAssertNumQueries,
) -> None:
    night = the_night(make_briefed())
    with django_assert_max_num_queries(12):
        facts_of(draft_of(night, now=NOON))


def test_drafting_reads_no_stored_night_and_no_stored_window() -> None:
    """What is stored may be of an older position or list: none of it can come into a brief."""
    night = the_night(make_briefed())
    with CaptureQueriesContext(connection) as asked:
        facts_of(draft_of(night, now=NOON))
    tables = {name for one in asked for name in re.findall(r'(?:FROM|JOIN) "(\w+)"', one["sql"])}
    stored = {kind._meta.db_table for kind in (Night, TargetWindows)}
    assert TargetEntry._meta.db_table in tables
    assert not tables & stored
