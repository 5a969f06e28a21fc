"""The brief of a night in its instructor's hand."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse

from tests.trips.briefed import make_briefed, the_night
from tests.trips.joined import placed
from tests.trips.qr_read import qr_read
from trips.models import Brief, BriefNote, Membership, Site, Spot, Trip, TripNight
from trips.services.links import token_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def night() -> TripNight:
    return the_night(make_briefed())


@pytest.fixture
def led(night: TripNight) -> Client:
    user = night.trip.instructors.get().user
    Membership.objects.create(
        organisation=night.trip.organisation, user=user, role=Membership.Role.INSTRUCTOR
    )
    client = Client()
    client.force_login(user)
    return client


def at(night: TripNight, what: str = "", **more: Any) -> str:
    return reverse(f"trip_night_brief{what}", kwargs={"night_id": night.pk, **more})


def write(led: Client, night: TripNight, part: str, **typed: Any) -> Any:
    return led.post(at(night, "_part", part=part), {"version": 0, **typed})


def test_what_is_written_stands_beside_what_is_computed_as_text(
    led: Client, night: TripNight
) -> None:
    write(led, night, "focus", text="<script>1</script> ⭐ שלום")
    page = led.get(at(night)).content.decode()
    assert "&lt;script&gt;1&lt;/script&gt; ⭐ שלום" in page
    assert "<script>1" not in page


def test_empty_words_take_a_note_away(led: Client, night: TripNight) -> None:
    write(led, night, "focus", text="Bring a loupe.")
    write(led, night, "focus", text="  ", version=1)
    assert not BriefNote.objects.exists()


def test_the_second_of_two_editors_is_told_and_loses_nothing(led: Client, night: TripNight) -> None:
    write(led, night, "focus", text="first")
    answer = write(led, night, "focus", text="second")
    assert answer.status_code == 422
    assert "second</textarea>" in answer.content.decode()
    assert BriefNote.objects.get().text == "first"


@pytest.mark.parametrize("part", ["help", "rules", "dangers", "cautions"])
def test_what_keeps_people_safe_is_added_to_and_never_replaced(
    led: Client, night: TripNight, part: str
) -> None:
    assert write(led, night, part, text="mine", is_instead="on").status_code == 422
    assert write(led, night, part, text="mine").status_code == 302
    assert BriefNote.objects.get().is_instead is False


def test_a_part_holds_20_000_characters_and_not_one_more(led: Client, night: TripNight) -> None:
    assert write(led, night, "focus", text="a" * 20_001).status_code == 422
    assert write(led, night, "focus", text="a" * 20_000).status_code == 302


def test_an_unknown_part_is_no_page(led: Client, night: TripNight) -> None:
    assert write(led, night, "weather", text="a").status_code == 404


def test_a_double_tap_publishes_once_and_mails_only_when_told(
    led: Client, night: TripNight
) -> None:
    for _ in range(2):
        led.post(at(night, "_publish"), {"expects": "1"})
    brief = Brief.objects.get()
    assert not brief.is_mailed
    assert led.get(at(night, "_version", number=1)).status_code == 200


def test_the_page_says_what_a_new_version_would_say_otherwise(
    led: Client, night: TripNight
) -> None:
    led.post(at(night, "_publish"), {"expects": "1"})
    assert "Nothing: version 1 says all of it." in led.get(at(night)).content.decode()
    TripNight.objects.filter(pk=night.pk).update(meeting_point="The mill")
    page = led.get(at(night)).content.decode()
    assert "Nothing: version 1" not in page
    assert "Meet: The mill, before: The chapel." in page


def test_a_cancelled_trip_publishes_nothing_and_says_so(led: Client, night: TripNight) -> None:
    Trip.objects.update(status=Trip.Status.CANCELLED)
    answer = led.post(at(night, "_publish"), {"expects": "1"}, follow=True)
    assert "This trip is cancelled" in answer.content.decode()
    assert not Brief.objects.exists()


def test_the_board_says_which_version_people_read_or_that_there_is_none(
    led: Client, night: TripNight
) -> None:
    board = reverse("trip_detail", args=[night.trip_id])
    assert "brief: not published" in led.get(board).content.decode()
    led.post(at(night, "_publish"), {"expects": "1"})
    assert "brief: version 1" in led.get(board).content.decode()


def test_the_invitation_is_a_square_for_phones_on_the_board_and_a_place_is_on_its_own_page(
    led: Client, night: TripNight
) -> None:
    mine = reverse("place", args=[token_of(placed(night.trip))])
    page = Client().get(mine).content.decode()
    assert qr_read(page) == f"{settings.FIELDNIGHTS_ADDRESS}{mine}"
    board = led.get(reverse("trip_detail", args=[night.trip_id])).content.decode()
    invitation = qr_read(board)
    assert Client().get(urlsplit(invitation).path).status_code == 200
    assert "/j/" in invitation


def test_a_polar_day_is_a_brief_without_targets_and_no_broken_page(
    led: Client, night: TripNight
) -> None:
    Site.objects.update(latitude=69.7, longitude=18.9, zone="Europe/Oslo")
    Spot.objects.update(latitude=69.7, longitude=18.9)
    assert "No dark" in led.get(at(night)).content.decode()
