"""A board says of an overdue night when its letters do not go, and nothing when they do."""

from __future__ import annotations

import smtplib
from collections.abc import Callable
from datetime import datetime, timedelta
from unittest.mock import Mock

import pytest
from django.core.mail.backends.locmem import EmailBackend
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.conftest import Cast
from tests.trips.making import NOON
from trips.models import Trip, TripNight
from trips.services import letters
from trips.services.call_outs_told import SOON, letters_in_trouble
from trips.services.closing import sweep_call_outs
from trips.services.letter_kinds.post import URGENT

QUARTER = timedelta(minutes=15)


@pytest.fixture
def night(cast: Cast) -> TripNight:
    facts = {"status": Trip.Status.RUNNING, "contact_mail": "runa@holt.example"}
    Trip.objects.filter(pk=cast.trip.pk).update(**facts)
    return cast.trip_night


def pass_by(now: datetime) -> None:
    sweep_call_outs(now=now)
    letters.send_due(URGENT, clock=lambda: now)


def told(night: TripNight, now: datetime) -> str:
    return letters_in_trouble([night], now=now).get(night.pk, "")


def test_nothing_is_said_while_letters_go_and_the_contact_s_waits(night: TripNight) -> None:
    pass_by(night.call_out_at)
    assert told(night, night.call_out_at + SOON) == ""


def test_a_worker_that_does_not_run_is_noticed_after_two_minutes(night: TripNight) -> None:
    assert told(night, night.call_out_at + SOON - timedelta(seconds=1)) == ""
    assert "No letter has gone out" in told(night, night.call_out_at + SOON)


def test_the_board_and_the_night_say_so(
    night: TripNight, signed_in: Callable[[str], Client]
) -> None:
    long_ago = timezone.now() - timedelta(hours=1)
    TripNight.objects.filter(pk=night.pk).update(call_out_at=long_ago)
    pages = (("trip_detail", night.trip_id), ("trip_night_safety", night.pk))
    for name, key in pages:
        page = signed_in("colleague").get(reverse(name, args=[key])).content.decode()
        assert "No letter has gone out" in page
    pass_by(timezone.now())
    for name, key in pages:
        page = signed_in("colleague").get(reverse(name, args=[key])).content.decode()
        assert "No letter has gone out" not in page


def test_a_letter_that_is_refused_is_told_of_though_another_one_went(
    night: TripNight, monkeypatch: pytest.MonkeyPatch
) -> None:
    pass_by(night.call_out_at)
    refuses = Mock(side_effect=smtplib.SMTPServerDisconnected("gone"))
    monkeypatch.setattr(EmailBackend, "send_messages", refuses)
    pass_by(night.call_out_at + QUARTER)
    assert "1 letter did not go out" in told(night, night.call_out_at + QUARTER)


def test_where_no_night_is_overdue_nothing_is_read() -> None:
    assert letters_in_trouble([], now=NOON) == {}
