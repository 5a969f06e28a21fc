"""The gear on a trip's board: who has what, what is short, who can lend; loans answered there."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test import Client, RequestFactory
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from tests.conftest import Cast
from tests.trips.test_services_gear import enrolled, in_kit
from tests.trips.test_views_my_gear import BEFORE, words
from trips.models import Loan
from trips.planning.gear import Lens, Support
from trips.services import gear, loans
from trips.views.board import board_of
from trips.views.trip_gear import gear_part


@pytest.fixture(autouse=True)
def _a_week_before(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(timezone, "now", lambda: BEFORE)


def board(cast: Cast, client: Client) -> str:
    return words(client.get(reverse("trip_detail", args=[cast.trip.pk])).content.decode())


def test_the_board_says_who_has_what_what_is_short_and_who_has_two(
    cast: Cast, coordinator: Client
) -> None:
    gear.add_piece(cast.enrolment, Lens(focal_mm=135, widest_f_number=2))
    other = enrolled(cast.trip, "Bruno", place=2)
    for name in ("Heavy", "Spare"):
        gear.add_piece(other, Support(name=name, leg_mm=28))
    in_kit(cast)
    told = board(cast, coordinator)
    assert "135 mm f/2" in told
    assert "Heavy, Spare" in told
    assert "brings a second one: Bruno" in told


def test_who_said_nothing_yet_is_not_called_short(cast: Cast, coordinator: Client) -> None:
    gear.add_piece(cast.enrolment, Lens(focal_mm=135, widest_f_number=2))
    enrolled(cast.trip, "Bruno", place=2)
    html = coordinator.get(reverse("trip_detail", args=[cast.trip.pk])).content.decode()
    silent, spoke = re.findall(r'data-label="Is short of">(.*?)</td>', html, re.DOTALL)
    assert "<details>" not in spoke
    assert words(silent).startswith("not said yet")


def test_a_loan_is_granted_or_refused_on_the_board_and_never_twice(
    cast: Cast, coordinator: Client
) -> None:
    item, ines = in_kit(cast), cast.enrolment
    other = enrolled(cast.trip, "Bruno", place=2)
    for one in (ines, other):
        loans.ask(item, one, [cast.trip_night])
    assert "Asks Mon 1 Mar: Tern" in board(cast, coordinator)
    first, second = Loan.objects.order_by("pk")
    coordinator.post(reverse("loan_grant", args=[first.pk]))
    answer = coordinator.post(reverse("loan_grant", args=[second.pk]), follow=True)
    assert f"Tern is lent to {ines.person.name}" in words(answer.content.decode())
    coordinator.post(reverse("loan_refuse", args=[second.pk]))
    assert list(Loan.objects.order_by("pk").values_list("is_granted", flat=True)) == [True, False]


def test_a_piece_is_lent_unasked_for_all_nights_on_which_it_is_free(
    cast: Cast, coordinator: Client
) -> None:
    item = in_kit(cast)
    coordinator.post(reverse("enrolment_lend", args=[cast.enrolment.pk]), {"item": item.pk})
    assert Loan.objects.filter(enrolment=cast.enrolment, is_granted=True).count() == 2


def test_the_board_asks_twice_however_many_come(cast: Cast, rf: RequestFactory) -> None:
    request = rf.get("/")
    request.user = cast.coordinator
    ines = cast.enrolment
    for number in range(2, 8):
        one = enrolled(cast.trip, f"P{number}", place=number)
        gear.add_piece(one, Lens(focal_mm=20.0 + number, widest_f_number=2))
    loans.lend(in_kit(cast), cast.trip_night, ines, by=cast.instructor, now=BEFORE)
    drawn = board_of(request, cast.trip)
    with CaptureQueriesContext(connection) as asked:
        rows = gear_part(drawn)["gear_rows"]
    assert len(asked) == 2
    assert len(rows) == 7


def test_the_table_to_take_away_guards_against_formulas(cast: Cast, coordinator: Client) -> None:
    enrolled(cast.trip, "=1+1", place=2)
    answer = coordinator.get(reverse("trip_gear_csv", args=[cast.trip.pk])).content.decode()
    assert "\n=1+1" not in answer
    assert "'=1+1" in answer


def test_any_piece_is_lent_for_one_evening_to_whoever_is_chosen_and_to_no_second(
    cast: Cast, coordinator: Client
) -> None:
    item, ines, night = in_kit(cast), cast.enrolment, cast.trip_night
    bruno = enrolled(cast.trip, "Bruno", place=2)
    assert "Lend any piece of the kit" in board(cast, coordinator)
    where = reverse("trip_lend", args=[cast.trip.pk])
    chosen = {"item": item.pk, "person": ines.pk, "night": night.pk}
    lent = coordinator.post(where, chosen, follow=True).content.decode()
    assert f"{item.name} is lent to {ines.person.name}." in words(lent)
    refused = coordinator.post(where, chosen | {"person": bruno.pk}, follow=True).content.decode()
    assert f"{item.name} is lent to {ines.person.name} on" in words(refused)
    for wrong in ({}, chosen | {"night": "9999"}, chosen | {"item": "x"}, chosen | {"person": "0"}):
        page = coordinator.post(where, wrong, follow=True).content.decode()
        assert "Choose a piece of the kit" in page
    assert [(loan.enrolment, loan.night) for loan in Loan.objects.all()] == [(ines, night)]
