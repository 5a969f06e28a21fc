"""Letters: one for a key, sent once when due, tried again when refused, dropped when untrue."""

from __future__ import annotations

import smtplib
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from unittest.mock import DEFAULT, Mock

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend

from tests.trips.joined import asked, joined, make_joinable, placed, post
from tests.trips.making import NOON, make_user
from trips.models import Letter, Trip
from trips.services import joining, letters, links
from trips.services.letter_kinds.post import ORDINARY, Kind
from trips.services.letter_words import LETTERS

pytestmark = pytest.mark.django_db

Server = Callable[[Exception | None], None]


@pytest.fixture
def trip() -> Trip:
    return make_joinable()


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Server:
    """Stands for a mail server that refuses what it is given, until told otherwise."""

    def answers(error: Exception | None) -> None:
        sends = Mock(side_effect=error) if error else EmailBackend.send_messages
        monkeypatch.setattr("tests.trips.test_services_letters.Refusing.send_messages", sends)

    monkeypatch.setattr(letters, "get_connection", Refusing)
    return answers


class Refusing(EmailBackend):
    pass


def letter() -> Letter:
    return Letter.objects.get()


def test_one_key_is_one_letter_and_is_sent_once(trip: Trip) -> None:
    enrolment = asked(trip)
    for _time in range(2):
        letters.queue("link", key="the same", trip=trip, enrolment=enrolment, due_at=NOON)
    assert Letter.objects.filter(key="the same").count() == 1
    assert post() == 2
    assert post() == 0
    assert len(mail.outbox) == 2


def test_a_letter_waits_for_its_hour(trip: Trip) -> None:
    asked(trip)
    assert post(NOON - timedelta(seconds=1)) == 0
    assert post(NOON) == 1


def test_a_letter_that_is_no_longer_true_is_dropped(trip: Trip) -> None:
    enrolment = joined(trip)
    Letter.objects.exclude(kind="hold_ends").delete()
    joining.give_back(enrolment, now=NOON)
    assert post(NOON + timedelta(days=3)) == 0
    assert (letter().state, mail.outbox) == (Letter.State.DROPPED, [])


def test_what_a_living_worker_has_in_hand_is_left_alone_and_a_dead_ones_is_not(
    trip: Trip,
) -> None:
    asked(trip)
    Letter.objects.update(state="sending", lease_expires_at=NOON + letters.LEASE)
    assert post(NOON + letters.LEASE) == 0
    assert post(NOON + letters.LEASE + timedelta(seconds=1)) == 1


def test_a_letter_sent_again_after_a_death_has_the_same_number(trip: Trip) -> None:
    asked(trip)
    post()
    Letter.objects.update(state="sending", lease_expires_at=NOON)
    post(NOON + timedelta(seconds=1))
    first, second = (str(sent.message()["Message-ID"]) for sent in mail.outbox)
    assert first == second


def test_a_refused_letter_waits_longer_each_time_and_is_given_up_at_last(
    trip: Trip, server: Server
) -> None:
    asked(trip)
    server(smtplib.SMTPRecipientsRefused({"ilse@meadow.example": (550, b"no such person")}))
    now, waits = NOON, []
    while letter().state == Letter.State.QUEUED:
        assert post(now) == 0
        waits.append(letter().due_at - now)
        now = letter().due_at
    assert (letter().state, letter().attempts) == (Letter.State.FAILED, len(ORDINARY.waits) + 1)
    assert tuple(waits[:-1]) == ORDINARY.waits
    assert "no such person" in letter().error


def test_a_letter_that_was_given_up_can_be_sent_all_the_same(trip: Trip, server: Server) -> None:
    asked(trip)
    Letter.objects.update(state="failed", attempts=7, error="refused")
    letters.try_again(letter(), now=NOON)
    server(None)
    assert post() == 1
    assert (letter().state, letter().error) == (Letter.State.SENT, "")


def test_one_refused_letter_keeps_no_other_back(trip: Trip, monkeypatch: Any) -> None:
    asked(trip, "A")
    asked(trip, "B")
    written = LETTERS["link"].write
    breaks_once = Mock(side_effect=[ValueError("broken"), DEFAULT], wraps=written)
    monkeypatch.setitem(LETTERS, "link", Kind(breaks_once))
    assert post() == 1
    assert [sent.to for sent in mail.outbox] == [["b@meadow.example"]]


def test_a_sweep_ends_after_a_minute_and_the_next_one_goes_on(trip: Trip) -> None:
    for number in range(5):
        asked(trip, f"N{number}")
    slow = Mock(side_effect=(NOON + timedelta(seconds=10 * word) for word in range(99)))
    first = letters.send_due(ORDINARY, clock=slow)
    assert 0 < first < 5
    assert first + post(NOON + timedelta(hours=1)) == 5


def test_a_log_of_a_refusal_names_nobody(
    trip: Trip, server: Server, caplog: pytest.LogCaptureFixture
) -> None:
    asked(trip)
    server(smtplib.SMTPRecipientsRefused({"ilse@meadow.example": (550, b"no")}))
    post()
    assert "was not sent: SMTPRecipientsRefused" in caplog.text
    assert "ilse" not in caplog.text


def test_no_row_holds_a_link_or_an_address(trip: Trip) -> None:
    enrolment = placed(trip)
    post()
    kept = str(list(Letter.objects.values()))
    assert links.token_of(enrolment) not in kept
    assert enrolment.person.mail not in kept


def test_an_unknown_kind_is_refused_when_it_is_asked_for(trip: Trip) -> None:
    with pytest.raises(KeyError):
        letters.queue("no such kind", key="k", trip=trip, due_at=NOON)


@pytest.mark.parametrize(
    ("deed", "subject", "said"),
    [
        ("ask", "Confirm that you want a place", "until then no place is held"),
        ("place", "You have a place", "Saturday, 5 June 2027, 20:30: The chapel"),
        ("take off", "You no longer have a place", "The organiser took you off"),
        ("lapse", "Your place is no longer held", "goes to the next one"),
        (
            "move up",
            "A place is free for you",
            "is held for you until Thursday, 4 March 2027, 13:00",
        ),
    ],
)
def test_each_letter_says_what_happened_and_carries_the_link(
    trip: Trip, deed: str, subject: str, said: str
) -> None:
    enrolment = asked(trip)
    if deed == "place":
        enrolment = placed(trip)
    elif deed == "take off":
        enrolment = joining.remove(joined(trip), by=make_user(), now=NOON)
    elif deed == "lapse":
        joined(trip)
        joining.sweep_places(now=NOON + timedelta(days=4))
    elif deed == "move up":
        gone = [joined(trip, name) for name in "AB"]
        joined(trip)
        joining.give_back(gone[0], now=NOON)
    post(NOON + timedelta(days=4))
    mine = [sent for sent in mail.outbox if sent.to == ["ilse@meadow.example"]]
    told = {str(sent.subject): str(sent.body) for sent in mine}
    assert f"{subject}: June on the hill" in told
    assert said in told[f"{subject}: June on the hill"]
    assert f"/b/{links.token_of(enrolment)}/" in told[f"{subject}: June on the hill"]


def test_a_cancelled_trip_says_do_not_set_out(trip: Trip) -> None:
    enrolment = placed(trip)
    Letter.objects.all().delete()
    letters.queue("trip_cancelled", key="c", trip=trip, enrolment=enrolment, due_at=NOON)
    letters.queue("trip_confirmed", key="d", trip=trip, enrolment=enrolment, due_at=NOON)
    Trip.objects.update(status=Trip.Status.CANCELLED)
    assert post() == 1
    assert "Do not set out." in str(mail.outbox[-1].body)
