"""A night's brief behind a person's own link: who reads it, in how few queries, and as what."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

import html5lib
import pytest
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from tests.trips.briefed import CAMERA, bring, make_briefed, make_plans, publish_now, the_night
from tests.trips.joined import EVENING, MEETING, asked, joined, placed
from tests.trips.making import NOON
from trips.models import BriefNote, Enrolment, Trip, TripNight
from trips.services import joining, links

pytestmark = pytest.mark.django_db

NEXT_EVENING = EVENING + timedelta(days=1)
LONG = "<script>alert('ليلة')</script> مرحبا 🌌 {{ trip }} " + "over and over " * 1430


@pytest.fixture
def trip() -> Trip:
    return make_briefed()


@pytest.fixture
def ilse(trip: Trip) -> Enrolment:
    enrolment = placed(trip)
    bring(enrolment, "camera", **CAMERA)
    bring(enrolment, "lens", focal_mm=24.0, widest_f_number=1.8)
    return enrolment


def _published(trip: Trip) -> None:
    publish_now(trip)
    make_plans()


def _address(enrolment: Enrolment, name: str = "brief_read", evening: date = EVENING) -> str:
    return reverse(name, args=[links.token_of(enrolment), evening])


def _read(client: Client, enrolment: Enrolment, name: str = "brief_read") -> str:
    answer = client.get(_address(enrolment, name))
    assert answer.status_code == 200
    return answer.content.decode()


def test_who_has_a_place_reads_their_own(trip: Trip, ilse: Enrolment, client: Client) -> None:
    _published(trip)
    page = _read(client, ilse)
    assert "For <bdi>Ilse</bdi>" in page
    assert "your 24\N{NO-BREAK SPACE}mm f/1.8" in page
    assert "Version 1, " in page


def test_of_a_night_that_does_not_go_that_is_the_answer(
    trip: Trip, ilse: Enrolment, client: Client
) -> None:
    _published(trip)
    assert '<p class="answer clock">20:30</p>' in _read(client, ilse)
    TripNight.objects.update(decision="no_go")
    publish_now(trip)
    make_plans()
    page = _read(client, ilse)
    assert "We do not go." in page
    assert "It was to be at 20:30" in page
    assert 'class="answer' not in page


@pytest.fixture
def at_hours(monkeypatch: pytest.MonkeyPatch) -> Callable[[int], None]:
    """Set the server's clock to so many hours after the meeting."""

    def set_clock(hours: int) -> None:
        now = MEETING + timedelta(hours=hours)
        monkeypatch.setattr("trips.views.brief_read.timezone.now", lambda: now)

    return set_clock


@pytest.mark.parametrize(("hours", "is_offered"), [(-3, False), (4, True), (30, False)])
def test_red_is_offered_from_sunset_till_people_are_home(
    ilse: Enrolment, at_hours: Callable[[int], None], hours: int, is_offered: bool
) -> None:
    _published(ilse.trip)
    at_hours(hours)
    html = _read(Client(), ilse).split("<head>")[0]
    assert ('data-look="night" data-offered' in html) == is_offered


def test_red_is_not_offered_instead_of_what_was_chosen(
    ilse: Enrolment, at_hours: Callable[[int], None], client: Client
) -> None:
    _published(ilse.trip)
    at_hours(4)
    client.cookies["look"] = "grey"
    html = _read(client, ilse).split("<head>")[0]
    assert 'data-look="grey">' in html


def test_before_the_plan_is_made_the_page_says_so(
    trip: Trip, ilse: Enrolment, client: Client
) -> None:
    publish_now(trip)
    assert "being worked out" in _read(client, ilse)
    make_plans()
    assert "being worked out" not in _read(client, ilse)


def test_opening_asks_three_times_with_the_link_and_changes_nothing(
    trip: Trip,
    ilse: Enrolment,
    client: Client,
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    _published(trip)
    client.get(_address(ilse))
    with django_assert_num_queries(3) as asked_for:
        _read(client, ilse)
    assert all(query["sql"].startswith("SELECT") for query in asked_for.captured_queries)


@pytest.mark.parametrize("name", ["brief_read", "brief_file", "brief_pdf", "brief_text"])
def test_whose_place_is_given_back_or_taken_reads_nothing(
    name: str, trip: Trip, ilse: Enrolment, client: Client
) -> None:
    _published(trip)
    ilse.refresh_from_db()
    joining.give_back(ilse, now=NOON)
    assert client.get(_address(ilse, name)).status_code == 404
    bo = placed(trip, "Bo")
    assert client.get(_address(bo, name)).status_code == 200
    Enrolment.objects.filter(pk=bo.pk).update(state=Enrolment.State.REMOVED, place=None)
    assert client.get(_address(bo, name)).status_code == 404


def test_whoever_only_asked_or_waits_reads_nothing(trip: Trip, client: Client) -> None:
    _published(trip)
    for name in ("Ilse", "Bo"):
        placed(trip, name)
    waiting, unconfirmed = joined(trip, "Cato"), asked(trip, "Dag")
    for enrolment in (waiting, unconfirmed):
        assert client.get(_address(enrolment)).status_code == 404


def test_a_night_of_another_trip_is_no_page(trip: Trip, ilse: Enrolment, client: Client) -> None:
    _published(trip)
    assert client.get(_address(ilse, evening=date(2027, 6, 9))).status_code == 404
    assert client.get(f"/b/{links.token_of(ilse)}/2027-02-30/").status_code == 404
    assert client.get(f"/b/no-such-token/{EVENING}/").status_code == 404


def test_before_it_is_published_the_page_says_when_it_is_decided(
    trip: Trip, ilse: Enrolment, client: Client
) -> None:
    night = the_night(trip)
    night.decision_at = night.meeting_at - timedelta(hours=4)
    night.save()
    page = _read(client, ilse)
    assert "not published yet" in page
    assert "decided on 5 June 2027 at 16:30" in page
    assert client.get(_address(ilse, "brief_file")).status_code == 404
    night.decision = TripNight.Decision.NO_GO
    night.save()
    assert "Do not set out" in _read(client, ilse)


def test_of_a_cancelled_trip_it_says_so_first(trip: Trip, ilse: Enrolment, client: Client) -> None:
    _published(trip)
    assert "Do not set out" not in _read(client, ilse).split("</h1>")[1].split("<section")[0]
    Trip.objects.update(status=Trip.Status.CANCELLED)
    assert "Do not set out" in _read(client, ilse).split("</h1>")[1].split("<section")[0]


def test_the_targets_are_named_once_what_can_hurt_is_said(
    trip: Trip, ilse: Enrolment, client: Client
) -> None:
    _published(trip)
    page = _read(client, ilse)
    places = [page.index(f'id="{part}"') for part in ("dangers", "first")]
    assert places[0] < page.index('class="glance names"') < places[1]


@pytest.mark.parametrize("name", ["brief_read", "brief_file"])
def test_it_is_html_without_a_mistake_whatever_somebody_wrote(
    name: str, trip: Trip, ilse: Enrolment, client: Client
) -> None:
    """Parsed by the rules of the HTML standard (html5lib), every mistake an error."""
    night = the_night(trip)
    BriefNote.objects.create(night=night, part="dangers", text=LONG[:20_000], is_instead=False)
    BriefNote.objects.create(night=night, part="way", text="ليلة <b>1</b>", is_instead=True)
    TripNight.objects.update(meeting_point="<i>القلعة</i>")
    _published(trip)
    page = _read(client, ilse, name)
    document = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page
    assert "From who leads" in page
    named = [one.get("id") for one in document.iter() if one.get("id")]
    assert len(named) == len(set(named))


def test_the_file_asks_for_nothing_else(trip: Trip, ilse: Enrolment, client: Client) -> None:
    _published(trip)
    answer = client.get(_address(ilse, "brief_file"))
    said = answer.headers["Content-Disposition"]
    assert said == 'attachment; filename="brief-2027-06-05-version-1.html"'
    page = answer.content.decode()
    assert not re.findall(r"<(?:link|script|img|iframe)\b", page)
    assert not re.findall(r"url\((?!#)|@import", page)
    assert set(re.findall(r'href="([a-z]+):', page)) <= {"tel", "geo"}


def test_the_worker_keeps_what_is_published_and_changes_with_each_version(
    trip: Trip, ilse: Enrolment, client: Client
) -> None:
    where = reverse("place_worker", args=[links.token_of(ilse)])
    assert _address(ilse) not in client.get(where).content.decode()
    _published(trip)
    first = client.get(where).content.decode()
    assert _address(ilse) in first
    assert _address(ilse, evening=NEXT_EVENING) not in first
    TripNight.objects.update(meeting_point="The mill")
    publish_now(trip)
    assert client.get(where).content.decode() != first


def test_a_persons_page_leads_to_each_night(trip: Trip, ilse: Enrolment, client: Client) -> None:
    _published(trip)
    page = client.get(reverse("place", args=[links.token_of(ilse)])).content.decode()
    briefs = page.split('id="briefs"')[1].split("</section>")[0]
    assert f'<a class="brief-link" href="{_address(ilse)}">' in briefs
    assert "version 1, " in briefs
    assert briefs.count("not published yet") == 1


def test_help_is_a_number_only_where_somebody_confirmed_one(
    trip: Trip, ilse: Enrolment, client: Client
) -> None:
    _published(trip)
    assert 'href="#help">Help</a>' in _read(client, ilse)
    site = the_night(trip).spot.site
    site.emergency_number = "112"
    site.save()
    publish_now(trip)
    assert 'href="#help">Help 112</a>' in _read(client, ilse)


def test_long_words_of_who_leads_are_folded_and_short_ones_stand_open(
    trip: Trip, ilse: Enrolment, client: Client
) -> None:
    night = the_night(trip)
    BriefNote.objects.create(night=night, part="dangers", text=LONG[:20_000], is_instead=False)
    BriefNote.objects.create(night=night, part="way", text="Take the second turn.")
    _published(trip)
    page = _read(client, ilse)
    assert page.count('<details class="written">') == 1
    assert page.count('<div class="written">') == 1
