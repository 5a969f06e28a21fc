"""Mail of a brief and of the decision: what it says and carries, when it is told and when not."""

from __future__ import annotations

import re
from datetime import timedelta
from email.message import EmailMessage
from email.parser import BytesParser
from email.policy import default
from typing import Any

import html5lib
import pytest
from django.core import mail
from django.core.mail.backends.base import BaseEmailBackend

from tests.trips.briefed import CAMERA, bring, make_briefed, make_plans, publish_now, the_night
from tests.trips.joined import MEETING, joined, placed, post
from tests.trips.making import NOON
from trips.models import BriefPicture, Enrolment, Letter, Spot, Trip, TripNight, User
from trips.services import joining, letters, links
from trips.services.go_no_go import decide
from trips.services.letter_kinds.post import NEWS
from trips.services.letters import LEASE

pytestmark = pytest.mark.django_db

MOST_BYTES = 300_000
HOUR = timedelta(hours=1)


@pytest.fixture
def trip() -> Trip:
    return make_briefed(capacity=4)


@pytest.fixture
def ilse(trip: Trip) -> Enrolment:
    enrolment = placed(trip)
    bring(enrolment, "camera", **CAMERA)
    bring(enrolment, "lens", focal_mm=24.0, widest_f_number=1.8)
    Letter.objects.all().delete()
    return enrolment


def published(trip: Trip) -> None:
    publish_now(trip, is_mailed=True)
    make_plans()


def parsed(sent: Any) -> EmailMessage:
    """Read a mail as a mail program does."""
    read = BytesParser(policy=default).parsebytes(sent.message().as_bytes())
    assert isinstance(read, EmailMessage)
    return read


def body(sent: EmailMessage, kind: str) -> str:
    part: Any = sent.get_body(preferencelist=(kind,))
    return str(part.get_content())


def leader() -> User:
    found: User = User.objects.get(email="leader@meadow.example")
    return found


def decided(trip: Trip, decision: str) -> None:
    decide(the_night(trip), decision, by=leader(), now=NOON)


def news() -> int:
    return letters.send_due(NEWS, clock=lambda: NOON)


def test_a_version_is_mailed_as_text_and_html_with_the_readers_own_and_the_link(
    trip: Trip, ilse: Enrolment
) -> None:
    published(trip)
    assert post() == 1
    sent = parsed(mail.outbox[0])
    address = f"/b/{links.token_of(ilse)}/2027-06-05/"
    assert sent["Subject"] == "Your brief for Saturday, 5 June: June on the hill"
    for kind in ("plain", "html"):
        said = body(sent, kind)
        assert address in said
        assert "The chapel" in said
        assert "your 24 mm f/1.8" in said.replace("\N{NO-BREAK SPACE}", " ")
        assert "do not set out" in said


def test_the_html_of_a_mail_shows_every_picture_it_carries_and_no_other(
    trip: Trip, ilse: Enrolment
) -> None:
    published(trip)
    post()
    sent = parsed(mail.outbox[0])
    assert sent.get_content_type() == "multipart/related"
    said = body(sent, "html")
    shown = set(re.findall(r'src="cid:([^"]+)"', said))
    carried = {str(one["Content-ID"]).strip("<>"): one for one in _images(sent)}
    assert {"night", "target-1", "sky-1"} == shown == set(carried)
    assert all(
        bytes(one.get_payload(decode=True)).startswith(b"\x89PNG") for one in carried.values()
    )
    assert "<svg" not in said
    assert "<script" not in said
    assert not re.search(r'alt=""', said)
    html5lib.HTMLParser(strict=True).parse(said)


def _images(sent: EmailMessage) -> list[Any]:
    return [one for one in sent.walk() if one.get_content_maintype() == "image"]


def test_a_mail_is_small(trip: Trip, ilse: Enrolment) -> None:
    for n, target in enumerate(("milky-way:arch", "deep-sky:NGC7000")):
        assert trip.target_list is not None
        trip.target_list.entries.create(
            target=target, name=f"Also {n}", weight=0.5, light="moonless"
        )
    published(trip)
    post()
    assert len(mail.outbox[0].message().as_bytes()) < MOST_BYTES


def test_pictures_are_painted_once_a_version_and_only_for_mail(trip: Trip, ilse: Enrolment) -> None:
    publish_now(trip)
    make_plans()
    assert not BriefPicture.objects.exists()
    TripNight.objects.update(meeting_point="The mill")
    published(trip)
    painted = set(BriefPicture.objects.values_list("pk", flat=True))
    placed(trip, "Ana")
    make_plans()
    assert set(BriefPicture.objects.values_list("pk", flat=True)) == painted != set()


def test_a_later_version_says_what_is_other_and_the_older_letter_is_dropped(
    trip: Trip, ilse: Enrolment
) -> None:
    published(trip)
    TripNight.objects.update(meeting_point="The mill")
    published(trip)
    assert post() == 1
    sent = parsed(mail.outbox[0])
    assert "version 2" in sent["Subject"]
    assert "- Meet: The mill. Before: The chapel." in body(sent, "plain")
    assert "Meet: The mill. Before: The chapel." in body(sent, "html")


def test_a_letter_that_waits_tells_a_newer_version_that_was_not_to_be_mailed(
    trip: Trip, ilse: Enrolment
) -> None:
    published(trip)
    TripNight.objects.update(meeting_point="The mill")
    publish_now(trip)
    assert post() == 1
    assert "The mill. Before: The chapel" in body(parsed(mail.outbox[0]), "plain")


@pytest.mark.parametrize("why", ["given back", "cancelled", "over"])
def test_no_brief_is_mailed_to_who_does_not_come(trip: Trip, ilse: Enrolment, why: str) -> None:
    published(trip)
    if why == "given back":
        joining.give_back(ilse, now=NOON)
    if why == "cancelled":
        Trip.objects.update(status="cancelled")
    assert post(NOON if why != "over" else MEETING + 9 * HOUR) == 0
    assert mail.outbox == []


def test_a_refused_brief_waits_is_shown_and_nobody_gets_it_twice(
    trip: Trip, ilse: Enrolment, monkeypatch: pytest.MonkeyPatch
) -> None:
    placed(trip, "Ana")
    Letter.objects.exclude(kind="brief").delete()
    published(trip)

    class Refusing(BaseEmailBackend):
        def send_messages(self, messages: Any) -> int:
            if messages[0].to == ["ilse@meadow.example"]:
                raise OSError("no room")
            mail.outbox.extend(messages)
            return 1

    with monkeypatch.context() as patched:
        patched.setattr(letters, "get_connection", Refusing)
        assert post() == 1
    waiting = Letter.objects.get(enrolment=ilse, kind="brief")
    assert (waiting.state, waiting.attempts) == (Letter.State.QUEUED, 1)
    assert "no room" in waiting.error
    assert post(waiting.due_at + LEASE) == 1
    assert sorted(sent.to[0] for sent in mail.outbox) == [
        "ana@meadow.example",
        "ilse@meadow.example",
    ]


def test_a_decision_is_mailed_at_once_to_who_comes_and_a_second_tap_tells_nobody_again(
    trip: Trip, ilse: Enrolment
) -> None:
    held = joined(trip, "Ana")
    Trip.objects.update(capacity=2)
    joined(trip, "Waiting")
    Letter.objects.all().delete()
    decided(trip, "go")
    decided(trip, "go")
    assert news() == 2
    assert sorted(sent.to[0] for sent in mail.outbox) == [
        held.person.mail, ilse.person.mail,
    ]  # fmt: skip
    text = str(mail.outbox[0].body)
    assert "We go. Meet at 20:30: The chapel" in text
    assert "Nadia calls you before" in text
    assert "If you hear nothing, come." in text
    assert "do not set out" not in text


def test_the_second_spot_is_said_with_the_way_there(trip: Trip, ilse: Enrolment) -> None:
    night = the_night(trip)
    night.second_spot = Spot.objects.create(
        site=night.spot.site, name="Sheepfold", latitude=40.41, longitude=-1.1, walk_minutes=12
    )
    night.save()
    decided(trip, "second")
    assert news() == 1
    assert "second spot" in mail.outbox[0].subject
    assert "Sheepfold" in str(mail.outbox[0].body)
    assert "12 minutes on foot" in str(mail.outbox[0].body)


def test_what_is_decided_anew_is_told_and_what_held_before_is_not(
    trip: Trip, ilse: Enrolment
) -> None:
    decided(trip, "go")
    decided(trip, "no_go")
    assert news() == 1
    assert mail.outbox[0].subject.startswith("Do not set out")
    assert "come." not in str(mail.outbox[0].body)


def test_a_decision_that_comes_back_before_it_was_told_is_told_once(
    trip: Trip, ilse: Enrolment
) -> None:
    by = User.objects.get(email="leader@meadow.example")
    for minute, decision in enumerate(("go", "", "go")):
        decide(the_night(trip), decision, by=by, now=NOON + timedelta(minutes=minute))
    letters.send_due(NEWS, clock=lambda: NOON + HOUR)
    assert [one.subject for one in mail.outbox] == ["We go on Saturday, 5 June: June on the hill"]


def test_a_decision_that_could_not_be_sent_before_people_met_is_news_to_nobody(
    trip: Trip, ilse: Enrolment
) -> None:
    decided(trip, "go")
    assert letters.send_due(NEWS, clock=lambda: MEETING) == 0
    assert Letter.objects.get().state == Letter.State.DROPPED
