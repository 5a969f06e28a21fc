"""The pages of somebody who wants a place, from the way in to deleting all that is kept."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import datetime, timedelta
from email.header import decode_header, make_header
from unittest.mock import patch

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pytest_django import Settings

from tests.trips.joined import (
    EVENING,
    MEETING,
    again,
    asked,
    joined,
    kinds,
    make_joinable,
    placed,
    post,
)
from tests.trips.making import NOON, make_organisation
from trips.models import Enrolment, Person, Trip, TripEvent
from trips.services import links

pytestmark = pytest.mark.django_db

State = Enrolment.State
ASKING = {"name": "Ilse", "mail": "ilse@meadow.example"}
REST = {
    "name": "Ilse",
    "phone": "+34 600 000 000",
    "emergency_name": "Bo",
    "emergency_phone": "+34 600 000 001",
    "experience": "some",
    "units": "metric",
}


@pytest.fixture(autouse=True)
def now() -> Iterator[list[datetime]]:
    """Hold the clock at what the list says."""
    at = [NOON]
    with patch.object(timezone, "now", lambda: at[0]):
        yield at


@pytest.fixture
def trip() -> Trip:
    return make_joinable()


def invitation(trip: Trip) -> str:
    return reverse("invitation", args=[links.invitation_of(trip)])


def own(enrolment: Enrolment, name: str = "place") -> str:
    return reverse(name, args=[links.token_of(again(enrolment))])


def text(client: Client, address: str) -> str:
    """Read a page without its marks."""
    page = client.get(address).content.decode()
    return " ".join(re.sub(r"<[^>]*>", " ", page).split())


def mailed_link() -> str:
    """Give the private page's address out of the last letter."""
    post()
    found = re.search(r"http://127\.0\.0\.1:8000(/b/\S+)", str(mail.outbox[-1].body))
    assert found
    return found[1]


def test_from_the_invitation_to_a_place_and_away_without_a_trace(
    client: Client, trip: Trip
) -> None:
    answer = client.post(invitation(trip), ASKING, follow=True)
    assert "Now look into your mail" in answer.content.decode()
    page = mailed_link()
    assert "One press, and a place is held for you" in text(client, page)
    client.post(f"{page}confirm/")
    assert "A place is held for you until" in text(client, page)
    client.post(page, REST)
    assert "You have a place." in text(client, page)
    client.post(f"{page}delete/")
    assert client.get(page).status_code == 404
    assert not Person.objects.exists()
    assert "Ilse" not in str(list(TripEvent.objects.values()))


def test_opening_pages_changes_nothing(client: Client, trip: Trip) -> None:
    enrolment = asked(trip)
    before = list(Enrolment.objects.values())
    for name in ("place", "place_give_back", "place_export", "place_forget"):
        client.get(own(enrolment, name))
        client.head(own(enrolment, name))
    for name in ("place_confirm", "place_new_link"):
        assert client.get(own(enrolment, name)).status_code == 405
    client.get(f"{invitation(trip)}?asked=1")
    assert list(Enrolment.objects.values()) == before


def test_who_asks_learns_nothing_of_who_has_asked_before(client: Client, trip: Trip) -> None:
    first = client.post(invitation(trip), ASKING, follow=True).content
    placed(trip)  # the same name and mail
    second = client.post(invitation(trip), ASKING, follow=True)
    assert second.content == first
    assert Enrolment.objects.count() == 1


def test_the_letter_tells_who_reads_that_mail_how_it_stands(client: Client, trip: Trip) -> None:
    enrolment = placed(trip)
    post()
    mail.outbox.clear()
    with patch.object(timezone, "now", lambda: NOON + timedelta(hours=1)):
        client.post(invitation(trip), ASKING)
    post(NOON + timedelta(hours=1))
    (letter,) = mail.outbox
    assert "You have a place on “June on the hill”." in str(letter.body)
    assert own(enrolment) in str(letter.body)


@pytest.mark.parametrize("deed", ["place_confirm", "place_give_back"])
def test_a_double_tap_does_nothing_twice(client: Client, trip: Trip, deed: str) -> None:
    enrolment = asked(trip) if deed == "place_confirm" else placed(trip)
    where = own(enrolment, deed)
    assert [client.post(where).status_code for _tap in range(2)] == [302, 302]
    assert len(kinds(enrolment)) == len(set(kinds(enrolment)))


def test_who_goes_back_and_presses_again_is_shown_how_it_stands(client: Client, trip: Trip) -> None:
    enrolment = joined(trip)
    client.post(own(enrolment, "place_give_back"))
    answer = client.post(own(enrolment), REST)
    assert "No place is held for you" in answer.content.decode()
    assert again(enrolment).state == State.GIVEN_BACK


def test_all_links_that_open_nothing_look_the_same(client: Client, trip: Trip) -> None:
    expired, revoked = joined(trip, "A"), joined(trip, "B")
    dead = [own(expired), own(revoked), reverse("place", args=["x" * 22]), invitation(trip)]
    Enrolment.objects.filter(pk=expired.pk).update(link_expires_at=NOON)
    links.revoke(revoked)
    links.revoke_invitation(trip)
    foreign = reverse("place", args=[links.invitation_of(trip)])
    answers = [client.get(address) for address in [*dead, foreign]]
    assert {answer.status_code for answer in answers} == {404}
    assert len({answer.content for answer in answers}) == 1
    assert {answer.headers["Referrer-Policy"] for answer in answers} == {"no-referrer"}


def test_a_link_is_looked_up_once_by_the_index(
    client: Client, django_assert_num_queries: object
) -> None:
    with django_assert_num_queries(1) as asked_of:  # type: ignore[operator]
        assert client.get(reverse("place", args=["x" * 22])).status_code == 404
    assert "link_hash" in asked_of.captured_queries[0]["sql"]


def test_who_guesses_on_and_on_is_told_to_wait_and_no_right_link_is_locked(
    client: Client, trip: Trip
) -> None:
    guessed, right = reverse("place", args=["guess"]), own(joined(trip))
    codes = [client.get(guessed, REMOTE_ADDR="203.0.113.9").status_code for _ in range(61)]
    assert (codes[59], codes[60]) == (404, 429)
    refused = client.get(guessed, REMOTE_ADDR="203.0.113.9")
    assert (refused.status_code, refused.headers["Retry-After"]) == (429, "600")
    assert client.get(guessed, REMOTE_ADDR="203.0.113.10").status_code == 404
    assert client.get(right, REMOTE_ADDR="203.0.113.9").status_code == 200


def test_a_forwarded_address_is_believed_from_a_proxy_alone(
    client: Client, trip: Trip, settings: Settings
) -> None:
    guessed = reverse("place", args=["guess"])

    def code(guess: int) -> int:
        claimed = f"198.51.100.{guess}, 203.0.113.{guess // 200}"
        return client.get(guessed, HTTP_X_FORWARDED_FOR=claimed).status_code

    assert [code(guess) for guess in range(61)][-1] == 429  # all of one address: the client's own
    settings.BEHIND_PROXY = True
    assert [code(guess) for guess in range(61)][-1] == 429  # all of what the proxy saw
    assert code(200) == 404


def test_too_many_requests_from_one_address_are_refused(client: Client, trip: Trip) -> None:
    for n in range(120):
        client.post(invitation(trip), {"name": "A", "mail": f"a{n % 5}@b.example"})
    assert client.post(invitation(trip), ASKING).status_code == 429
    assert not Person.objects.filter(name="Ilse").exists()


def test_the_open_page_is_there_where_the_trip_says_so(client: Client, trip: Trip) -> None:
    page = reverse("join", args=[trip.uid])
    assert client.get(page).status_code == 404
    Trip.objects.update(is_public=True)
    assert client.get(page).status_code == 200
    Trip.objects.update(status="draft")
    assert client.get(page).status_code == 404


@pytest.mark.parametrize(
    ("status", "said"),
    [
        ("draft", "This trip is not open yet"),
        ("running", "This trip has begun"),
        ("done", "This trip is over"),
        ("cancelled", "This trip is cancelled. Do not set out."),
    ],
)
def test_a_trip_that_nobody_can_join_says_so_and_asks_nothing(
    client: Client, trip: Trip, status: str, said: str
) -> None:
    Trip.objects.update(status=status)
    assert said in text(client, invitation(trip))
    assert b"<form" not in client.get(invitation(trip)).content
    client.post(invitation(trip), ASKING)
    assert not Enrolment.objects.exists()


def test_a_full_trip_offers_the_waiting_list_and_says_the_number(
    client: Client, trip: Trip
) -> None:
    for name in "ABC":
        joined(trip, name)
    assert "All places are taken, and 1 person waits." in text(client, invitation(trip))
    fourth = asked(trip, "D")
    client.post(own(fourth, "place_confirm"))
    assert "You are number 2 on the waiting list." in text(client, own(fourth))


def test_who_still_waits_when_people_meet_is_told_not_to_set_out(
    client: Client, trip: Trip, now: list[datetime]
) -> None:
    waiting = [joined(trip, name) for name in "ABC"][2]
    now[0] = MEETING
    assert "No place became free for you. Do not set out." in text(client, own(waiting))


def test_a_meeting_point_is_for_those_with_a_place(client: Client, trip: Trip) -> None:
    assert "The chapel" not in text(client, invitation(trip))
    assert "The chapel" not in text(client, own(asked(trip, "A")))
    assert "The chapel" in text(client, own(joined(trip, "B")))


def test_nobody_reads_of_others(client: Client, trip: Trip) -> None:
    placed(trip, "Rosalind")
    mine = placed(trip, "Ilse")
    for name in ("place", "place_export", "place_forget", "place_give_back"):
        assert b"Rosalind" not in client.get(own(mine, name)).content


def test_health_without_consent_is_refused_and_stays_typed(client: Client, trip: Trip) -> None:
    enrolment = joined(trip)
    answer = client.post(own(enrolment), REST | {"health_note": "Asthma"}).content.decode()
    assert "Health is kept only if you agree" in answer
    assert "Asthma" in answer
    assert again(enrolment).health_note == ""


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("mail", "not an address", "No letter would arrive there"),
        ("mail", "a@b.example\nBcc: c@d.example", "No letter would arrive there"),
        ("mail", "a@[127.0.0.1]", "No letter would arrive there"),
        ("mail", "", "No mail address is written here"),
        ("name", "", "Without a name"),
        ("name", "\u200d\u200f ", "Nothing that can be read"),
        ("name", "x" * 121, "at most 120"),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    client: Client, trip: Trip, field: str, typed: str, said: str
) -> None:
    answer = client.post(invitation(trip), ASKING | {field: typed}).content.decode()
    assert said in answer
    assert not Enrolment.objects.exists()


@pytest.mark.parametrize(
    "name",
    [
        "ليلى الحسيني",
        "שרה",
        "山田 花子",
        "Zoë 🌌👩‍🚀",
        "<script>alert(1)</script>",
        '=HYPERLINK("http://x")',
        "O'Brien & Søn",
    ],
)
def test_any_name_is_kept_as_it_is_and_run_by_nobody(client: Client, trip: Trip, name: str) -> None:
    client.post(invitation(trip), ASKING | {"name": name})
    page = mailed_link()
    assert Person.objects.get().name == name
    answer = client.get(page).content.decode()
    assert "<script>alert" not in answer
    assert name in str(mail.outbox[-1].body)


def test_a_name_turns_no_sentence_round_and_begins_no_header(client: Client, trip: Trip) -> None:
    Trip.objects.update(name="June\r\nBcc: all@b.example")
    typed = ASKING | {"name": "Il\u202ese\r\nBcc: x@b.example"}
    assert client.post(invitation(trip), typed).status_code == 302
    mailed_link()
    message = mail.outbox[-1].message()
    subject = str(make_header(decode_header(message["Subject"])))
    assert subject.endswith("June Bcc: all@b.example")
    assert message["Bcc"] is None
    assert "\u202e" not in Person.objects.get().name


@pytest.mark.parametrize("field", ["phone", "emergency_phone"])
def test_a_phone_is_a_number_that_can_be_called(client: Client, trip: Trip, field: str) -> None:
    enrolment = joined(trip)
    for typed in ("call me", "0", "🌌", "+34 600 CALL ME"):
        answer = client.post(own(enrolment), REST | {field: typed}).content.decode()
        assert f"“{typed}” cannot be called; write all of it" in answer
        assert again(enrolment).state == State.HELD
    assert client.post(own(enrolment), REST | {field: "٠٠٣٤ ٦٠٠ ١١١ (home)"}).status_code == 302


def test_a_long_wish_is_kept_and_a_longer_one_is_not(client: Client, trip: Trip) -> None:
    enrolment = joined(trip)
    answer = client.post(own(enrolment), REST | {"wish": "ü" * 10_001}).content.decode()
    assert "at most 10000" in answer
    assert client.post(own(enrolment), REST | {"wish": "ü" * 10_000}).status_code == 302
    assert len(again(enrolment).wish) == 10_000


def test_what_is_kept_can_be_taken_along(client: Client, trip: Trip) -> None:
    enrolment = placed(trip)
    answer = client.get(own(enrolment, "place_export"))
    assert "attachment" in answer.headers["Content-Disposition"]
    kept = json.loads(answer.content)
    assert kept["person"]["emergency_phone"] == "+34 600 000 001"
    assert kept["place"]["state"] == "placed"
    assert [event["what"] for event in kept["history"]] == ["held", "placed"]
    assert "link_hash" not in str(kept)


def test_nobody_who_is_out_there_is_deleted(
    client: Client, trip: Trip, now: list[datetime]
) -> None:
    enrolment = placed(trip)
    now[0] = MEETING
    answer = client.post(own(enrolment, "place_forget")).content.decode()
    assert "those who lead must know who is there" in answer
    now[0] = MEETING + timedelta(days=2)
    client.post(own(enrolment, "place_forget"))
    assert not Enrolment.objects.exists()


def test_a_person_on_another_trip_stays_for_that_one(client: Client, trip: Trip) -> None:
    other = make_joinable(site=trip.nights.get(date=EVENING).spot.site)
    mine = placed(trip)
    placed(other)
    assert "another trip of this organisation" in text(client, own(mine, "place_forget"))
    client.post(own(mine, "place_forget"))
    assert Person.objects.get().enrolments.get().trip == other


def test_a_deleted_place_goes_to_the_next_one(client: Client, trip: Trip) -> None:
    first, _second, third = (joined(trip, name) for name in "ABC")
    client.post(own(first, "place_forget"))
    assert again(third).state == State.HELD


def test_deleting_twice_at_once_deletes_once_and_says_so(client: Client, trip: Trip) -> None:
    enrolment = placed(trip)
    address = own(enrolment, "place_forget")
    client.post(address)
    # The other press had found the row before it went.
    with patch("trips.views.place.enrolment_by", lambda _token: enrolment):
        assert "Nothing of you is kept" in client.post(address).content.decode()
    assert TripEvent.objects.filter(what="forgotten").count() == 1


@pytest.mark.parametrize("status", ["done", "cancelled"])
def test_a_trip_that_is_no_more_offers_no_giving_back(
    client: Client, trip: Trip, status: str
) -> None:
    enrolment = placed(trip)
    assert "If you cannot come" in text(client, own(enrolment))
    Trip.objects.update(status=status)
    told = text(client, own(enrolment))
    assert "If you cannot come" not in told
    assert "You have a place." not in told
    assert ("This trip is over." in told) is (status == "done")
    assert "Take along all that is kept of me" in told


def test_a_link_of_one_trip_opens_no_other(client: Client, trip: Trip) -> None:
    other = make_joinable(organisation=make_organisation("Other"))
    mine, theirs = placed(trip), placed(other)
    assert own(mine) != own(theirs)
    client.post(own(mine, "place_give_back"))
    assert again(theirs).state == State.PLACED
