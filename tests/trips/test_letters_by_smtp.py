"""Letters over the wire: what a mail server refuses or never answers, and what a header holds."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from email import message_from_bytes, policy

import pytest
from pytest_django import Settings

from tests.trips.joined import asked, make_joinable, post
from tests.trips.mail_server import MailServer, mail_server
from tests.trips.making import NOON
from trips.models import Letter, Site, Trip
from trips.services import letters
from trips.services.closing import sweep_call_outs
from trips.services.letter_kinds.post import URGENT
from trips.services.letter_kinds.written import named

pytestmark = pytest.mark.django_db

MINUTE = timedelta(minutes=1)
EVIL = "Hill\r\nBcc: all@evil.example\r\n\r\n<b>x</b> 🌌 تل \u202eابجد =1+1"
HEADERS = {
    "Content-Type", "Content-Transfer-Encoding", "MIME-Version", "Subject", "From", "To", "Date",
    "Message-ID", "Auto-Submitted",
}  # fmt: skip


@pytest.fixture
def server(settings: Settings) -> Iterator[MailServer]:
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST = "127.0.0.1"
    settings.EMAIL_TIMEOUT = 0.3
    with mail_server() as running:
        settings.EMAIL_PORT = running.port
        yield running


def waiting() -> Letter:
    return Letter.objects.get(state=Letter.State.QUEUED)


def test_one_refused_reader_keeps_no_other_one_waiting(server: MailServer) -> None:
    trip = make_joinable()
    for name in ("Ana", "Bo", "Cleo"):
        asked(trip, name)
    server.refused = ("bo@",)
    assert post() == 2
    assert server.readers() == ["ana@meadow.example", "cleo@meadow.example"]
    assert "nobody of that name" in waiting().error


def test_a_server_that_falls_silent_is_left_and_asked_again(server: MailServer) -> None:
    trip = make_joinable()
    for name in ("Ana", "Bo"):
        asked(trip, name)
    server.silent = ("ana@",)
    assert post() == 1
    assert (server.hanging, server.readers()) == (["ana@meadow.example"], ["bo@meadow.example"])
    assert (waiting().attempts, waiting().due_at, waiting().lease_owner) == (1, NOON + MINUTE, None)
    server.silent = ()
    assert post(NOON + MINUTE) == 1
    assert server.readers()[1:] == ["ana@meadow.example"]


def test_what_stands_in_names_stays_out_of_the_headers(server: MailServer) -> None:
    trip = make_joinable(
        status=Trip.Status.CONFIRMED, contact_name=EVIL, contact_mail="runa@holt.example"
    )
    Site.objects.update(name=EVIL)
    overdue = trip.nights.earliest("date").call_out_at
    sweep_call_outs(now=overdue)
    assert letters.send_due(URGENT, clock=lambda: overdue + 15 * MINUTE) == 1
    assert server.readers() == ["runa@holt.example"]
    letter = message_from_bytes(server.taken[0].text, policy=policy.default)
    assert set(letter.keys()) == HEADERS
    assert letter["To"] == "runa@holt.example"
    assert "Overdue: the night at \u2068Hill Bcc: all@evil.example" in letter["Subject"]
    # The name ends before the date, and so does what it turns round.
    assert "🌌 تل ابجد =1+1\u2069, Saturday 5 June 2027" in letter["Subject"]


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("Ana\r\nBo  🌌", "Ana Bo 🌌"),
        ("شيماء", "\u2068شيماء\u2069"),  # or a phone number after it is read backwards
        ("\u202e\u2069Ana", "Ana"),
    ],
)
def test_a_name_turns_nothing_round_that_stands_after_it(typed: str, told: str) -> None:
    assert named(typed) == told
