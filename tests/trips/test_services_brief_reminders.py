"""Reminders 14, 3 and 1 days before people first meet: each once, and to nobody in vain."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import html5lib
import pytest
from django.core import mail

from tests.trips.briefed import CAMERA, bring, make_briefed, make_plans, publish_now
from tests.trips.joined import MEETING, REST, joined, kinds, placed, post
from tests.trips.making import NOON
from trips.models import Enrolment, Letter, Trip, TripNight
from trips.services import joining, links
from trips.services.briefs.reminders import remind

pytestmark = pytest.mark.django_db

DAY, HOUR = timedelta(days=1), timedelta(hours=1)


@pytest.fixture
def trip() -> Trip:
    return make_briefed(capacity=4)


@pytest.fixture
def ilse(trip: Trip) -> Enrolment:
    enrolment = placed(trip)
    Letter.objects.all().delete()
    return enrolment


def by_the_hour(days: float, until: float = 0) -> None:
    """Let the hours before the first meeting go by."""
    for hour in range(round(days * 24), round(until * 24), -1):
        remind(now=MEETING - hour * HOUR)


def sent_at(days: float) -> Any:
    remind(now=MEETING - days * DAY)
    post(MEETING - days * DAY)
    return mail.outbox[-1]


def test_each_is_asked_for_once_at_its_day(trip: Trip, ilse: Enrolment) -> None:
    remind(now=MEETING - 14 * DAY - HOUR)
    assert kinds() == []
    by_the_hour(14, 3)
    assert kinds() == ["reminder_14"]
    by_the_hour(3, 1)
    assert kinds() == ["reminder_14", "reminder_3"]
    by_the_hour(1, -1)
    assert kinds() == ["reminder_14", "reminder_3", "reminder_1"]


def move(by: timedelta) -> None:
    """Move every night, the last one first: two evenings of a trip are never the same."""
    for night in TripNight.objects.order_by("-date"):
        TripNight.objects.filter(pk=night.pk).update(
            date=night.date + timedelta(days=by.days),
            meeting_at=night.meeting_at + by,
            ends_at=night.ends_at + by,
        )


def test_another_hour_of_the_same_evening_brings_no_second_one(trip: Trip, ilse: Enrolment) -> None:
    by_the_hour(14, 2)
    move(HOUR)
    by_the_hour(2, -2)
    assert kinds() == ["reminder_14", "reminder_3", "reminder_1"]


def test_another_evening_brings_its_own(trip: Trip, ilse: Enrolment) -> None:
    by_the_hour(14, 0.5)
    move(4 * DAY)
    by_the_hour(0.5, -5)
    assert kinds() == ["reminder_14", "reminder_3", "reminder_1"] * 2


def test_who_joins_two_days_before_gets_only_the_last_one(trip: Trip) -> None:
    late = joined(trip, now=MEETING - 2 * DAY)
    joining.say_the_rest(late, REST, now=MEETING - 2 * DAY)
    Letter.objects.all().delete()
    by_the_hour(2)
    assert kinds() == ["reminder_1"]


def test_who_joins_on_the_last_day_gets_it_at_once(trip: Trip) -> None:
    late = joined(trip, now=MEETING - 5 * HOUR)
    remind(now=MEETING - 4 * HOUR)
    assert "reminder_1" in kinds(late)


@pytest.mark.parametrize("why", ["cancelled", "draft", "given back", "waiting", "called off"])
def test_nobody_is_reminded_in_vain(trip: Trip, ilse: Enrolment, why: str) -> None:
    if why in ("cancelled", "draft"):
        Trip.objects.update(status=why)
    if why == "given back":
        joining.give_back(ilse, now=NOON)
    if why == "waiting":
        Enrolment.objects.update(state="waiting", place=None)
    if why == "called off":
        TripNight.objects.update(decision="no_go")
    by_the_hour(14, -1)
    assert kinds() == []


def test_one_that_was_asked_for_is_dropped_where_the_place_is_given_back(
    trip: Trip, ilse: Enrolment
) -> None:
    remind(now=MEETING - 14 * DAY)
    joining.give_back(ilse, now=NOON)
    assert post(MEETING - 14 * DAY + HOUR) == 0
    assert mail.outbox == []


def test_one_that_could_not_be_sent_gives_way_to_the_next(trip: Trip, ilse: Enrolment) -> None:
    remind(now=MEETING - 14 * DAY)
    assert post(MEETING - 3 * DAY) == 0
    assert Letter.objects.get().state == Letter.State.DROPPED


def test_a_called_off_first_night_counts_from_the_second(trip: Trip, ilse: Enrolment) -> None:
    TripNight.objects.filter(meeting_at=MEETING).update(decision="no_go")
    remind(now=MEETING - 14 * DAY)
    assert kinds() == []
    remind(now=MEETING - 13 * DAY)
    assert kinds() == ["reminder_14"]


def test_two_weeks_before_it_says_what_takes_time(trip: Trip, ilse: Enrolment) -> None:
    TripNight.objects.update(air_c=4.0)
    trip.nights.get(meeting_at=MEETING).spot.site.__class__.objects.update(drive_minutes=75)
    said = str(sent_at(14).body)
    assert "Say what you bring" in said
    assert "75 min by car" in said
    assert "Coldest: 4 °C" in said
    assert links.token_of(ilse) in said


def test_who_has_said_what_they_bring_is_not_asked_again(trip: Trip, ilse: Enrolment) -> None:
    bring(ilse, "lens", focal_mm=24.0, widest_f_number=1.8)
    said = str(sent_at(3).body)
    assert "Say what you bring" not in said
    assert "Charge all batteries" in said
    assert "If you hear nothing, do not set out" in said


def test_the_last_one_says_open_it_now_and_encloses_the_brief_in_one_file(
    trip: Trip, ilse: Enrolment
) -> None:
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=24.0, widest_f_number=1.8)
    publish_now(trip)
    make_plans()
    sent = sent_at(1)
    assert "Open it now, while there is signal" in str(sent.body)
    assert sent.message().get_content_type() == "multipart/mixed"
    [(name, page, kind)] = sent.attachments
    assert (name, kind) == ("brief-2027-06-05-version-1.html", "text/html")
    assert "your 24\N{NO-BREAK SPACE}mm f/1.8" in page
    assert len(page.encode()) < 70_000


def test_the_file_stands_alone(trip: Trip, ilse: Enrolment) -> None:
    publish_now(trip)
    make_plans()
    page = sent_at(1).attachments[0][1]
    html5lib.HTMLParser(strict=True).parse(page)
    tree = html5lib.parse(page, namespaceHTMLElements=False)
    assert not list(tree.iter("script"))
    assert not list(tree.iter("link"))
    loads = [one for one in tree.iter() if {"src", "data", "srcset"} & set(one.attrib)]
    assert loads == []
    assert "@import" not in page
    assert set(re.findall(r"url\((.)", page)) <= {"#"}
    assert page.count("<svg") >= 3


def test_without_a_brief_the_last_one_says_that_there_is_none(trip: Trip, ilse: Enrolment) -> None:
    sent = sent_at(1)
    assert "No brief is published yet" in str(sent.body)
    assert sent.attachments == []
