"""Turns on a trip's board: shared out by a form, changed by buttons, read by members."""

from __future__ import annotations

import re

from django.test import Client
from django.urls import reverse

from tests.conftest import WHEN, Cast
from trips.models import Rota

HOURS = ("starts_at", "ends_at")


def _typed(**other: str) -> dict[str, str]:
    return {
        "what": "The tracker",
        "starts_at": "23:00",
        "ends_at": "00:30",
        "stations": "1",
    } | other


def test_turns_typed_on_the_clock_of_the_site_stand_on_the_board(
    cast: Cast, coordinator: Client
) -> None:
    assert cast.enrolment.place
    answer = coordinator.post(reverse("rota_add", args=[cast.trip_night.pk]), _typed())
    assert answer.status_code == 302
    board = coordinator.get(reverse("trip_detail", args=[cast.trip.pk])).content.decode()
    assert "23:00–00:30" in board
    assert "90 minutes each" in board


def test_turns_that_end_before_they_begin_are_refused_and_kept_in_the_form(
    cast: Cast, coordinator: Client
) -> None:
    where = reverse("rota_add", args=[cast.trip_night.pk])
    page = coordinator.post(where, _typed(ends_at="22:00")).content.decode()
    assert "put the end after the start" in page
    assert 'value="22:00"' in page
    assert not Rota.objects.exists()


def test_turns_outside_the_night_are_refused_and_those_of_the_whole_night_are_not(
    cast: Cast, coordinator: Client
) -> None:
    assert cast.enrolment.place
    where = reverse("rota_add", args=[cast.trip_night.pk])
    form = coordinator.get(where).content.decode()
    starts, ends = (re.search(f'name="{name}" value="([0-9:]+)"', form) for name in HOURS)
    assert starts
    assert ends
    late = coordinator.post(where, _typed(starts_at="05:00", ends_at="06:00")).content.decode()
    assert f"The night is from {starts[1]} to {ends[1]}: put the turns into it." in late
    assert not Rota.objects.exists()
    coordinator.post(where, _typed(starts_at=starts[1], ends_at=ends[1]))
    assert Rota.objects.exists()


def test_nothing_at_all_is_refused_field_by_field(cast: Cast, coordinator: Client) -> None:
    where = reverse("rota_add", args=[cast.trip_night.pk])
    for typed in ({}, _typed(starts_at="late"), _typed(stations="0"), _typed(what="x" * 200)):
        assert 'role="alert"' in coordinator.post(where, typed).content.decode()
        assert not Rota.objects.exists()


def test_turns_are_put_away(cast: Cast, coordinator: Client) -> None:
    where = reverse("rota_change", args=[cast.rota.pk])
    assert coordinator.post(where, {"remove": "1"}).status_code == 302
    assert not Rota.objects.exists()


def test_a_slot_of_somebody_who_no_longer_comes_is_said(cast: Cast, coordinator: Client) -> None:
    rota = cast.rota
    cast.trip.enrolments.update(state="given_back", place=None, ended_at=WHEN)
    board = coordinator.get(reverse("trip_detail", args=[cast.trip.pk])).content.decode()
    assert rota.what in board
    assert "no longer comes" in board


def test_exchanging_without_choosing_anybody_is_refused(cast: Cast, coordinator: Client) -> None:
    where = reverse("rota_change", args=[cast.rota.pk])
    answer = coordinator.post(where, {"exchange": "1", "first": "<b>", "second": ""}, follow=True)
    assert "Choose the two people" in answer.content.decode()
