"""A night that nobody closes: letters to those who lead, then to the contact, each once.

The phones in the field stay silent in all of these unless a test ticks by itself.
"""

from __future__ import annotations

import smtplib
from datetime import UTC, datetime, timedelta
from typing import Any
from unittest.mock import Mock
from uuid import uuid4

import pytest
from django.core import mail
from django.core.mail.backends.locmem import EmailBackend

from tests.conftest import Cast
from trips.models import (
    Car,
    Drive,
    Letter,
    Membership,
    Site,
    Tick,
    Trip,
    TripEvent,
    TripNight,
    User,
)
from trips.services import letters, trip_nights
from trips.services.closing import close_night, reopen_night, sweep_call_outs
from trips.services.letter_kinds.post import URGENT
from trips.services.refusals import TripRefusedError

pytestmark = pytest.mark.usefixtures("db")

QUARTER = timedelta(minutes=15)
SECOND = timedelta(seconds=1)


@pytest.fixture
def night(cast: Cast) -> TripNight:
    """The first night of a confirmed trip with a contact at home, a person and a car."""
    Trip.objects.filter(pk=cast.trip.pk).update(
        status=Trip.Status.CONFIRMED,
        contact_name="Runa Holt",
        contact_mail="runa@holt.example",
        capacity=8,
    )
    assert cast.enrolment.place == 1
    Car.objects.create(trip=cast.trip, name="Green van, 4821 KLM", seats=7)
    return again(cast.trip_night)


def again(night: TripNight) -> TripNight:
    found: TripNight = TripNight.objects.select_related("trip", "spot__site").get(pk=night.pk)
    return found


def pass_by(now: datetime) -> None:
    """Do what the worker does every few seconds."""
    sweep_call_outs(now=now)
    letters.send_due(URGENT, clock=lambda: now)


def receivers() -> list[str]:
    return [message.to[0] for message in mail.outbox]


def tick(cast: Cast, night: TripNight, kind: str, at: datetime) -> None:
    Tick.objects.create(
        client_uid=uuid4(), night=night, enrolment=cast.enrolment, instructor=cast.trip_instructor,
        kind=kind, at=at, received_at=at,
    )  # fmt: skip


def test_nobody_is_written_to_before_the_hour(night: TripNight) -> None:
    pass_by(night.call_out_at - SECOND)
    assert receivers() == []


def test_the_instructor_is_written_to_at_the_hour_and_the_contact_after_the_minutes(
    night: TripNight,
) -> None:
    pass_by(night.call_out_at)
    assert receivers() == ["instructor@meadow.example"]
    pass_by(night.call_out_at + QUARTER - SECOND)
    assert len(mail.outbox) == 1
    pass_by(night.call_out_at + QUARTER)
    assert receivers() == ["instructor@meadow.example", "runa@holt.example"]


def test_however_often_the_sweep_runs_each_letter_goes_once(night: TripNight) -> None:
    for quarters in range(90):
        pass_by(night.call_out_at + quarters * QUARTER)
    assert receivers() == ["instructor@meadow.example", "runa@holt.example"]


def test_a_trip_sets_the_minutes_itself(night: TripNight) -> None:
    Trip.objects.filter(pk=night.trip_id).update(contact_after_minutes=40)
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + timedelta(minutes=39))
    assert len(mail.outbox) == 1
    pass_by(night.call_out_at + timedelta(minutes=40))
    assert len(mail.outbox) == 2


def test_after_a_server_was_down_the_instructor_still_has_those_minutes(night: TripNight) -> None:
    late = night.call_out_at + timedelta(hours=5)
    pass_by(late)
    pass_by(late + QUARTER - SECOND)
    assert receivers() == ["instructor@meadow.example"]
    pass_by(late + QUARTER)
    assert len(mail.outbox) == 2


def test_a_closed_night_is_not_overdue(cast: Cast, night: TripNight) -> None:
    close_night(night, by=cast.instructor, now=night.ends_at)
    pass_by(night.call_out_at + QUARTER)
    assert receivers() == []


def test_closing_between_the_two_letters_keeps_the_second_at_home(
    cast: Cast, night: TripNight
) -> None:
    pass_by(night.call_out_at)
    close_night(again(night), by=cast.instructor, now=night.call_out_at + SECOND)
    pass_by(night.call_out_at + QUARTER)
    assert receivers() == ["instructor@meadow.example"]


def test_a_contact_who_was_told_is_told_that_all_are_back(cast: Cast, night: TripNight) -> None:
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + QUARTER)
    close_night(again(night), by=cast.instructor, now=night.call_out_at + 2 * QUARTER)
    pass_by(night.call_out_at + 2 * QUARTER)
    assert receivers()[1:] == ["runa@holt.example", "runa@holt.example"]
    assert "All are back" in mail.outbox[2].subject
    close_night(again(night), by=cast.instructor, now=night.call_out_at + 3 * QUARTER)
    pass_by(night.call_out_at + 3 * QUARTER)
    assert len(mail.outbox) == 3


def test_a_night_opened_again_calls_out_again(cast: Cast, night: TripNight) -> None:
    pass_by(night.call_out_at)
    close_night(again(night), by=cast.instructor, now=night.call_out_at + SECOND)
    pass_by(night.call_out_at + QUARTER)
    opened = night.call_out_at + 2 * QUARTER
    reopen_night(again(night), by=cast.instructor, now=opened)
    pass_by(opened)
    pass_by(opened + QUARTER)
    assert receivers() == [*["instructor@meadow.example"] * 2, "runa@holt.example"]
    deeds = TripEvent.objects.filter(trip=night.trip).values_list("what", flat=True)
    assert list(deeds)[:2] == ["night_reopened", "night_closed"]


def test_a_later_end_puts_the_letters_off_and_they_go_then(cast: Cast, night: TripNight) -> None:
    """The contact's letter was asked for already when the instructor gave the night longer."""
    planned = night.call_out_at
    pass_by(planned)
    moved = again(night)
    moved.ends_at += timedelta(hours=2)
    trip_nights.save_night(moved, by=cast.instructor, now=planned)
    pass_by(planned + QUARTER)
    assert receivers() == ["instructor@meadow.example"]
    pass_by(planned + timedelta(hours=2))
    pass_by(planned + timedelta(hours=2) + QUARTER)
    assert receivers() == [*["instructor@meadow.example"] * 2, "runa@holt.example"]


@pytest.mark.parametrize(
    ("dropped_by", "true_again"),
    [
        ({"ends_at": 2}, {"ends_at": -2}),
        ({"decision": "no_go"}, {"decision": ""}),
        ({"status": "cancelled"}, {"status": "confirmed"}),
        ({"contact_mail": ""}, {"contact_mail": "runa@holt.example"}),
    ],
    ids=lambda facts: " ".join(map(str, *facts.items())),
)
def test_a_letter_that_was_dropped_goes_all_the_same_when_it_is_true_again(
    cast: Cast, night: TripNight, dropped_by: dict[str, Any], true_again: dict[str, Any]
) -> None:
    pass_by(night.call_out_at)
    change(cast, night, dropped_by)
    pass_by(night.call_out_at + QUARTER)
    assert Letter.objects.filter(state=Letter.State.DROPPED).count() == 1
    change(cast, night, true_again)
    pass_by(night.call_out_at + 2 * QUARTER)
    assert receivers() == ["instructor@meadow.example"]
    pass_by(night.call_out_at + 3 * QUARTER)
    assert receivers() == ["instructor@meadow.example", "runa@holt.example"]


def change(cast: Cast, night: TripNight, facts: dict[str, Any]) -> None:
    """Give the night so many hours more, or the row that has such a column that value."""
    (column, value), row = *facts.items(), again(night)
    if column == "ends_at":
        row.ends_at += timedelta(hours=value)
        trip_nights.save_night(row, by=cast.instructor, now=row.meeting_at)
    elif column == "decision":
        TripNight.objects.filter(pk=night.pk).update(**facts)
    else:
        Trip.objects.filter(pk=night.trip_id).update(**facts)


def test_another_contact_is_told_at_once_and_the_first_one_not_again(night: TripNight) -> None:
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + QUARTER)
    Trip.objects.filter(pk=night.trip_id).update(contact_mail="bela@holt.example")
    for seconds in range(3):
        pass_by(night.call_out_at + QUARTER + seconds * SECOND)
    assert receivers()[1:] == ["runa@holt.example", "bela@holt.example"]
    assert "holt" not in str(list(Letter.objects.values()))


@pytest.mark.parametrize("kind", ["call_out_instructor", "call_out_contact"])
def test_a_call_out_that_is_refused_is_tried_every_two_minutes_and_never_given_up(
    night: TripNight, monkeypatch: pytest.MonkeyPatch, kind: str
) -> None:
    sweep_call_outs(now=night.call_out_at)
    Letter.objects.exclude(kind=kind).delete()
    refuses = Mock(side_effect=smtplib.SMTPServerDisconnected("gone"))
    monkeypatch.setattr(EmailBackend, "send_messages", refuses)
    clock = Mock(return_value=night.call_out_at + QUARTER)
    waits = {}
    for before in (0, 355):  # by then half a day has gone, every two minutes
        Letter.objects.update(attempts=before)
        for number in range(before, before + 10):
            letters.send_due(URGENT, clock=clock)
            letter = Letter.objects.get()
            waits[number] = letter.due_at - clock()
            clock.return_value = letter.due_at
    assert (letter.state, letter.attempts) == (Letter.State.QUEUED, 365)
    assert max(waits[number] for number in waits if number < 360) == timedelta(minutes=2)
    # Days later a wrong address must not plague a server.
    assert max(waits.values()) == timedelta(hours=1)


def test_a_contact_who_may_have_the_letter_is_told_that_all_are_back(
    cast: Cast, night: TripNight
) -> None:
    """A worker died with it in hand, or the server fell silent after it had taken it."""
    for last in ({"state": "sending", "lease_expires_at": night.call_out_at}, {"attempts": 1}):
        mail.outbox.clear()
        reopen_night(again(night), by=cast.instructor, now=night.call_out_at)
        pass_by(night.call_out_at)
        Letter.objects.filter(kind="call_out_contact").update(**last)
        close_night(again(night), by=cast.instructor, now=night.call_out_at + SECOND)
        pass_by(night.call_out_at + QUARTER)
        assert "All are back" in mail.outbox[-1].subject, last
        assert receivers()[-1] == "runa@holt.example"


@pytest.mark.parametrize(
    ("trip_facts", "night_facts", "is_watched"),
    [
        ({"status": "confirmed"}, {}, True),
        ({"status": "running"}, {}, True),
        ({"status": "open"}, {}, False),
        ({"status": "open"}, {"decision": "go"}, True),
        ({"status": "full"}, {"decision": "second"}, True),
        ({"status": "confirmed"}, {"decision": "no_go"}, False),
        ({"status": "cancelled"}, {"decision": "go"}, False),
        ({"status": "draft"}, {}, False),
    ],
)
def test_nights_that_people_are_out_in_are_watched_and_no_others(
    night: TripNight,
    trip_facts: dict[str, Any],
    night_facts: dict[str, Any],
    *,
    is_watched: bool,
) -> None:
    Trip.objects.filter(pk=night.trip_id).update(**trip_facts)
    TripNight.objects.filter(pk=night.pk).update(**night_facts)
    pass_by(night.call_out_at)
    assert bool(receivers()) is is_watched


def test_without_a_contact_the_instructor_is_told_that_nobody_else_is(night: TripNight) -> None:
    Trip.objects.filter(pk=night.trip_id).update(contact_mail="")
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + QUARTER)
    assert receivers() == ["instructor@meadow.example"]
    assert "nobody else is told" in mail.outbox[0].body


def test_the_contact_s_letter_says_what_rescuers_ask(cast: Cast, night: TripNight) -> None:
    TripNight.objects.filter(pk=night.pk).update(drive_minutes=45)
    tick(cast, night, "here", night.meeting_at)
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + QUARTER)
    text = mail.outbox[1].body
    for said in (
        "Wall Corner, Broom Hill",
        "40.4010° north, 1.1020° west",
        "geo:40.40100,-1.10200",
        "Car park below the wall",
        "45 min",
        "Green van, 4821 KLM",
        "2 are expected, leaders counted",
        "here and not as left: 1",
        "no rescue service",
        "112 in Europe",
        "You are the contact at home",
        "1. Call those who lead",
        "Do not set out yourself",
        "Europe/Madrid",
    ):
        assert said in text, said
    assert "Ines" not in text


def test_cars_that_stay_at_home_are_not_looked_for(cast: Cast, night: TripNight) -> None:
    goes = Car.objects.create(trip=cast.trip, name="Blue car")
    Drive.objects.create(night=night, car=goes, instructor=cast.trip_instructor)
    pass_by(night.call_out_at)
    assert "Blue car" in mail.outbox[0].body
    assert "Green van" not in mail.outbox[0].body


def test_the_instructor_s_letter_leads_to_the_page_that_closes(
    cast: Cast, night: TripNight
) -> None:
    pass_by(night.call_out_at)
    assert "/h/" in mail.outbox[0].body
    assert "Runa Holt gets a letter" in mail.outbox[0].body


def test_a_night_is_not_closed_before_people_have_met(cast: Cast, night: TripNight) -> None:
    with pytest.raises(TripRefusedError, match="has not begun"):
        close_night(night, by=cast.instructor, now=night.meeting_at - SECOND)
    assert again(night).closed_at is None


def test_an_open_tick_keeps_the_night_open_unless_somebody_insists(
    cast: Cast, night: TripNight
) -> None:
    tick(cast, night, "here", night.meeting_at)
    with pytest.raises(TripRefusedError, match="1 person is ticked as here"):
        close_night(night, by=cast.instructor, now=night.ends_at)
    tick(cast, night, "left", night.ends_at)
    close_night(night, by=cast.instructor, now=night.ends_at)
    assert again(night).closed_by == "instructor@meadow.example"


def test_who_insists_closes_despite_an_open_tick(cast: Cast, night: TripNight) -> None:
    tick(cast, night, "here", night.meeting_at)
    close_night(night, by=cast.instructor, now=night.ends_at, despite_open_ticks=True)
    assert again(night).closed_at == night.ends_at


def test_closing_twice_keeps_the_first(cast: Cast, night: TripNight) -> None:
    close_night(night, by=cast.instructor, now=night.ends_at)
    close_night(again(night), by=cast.coordinator, now=night.ends_at + QUARTER)
    assert again(night).closed_at == night.ends_at
    assert TripEvent.objects.filter(what="night_closed").count() == 1


def test_a_name_full_of_line_breaks_and_marks_stays_out_of_the_header(night: TripNight) -> None:
    Trip.objects.filter(pk=night.trip_id).update(contact_name="R\r\nBcc: x@y.example <b>ط</b>")
    site = night.spot.site
    site.name = "Hill\r\nBcc: all@example.org"
    site.save()
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + QUARTER)
    assert all("\n" not in message.subject for message in mail.outbox)
    assert {len(message.recipients()) for message in mail.outbox} == {1}


def test_letters_that_wait_survive_whatever_stops(night: TripNight) -> None:
    """Asked for by one process and sent by another: the rows hold all there is to know."""
    sweep_call_outs(now=night.call_out_at)
    sweep_call_outs(now=night.call_out_at + SECOND)
    assert Letter.objects.count() == 2
    letters.send_due(URGENT, clock=lambda: night.call_out_at + QUARTER)
    letters.send_due(URGENT, clock=lambda: night.call_out_at + QUARTER)
    assert len(mail.outbox) == 2


def test_an_hour_is_told_on_the_clock_of_the_site(night: TripNight) -> None:
    assert night.ends_at == datetime(2027, 3, 2, 1, tzinfo=UTC)
    pass_by(night.call_out_at)
    assert "was to end at 02:00" in mail.outbox[0].body


def test_both_letters_say_the_emergency_number_that_somebody_confirmed_for_the_site(
    night: TripNight,
) -> None:
    Site.objects.filter(spots=night.spot_id).update(emergency_number="117")
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + QUARTER)
    assert len(mail.outbox) == 2
    for letter in mail.outbox:
        assert "call the emergency number, 117" in letter.body
        assert "112" not in letter.body


def test_the_contact_is_told_who_can_close_the_night_besides_those_who_lead(
    night: TripNight,
) -> None:
    head = User.objects.create_user("head@meadow.example")
    Membership.objects.create(
        user=head, organisation=night.trip.organisation, role=Membership.Role.COORDINATOR
    )
    pass_by(night.call_out_at)
    pass_by(night.call_out_at + QUARTER)
    assert "head@meadow.example" in mail.outbox[1].body
    assert "head@meadow.example" not in mail.outbox[0].body
