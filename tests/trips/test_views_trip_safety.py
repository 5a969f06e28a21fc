"""Pages that keep a trip safe: decided, closed, driven, written down; wrong things typed."""

from __future__ import annotations

import html
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.conftest import Cast
from trips.models import Car, Drive, Site, SiteMonth, Tick, Trip, TripInstructor, TripNight

NASTY = "<script>alert(1)</script> =HYPERLINK(1) مرحبا 🌌"


def past(cast: Cast) -> TripNight:
    """The trip's first night, over for three hours by the real clock."""
    now = timezone.now()
    night = cast.trip_night
    night.meeting_at, night.ends_at = now - timedelta(hours=9), now - timedelta(hours=3)
    night.save()
    return night


def test_a_club_s_night_is_closed_and_opened_again(cast: Cast, coordinator: Client) -> None:
    night = past(cast)
    coordinator.post(reverse("trip_night_close", args=[night.pk]))
    assert TripNight.objects.get(pk=night.pk).closed_by == "coordinator@meadow.example"
    coordinator.post(reverse("trip_night_reopen", args=[night.pk]))
    assert TripNight.objects.get(pk=night.pk).closed_at is None


@pytest.mark.parametrize("deed", ["close", "reopen", "decide", "log"])
def test_a_member_who_does_not_lead_is_told_who_may(
    cast: Cast, signed_in: Callable[[str], Client], deed: str
) -> None:
    night = past(cast)
    answer = signed_in("colleague").post(reverse(f"trip_night_{deed}", args=[night.pk]))
    assert answer.status_code == 403
    said = html.unescape(answer.content.decode())
    assert "(instructor@meadow.example) or coordinate Meadow Night Club " in said
    assert "(coordinator@meadow.example) may do this: ask one of them." in said


def test_an_overdue_night_is_told_to_all_members_and_closed_by_those_who_may(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    night = past(cast)
    call_out = {"decision": "go", "call_out_at": night.ends_at}
    TripNight.objects.filter(pk=night.pk).update(**call_out)
    pages = [reverse("trip_detail", args=[cast.trip.pk]),
             reverse("trip_night_safety", args=[night.pk])]  # fmt: skip
    close = reverse("trip_night_close", args=[night.pk])
    for page in pages:
        seen = signed_in("colleague").get(page).content.decode()
        assert "verdue since" in seen
        assert "(coordinator@meadow.example) may do this" in seen
        assert close not in seen
        assert close in signed_in("coordinator").get(page).content.decode()
    signed_in("coordinator").post(close)
    assert TripNight.objects.get(pk=night.pk).closed_at is not None


def test_the_months_of_a_site_are_any_member_s_as_the_site_is(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    address = reverse("site_months", args=[cast.site.pk])
    signed_in("colleague").post(address, {"low_c_2": "-4"})
    assert SiteMonth.objects.get().low_c == -4.0


def test_whoever_closes_is_told_who_was_never_counted_and_cannot_before_people_meet(
    cast: Cast, coordinator: Client
) -> None:
    ahead = reverse("trip_night_close", args=[cast.trip_night.pk])
    TripNight.objects.filter(pk=cast.trip_night.pk).update(
        meeting_at=timezone.now() + timedelta(hours=1), ends_at=timezone.now() + timedelta(hours=2)
    )
    page = coordinator.get(ahead).content.decode()
    assert "This night has not begun" in page
    assert "close the night</button>" not in page
    past(cast)
    page = coordinator.get(ahead).content.decode()
    assert "never counted" in page
    assert "close the night</button>" in page


def test_an_open_tick_is_named_before_the_night_is_closed(cast: Cast, coordinator: Client) -> None:
    night = past(cast)
    Tick.objects.create(
        client_uid=cast.enrolment.uid, night=night, enrolment=cast.enrolment, kind="here",
        instructor=cast.trip_instructor, at=night.meeting_at, received_at=night.meeting_at,
    )  # fmt: skip
    address = reverse("trip_night_close", args=[night.pk])
    page = coordinator.post(address, follow=True).content.decode()
    assert "Ines Calder" in page
    assert TripNight.objects.get(pk=night.pk).closed_at is None
    coordinator.post(address, {"all_the_same": "1"})
    assert TripNight.objects.get(pk=night.pk).closed_at is not None


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("clear_hours", "lots", "is not a number"),
        ("clear_hours", "25", "out of range"),
        ("oktas", "9", "0 to 8"),
        ("came", "-1", "0"),
        ("log_note", "x" * 10_001, "10000"),
    ],
)
def test_a_log_refuses_what_cannot_be(
    cast: Cast, coordinator: Client, field: str, typed: str, said: str
) -> None:
    night = past(cast)
    address = reverse("trip_night_log", args=[night.pk])
    page = coordinator.post(address, {field: typed}).content.decode()
    assert said in page
    assert TripNight.objects.get(pk=night.pk).logged_at is None


def test_a_log_stands_on_the_night_and_on_the_site_as_text(cast: Cast, coordinator: Client) -> None:
    night = past(cast)
    typed = {"oktas": "2", "clear_hours": "3,5", "came": "4", "log_note": NASTY}
    coordinator.post(reverse("trip_night_log", args=[night.pk]), typed)
    for name, key in (("trip_night_safety", night.pk), ("site_detail", cast.site.pk)):
        page = coordinator.get(reverse(name, args=[key])).content.decode()
        assert "&lt;script&gt;alert(1)" in page
        assert "<script>alert(1)" not in page


def test_cars_and_drivers_are_saved_and_nobody_drives_two(cast: Cast, coordinator: Client) -> None:
    for name in ("Green van", NASTY):
        Car.objects.create(trip=cast.trip, name=name)
    wheels = [f"wheel-{cast.trip_night.pk}-{car.pk}" for car in Car.objects.all()]
    key, address = f"i{cast.trip_instructor.pk}", reverse("trip_drivers", args=[cast.trip.pk])
    page = coordinator.post(address, dict.fromkeys(wheels, key)).content.decode()
    assert "cannot drive two cars" in page
    assert not Drive.objects.exists()
    coordinator.post(address, {wheels[0]: key})
    assert Drive.objects.count() == 1
    assert "no longer on the trip" in coordinator.post(address, {wheels[0]: "e9"}).content.decode()


def test_two_cars_of_one_name_are_refused_and_two_of_one_kind_are_not(
    cast: Cast, coordinator: Client
) -> None:
    address = reverse("trip_cars", args=[cast.trip.pk])
    rows = {"cars-TOTAL_FORMS": "3", "cars-INITIAL_FORMS": "0",
            "cars-0-name": "Grey van 1", "cars-0-seats": "8", "cars-1-seats": "8",
            "cars-2-name": "", "cars-2-seats": "5"}  # fmt: skip
    page = coordinator.post(address, rows | {"cars-1-name": "grey van 1"}).content.decode()
    assert "“Grey van 1” stands here twice" in page
    assert not Car.objects.exists()
    coordinator.post(address, rows | {"cars-1-name": "Grey van 2"})
    assert Car.objects.count() == 2


def test_months_are_saved_in_part_and_a_row_wants_its_low(cast: Cast, coordinator: Client) -> None:
    address = reverse("site_months", args=[cast.site.pk])
    page = coordinator.post(address, {"humidity_percent_2": "80"}).content.decode()
    assert "usual low of February" in page
    coordinator.post(address, {"low_c_2": "−4", "humidity_percent_2": "80", "source": NASTY})
    assert [one.low_c for one in SiteMonth.objects.all()] == [-4.0]


def test_a_night_is_decided_and_a_spot_that_is_not_there_is_not(
    cast: Cast, coordinator: Client
) -> None:
    address = reverse("trip_night_decide", args=[cast.trip_night.pk])
    for wrong in ("second", "perhaps"):
        coordinator.post(address, {"decision": wrong})
        assert cast.trip_night.decision == ""
    coordinator.post(address, {"decision": "go"})
    assert cast.trip_night.decision == "go"
    assert Trip.objects.get().status == "draft"


def test_a_coast_night_goes_nowhere_before_its_tides_are_read_and_may_be_called_off(
    cast: Cast, coordinator: Client
) -> None:
    Site.objects.filter(pk=cast.trip_night.spot.site_id).update(on_coast=True)
    address = reverse("trip_night_decide", args=[cast.trip_night.pk])
    refused = coordinator.post(address, {"decision": "go"}, follow=True)
    assert "is on a coast and lacks: high water" in refused.content.decode()
    assert cast.trip_night.decision == ""
    coordinator.post(address, {"decision": "no_go"})
    assert cast.trip_night.decision == "no_go"


def test_the_board_says_spring_tides_on_a_coast_and_not_inland(
    cast: Cast, coordinator: Client
) -> None:
    night, board = cast.trip_night, reverse("trip_detail", args=[cast.trip.pk])
    night.date = date(2027, 3, 9)  # a day after new Moon
    night.meeting_at += timedelta(days=8)
    night.ends_at += timedelta(days=8)
    night.save()
    assert "Spring tides" not in coordinator.get(board).content.decode()
    Site.objects.filter(pk=night.spot.site_id).update(on_coast=True)
    assert "Spring tides: new Moon is on 8 March" in coordinator.get(board).content.decode()


def test_the_board_says_which_leader_the_contact_could_not_call(
    cast: Cast, coordinator: Client
) -> None:
    board = reverse("trip_detail", args=[cast.trip.pk])
    assert cast.trip_instructor.phone == ""
    assert "No phone is written down of" in coordinator.get(board).content.decode()
    TripInstructor.objects.update(phone="+34 600 000 001")
    assert "No phone is written down of" not in coordinator.get(board).content.decode()
