"""Making a trip from a run, a night or by hand; editing it; what is typed wrongly."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, Cast, store_nights
from trips.models import Season, Spot, Trip, User
from trips.services.links import invitation_of

DAY = timedelta(days=1)
PLAN = {
    "first_night": "2027-03-01", "last_night": "2027-03-02", "meeting_point": "Chapel",
    "until": "02:00", "decision_clock": "16:00", "decision_place": "the club chat",
    "uid": "8a0c7d1e-3f56-4b5e-9d3c-2f6a0f6f1b11",
}  # fmt: skip
TRIP = {
    "name": "Two nights", "capacity": "6", "least_people": "2", "hold_hours": "72",
    "keep_days": "90", "call_out_margin_minutes": "60", "contact_after_minutes": "15",
    "rest_hours": "7", "late_drive_hours": "1", "late_drive_after": "01:00",
    "first_drive_hours": "4", "late_nights_running": "3", "sleeping_height_m": "2500",
    "people_per_leader": "6",
}  # fmt: skip


@pytest.fixture(autouse=True)
def early(monkeypatch: pytest.MonkeyPatch) -> None:
    """Look from before the nights; the page asks the clock and hands it on."""
    now = datetime(2027, 2, 1, 12, tzinfo=UTC)
    for module in ("trip_editing", "trip_steps", "trip_night_editing", "board"):
        monkeypatch.setattr(f"trips.views.{module}.timezone.now", lambda: now)


@pytest.fixture
def instructor(signed_in: Callable[[str], Client]) -> Client:
    return signed_in("instructor")


def typed(cast: Cast, **changed: str) -> dict[str, str]:
    return PLAN | TRIP | {"spot": f"{cast.spot.pk}", "season": f"{cast.season.pk}"} | changed


def add(cast: Cast) -> str:
    return reverse("trip_add", args=[cast.club.pk])


def errors(page: Any) -> list[str]:
    return [f"{one.label}: {one.words}" for one in page.context["mistakes"]]


def test_a_run_fills_the_form_in(cast: Cast, instructor: Client) -> None:
    other = Spot.objects.create(
        site=cast.site, name="Far Wall", order=1, latitude=40.4, longitude=-1.1
    )
    Season.objects.filter(pk=cast.season.pk).update(target_list=cast.target_list)
    asked: dict[str, Any] = {
        "season": cast.season.pk, "site": cast.site.pk, "spot": other.pk,
        "first": "2027-03-05", "last": "2027-03-07", "until": "03:00",
    }  # fmt: skip
    page = instructor.get(add(cast), asked)
    plan, form = page.context["plan"].initial, page.context["form"].initial
    assert (plan["spot"], plan["until"]) == (other, time(3))
    assert (plan["first_night"], plan["last_night"]) == (date(2027, 3, 5), date(2027, 3, 7))
    assert form["target_list"] == cast.target_list.pk
    assert form["name"] == "Broom Hill, 5–7 March 2027"


def test_each_run_and_each_night_ahead_lead_to_the_form(cast: Cast, instructor: Client) -> None:
    store_nights(cast.site)
    page = instructor.get(reverse("season_detail", args=[cast.season.pk])).content.decode()
    link = f"{add(cast)}?season={cast.season.pk}&amp;site={cast.site.pk}&amp;first=2027-03-"
    assert page.count(link) == page.count('<li id="run-') > 0
    night = instructor.get(reverse("night_detail", args=[cast.site.pk, FIRST])).content.decode()
    assert (
        f"{add(cast)}?season={cast.season.pk}&amp;site={cast.site.pk}&amp;first=2027-03-01" in night
    )


def test_a_night_that_is_over_does_not_lead_to_it(cast: Cast, instructor: Client) -> None:
    night = instructor.get(reverse("night_detail", args=[cast.site.pk, date(2026, 3, 1)]))
    assert add(cast) not in night.content.decode()


@pytest.mark.parametrize(
    "asked",
    [
        {"site": "far", "spot": "1"},
        {"season": "9" * 40, "site": "x", "first": "2027-02-30", "second": ["-1", "²"]},
        {"first": "0001-01-01", "last": "9999-12-31", "until": "99:99", "target_list": "'"},
    ],
)
def test_an_address_that_means_nothing_fills_nothing_in(
    cast: Cast, instructor: Client, asked: dict[str, Any]
) -> None:
    asked = {name: cast.far_site.pk if value == "far" else value for name, value in asked.items()}
    page = instructor.get(add(cast), asked)
    assert page.status_code == 200
    assert page.context["plan"].initial["spot"] is None


def test_a_trip_is_made_with_its_nights_on_the_clock_of_the_site(
    cast: Cast, instructor: Client
) -> None:
    page = instructor.post(add(cast), typed(cast, includes_beds="on"), follow=True)
    trip = Trip.objects.get()
    assert (trip.capacity, trip.least_people, trip.season) == (6, 2, cast.season)
    assert [one.user for one in trip.instructors.all()] == [cast.instructor]
    first, second = trip.nights.all()
    assert (second.date - first.date, first.meeting_point) == (DAY, "Chapel")
    assert first.ends_at == datetime(2027, 3, 2, 1, tzinfo=UTC)
    assert first.decision_at == datetime(2027, 3, 1, 15, tzinfo=UTC)
    assert "may be a package by law" in page.content.decode()


def test_evenings_outside_the_season_are_of_none(cast: Cast, instructor: Client) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=FIRST)
    instructor.post(add(cast), typed(cast))
    assert Trip.objects.get().season is None


def test_a_form_pressed_twice_makes_one_trip(cast: Cast, instructor: Client) -> None:
    for _ in range(2):
        page = instructor.post(add(cast), typed(cast))
    assert page.headers["Location"] == reverse("trip_detail", args=[Trip.objects.get().pk])


def test_another_clubs_number_of_a_form_is_taken_from_nobody(
    cast: Cast, instructor: Client
) -> None:
    """The number in the form comes from outside: it opens nothing and hides nothing."""
    Trip.objects.create(organisation=cast.elsewhere, name="Theirs", uid=PLAN["uid"],
                        invitation_hash="x")  # fmt: skip
    page = instructor.post(add(cast), typed(cast))
    mine = Trip.objects.get(organisation=cast.club)
    assert page.headers["Location"] == reverse("trip_detail", args=[mine.pk])


@pytest.mark.parametrize(
    ("field", "wrong", "words"),
    [
        ("first_night", "2027-02-30", "First evening: That is no date of the calendar"),
        ("first_night", "2027-01-31", "First evening: That evening is over"),
        ("first_night", "", "First evening: No date is written here"),
        ("last_night", "2027-02-28", "Last evening: That is before the first evening."),
        ("last_night", "2027-06-01", "Last evening: These are 93 nights; a trip has at most 31"),
        ("spot", "999999", "Spot: "),
        ("spot", "", "Spot: Nothing is chosen"),
        ("second_spot", "same", "Second spot: The second spot is the first one"),
        ("meeting_point", "", "Meeting point: Nothing is written here"),
        ("meeting_point", "x" * 301, "Meeting point: Write at most 300 characters"),
        ("until", "25:00", "Ends at: “25:00” is no hour of the day"),
        ("until", "17:30", ": On 1 March people meet at 17:55: the night cannot end at 17:30"),
        ("decision_clock", "teatime", "Whether you go is decided at: “teatime” is no hour"),
        ("decision_clock", "18:00", ": On 1 March people meet at 17:55: decide before that"),
        ("name", "", "Name: Without a name it cannot be found again"),
        ("capacity", "0", "Places: Too small: write 1 or more."),
        ("capacity", "-1", "Places: Too small: write 1 or more."),
        ("capacity", "501", "Places: Too large: write 500 or less."),
        ("capacity", "many", "Places: That is no whole number"),
        ("least_people", "7", "Least number to run: 7 people cannot come to 6 places"),
        ("decided_by", "2027-03-02", "Decided by: That is after the first night"),
        ("decided_by", "2027-01-31", "Decided by: That day is over"),
        ("give_back_until", "soon", "Place can be given back until: That is no date"),
        ("rest_hours", "a lot", "Least hours of rest: “a lot” is not a number"),
        ("rest_hours", "25", "Least hours of rest: 25 is out of range"),
        ("cabin_length_cm", "-3", "Longest piece in the cabin (cm): −3 is out of range"),
        ("contact_mail", "not a mail", "Their mail: No letter would arrive there"),
        ("included", "a\0b", "Included: There is a sign in it that cannot be kept"),
        ("included", "x" * 4001, "Included: Write at most 4000 characters"),
        ("keep_days", "731", "Personal data kept (days): Too large"),
    ],
)
def test_what_is_typed_wrongly_is_told_where_it_stands_and_nothing_is_saved(
    cast: Cast, instructor: Client, field: str, wrong: str, words: str
) -> None:
    values = {field: f"{cast.spot.pk}" if wrong == "same" else wrong}
    page = instructor.post(add(cast), typed(cast, **values))
    assert page.status_code == 200
    assert [one for one in errors(page) if one.startswith(words)], errors(page)
    assert not Trip.objects.exists()


def test_an_evening_that_cannot_be_computed_is_refused(cast: Cast, instructor: Client) -> None:
    page = instructor.post(add(cast), typed(cast, first_night="2060-03-01", last_night=""))
    assert "2050" in " ".join(errors(page))
    assert not Trip.objects.exists()


def test_names_in_any_script_and_html_are_text_on_the_board(cast: Cast, instructor: Client) -> None:
    name = "<script>alert(1)</script> رحلة 🌌 =1+1"
    page = instructor.post(add(cast), typed(cast, name=name), follow=True).content.decode()
    assert "&lt;script&gt;alert(1)&lt;/script&gt; رحلة 🌌 =1+1" in page
    assert "<script>alert(1)" not in page


def test_two_editors_of_a_trip_each_keep_what_they_changed(cast: Cast, instructor: Client) -> None:
    trip = cast.trip
    where = reverse("trip_edit", args=[trip.pk])
    form = instructor.get(where).context["form"]
    opened = {"version": f"{trip.version}", "opened": form.fields["opened"].initial}
    instructor.post(where, TRIP | opened | {"name": trip.name, "capacity": "9"})
    page = instructor.post(where, TRIP | opened | {"name": "Renamed", "capacity": "8"}, follow=True)
    trip.refresh_from_db()
    assert (trip.name, trip.capacity) == ("Renamed", 9)
    assert "taken over from there" in page.content.decode()


def test_what_both_changed_is_asked_and_not_overwritten(cast: Cast, instructor: Client) -> None:
    trip = cast.trip
    where = reverse("trip_edit", args=[trip.pk])
    form = instructor.get(where).context["form"]
    opened = {"version": f"{trip.version}", "opened": form.fields["opened"].initial}
    instructor.post(where, TRIP | opened | {"name": trip.name, "capacity": "9"})
    page = instructor.post(where, TRIP | opened | {"name": trip.name, "capacity": "12"})
    assert "stored now: 9" in " ".join(errors(page))
    trip.refresh_from_db()
    assert trip.capacity == 9
    assert json.loads(page.context["form"].data["opened"])["capacity"] == "9"


def test_a_member_who_does_not_lead_may_look_and_change_nothing(
    cast: Cast, coordinator: Client, signed_in: Callable[[str], Client]
) -> None:
    trip = cast.trip
    helper = User.objects.create_user("helper@meadow.example", "x")
    cast.club.memberships.create(user=helper, role="instructor")
    client = Client()
    client.force_login(helper, backend="django.contrib.auth.backends.ModelBackend")
    board = client.get(reverse("trip_detail", args=[trip.pk]))
    assert board.status_code == 200
    assert invitation_of(trip) not in board.content.decode()
    assert invitation_of(trip) in coordinator.get(
        reverse("trip_detail", args=[trip.pk])
    ).content.decode()  # fmt: skip
    for name, key in (("trip_edit", trip.pk), ("trip_step", trip.pk), ("trip_night_add", trip.pk),
                      ("trip_instructors", trip.pk), ("trip_night_edit", cast.trip_night.pk),
                      ("trip_night_remove", cast.trip_night.pk)):  # fmt: skip
        assert client.get(reverse(name, args=[key])).status_code == 403, name
    for name in ("trip_step", "trip_invitation", "trip_instructors"):
        assert client.post(reverse(name, args=[trip.pk]), {"to": "cancelled"}).status_code == 403
    trip.refresh_from_db()
    assert trip.status == "draft"
