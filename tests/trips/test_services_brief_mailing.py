"""How far the letters of a version and of a decision are."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.trips.briefed import make_briefed, make_plans, publish_now, the_night
from tests.trips.joined import placed
from tests.trips.making import NOON
from trips.models import Brief, Letter, Trip, User
from trips.services.briefs.mailing import Mailing, mailing_of, telling_of
from trips.services.go_no_go import decide

pytestmark = pytest.mark.django_db


@pytest.fixture
def trip() -> Trip:
    trip = make_briefed(capacity=4)
    for name in ("Ilse", "Bo", "Mira"):
        placed(trip, name)
    return trip


def now_at(trip: Trip) -> Mailing:
    brief = publish_now(trip, is_mailed=True)
    make_plans()
    letters = Letter.objects.filter(kind="brief").order_by("pk")
    first, second, _third = letters
    first.state = Letter.State.SENT
    first.save()
    second.attempts, second.error = 1, "SMTPRecipientsRefused: no such box"
    second.due_at = NOON + timedelta(minutes=5)
    second.save()
    return mailing_of(brief, at=NOON)


def test_what_has_gone_waits_and_was_refused_is_counted(trip: Trip) -> None:
    mail = now_at(trip)
    assert (mail.sent, mail.waiting, mail.given_up) == (1, 2, 0)
    assert [one.error for one in mail.refused] == ["SMTPRecipientsRefused: no such box"]
    assert mail.is_moving


def test_a_letter_that_waits_for_a_later_hour_moves_nothing_now(trip: Trip) -> None:
    now_at(trip)
    Letter.objects.filter(attempts=0).update(state=Letter.State.SENT)
    assert not mailing_of(Brief.objects.get(), at=NOON).is_moving
    Letter.objects.filter(attempts=1).update(state=Letter.State.FAILED)
    mail = mailing_of(Brief.objects.get(), at=NOON)
    assert (mail.sent, mail.waiting, mail.given_up, mail.is_moving) == (2, 0, 1, False)


def test_of_a_decision_only_the_letters_of_the_last_one_count(trip: Trip) -> None:
    night, by = the_night(trip), User.objects.get(email="leader@meadow.example")
    assert telling_of(night, at=NOON) is None
    for minutes, decision in enumerate(("go", "no_go", "go")):
        decide(night, decision, by=by, now=NOON + timedelta(minutes=minutes))
    telling = telling_of(night, at=NOON)
    assert telling is not None
    assert (telling.sent, telling.waiting) == (0, 3)
