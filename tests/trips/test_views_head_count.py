"""The head count page, opened by an instructor's link: with a script, without one, on paper."""

from __future__ import annotations

import json
import uuid
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.conftest import Cast
from trips.models import Enrolment, Person, Tick, TripNight
from trips.services import links


@pytest.fixture
def token(cast: Cast) -> str:
    assert cast.enrolment.place
    return links.token_of(cast.trip_instructor)


def _post(client: Client, cast: Cast, token: str, ticks: Any) -> Any:
    where = reverse("head_count_ticks", args=[token]) + f"?night={cast.trip_night.date}"
    return client.post(where, json.dumps({"ticks": ticks}), content_type="application/json")


def _tick(cast: Cast, kind: str = "here", **other: Any) -> dict[str, Any]:
    return {
        "uid": str(uuid.uuid4()),
        "who": f"p{cast.enrolment.pk}",
        "kind": kind,
        "at": cast.trip_night.meeting_at.isoformat(),
    } | other


def test_a_press_without_a_script_is_one_tick_however_often_it_comes(
    client: Client, cast: Cast, token: str
) -> None:
    where = reverse("head_count", args=[token]) + f"?night={cast.trip_night.date}"
    pressed = {"who": f"p{cast.enrolment.pk}", "kind": "here", "uid": str(uuid.uuid4())}
    for _ in range(2):
        assert client.post(where, pressed).status_code == 302
    assert Tick.objects.get().instructor == cast.trip_instructor
    page = client.get(where).content.decode()
    assert "data-number>1</strong>" in page


def test_a_press_on_a_page_that_was_gone_back_to_is_another_tick(
    client: Client, cast: Cast, token: str
) -> None:
    where = reverse("head_count", args=[token]) + f"?night={cast.trip_night.date}"
    old = {"who": f"p{cast.enrolment.pk}", "uid": str(uuid.uuid4())}
    client.post(where, old | {"kind": "here"})
    for _double in range(2):
        client.post(where, old | {"kind": "left"})
    for _double in range(2):
        client.post(where, old | {"kind": "here"})
    assert [tick.kind for tick in Tick.objects.order_by("pk")] == ["here", "left", "here"]
    Tick.objects.update(received_at=timezone.now() - timedelta(minutes=2))
    client.post(where, old | {"kind": "here"})
    assert [tick.kind for tick in Tick.objects.order_by("pk")] == ["here", "left", "here", "here"]


def test_the_page_needs_no_account_and_tells_no_other_server(client: Client, token: str) -> None:
    answer = client.get(reverse("head_count", args=[token]))
    assert answer.status_code == 200
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer.headers["X-Robots-Tag"]
    assert not answer.cookies


def test_a_post_answers_with_what_was_kept_and_the_lists_as_they_stand(
    client: Client, cast: Cast, token: str
) -> None:
    tick, foreign = _tick(cast), _tick(cast, who="p999999")
    answer = _post(client, cast, token, [tick, foreign]).json()
    assert answer["kept"] == [tick["uid"]]
    (refused,) = answer["refused"]
    assert refused["uid"] == foreign["uid"]
    assert "not on this trip any more" in refused["why"]
    assert 'data-state="here"' in answer["lists"]


def test_two_phones_that_differ_are_both_told(client: Client, cast: Cast, token: str) -> None:
    _post(client, cast, token, [_tick(cast, "left")])
    cast.trip.instructors.create(user=cast.coordinator, link_hash="another")
    other = cast.trip.instructors.get(user=cast.coordinator)
    links.sign(other)
    other.save()
    answer = _post(client, cast, links.token_of(other), [_tick(cast, "not_here")]).json()
    assert "Ask each other" in answer["lists"]


@pytest.mark.parametrize(
    "broken",
    [
        {"uid": "no id"},
        {"uid": 5},
        {"kind": "gone"},
        {"at": "yesterday"},
        {"at": "2027-03-01T21:00:00"},
        {"who": None},
    ],
)
def test_a_mark_that_cannot_be_read_is_told_by_its_id_and_keeps_no_other_one_back(
    client: Client, cast: Cast, token: str, broken: dict[str, Any]
) -> None:
    first, unread, last = _tick(cast), _tick(cast, **broken), _tick(cast, "left")
    answer = _post(client, cast, token, [first, unread, last]).json()
    assert answer["kept"] == [first["uid"], last["uid"]]
    (refused,) = answer["refused"]
    assert refused["uid"] == unread["uid"]
    assert "cannot be read: count the person again" in refused["why"]
    assert Tick.objects.count() == 2


@pytest.mark.parametrize(
    "body",
    ["", "[]", "null", "[" * 100_000, '{"ticks": "abc"}', '{"ticks": {"a": 1}}', '{"ticks": 5}'],
)
def test_what_is_no_list_of_marks_is_refused_in_one_sentence(
    client: Client, token: str, body: str
) -> None:
    where = reverse("head_count_ticks", args=[token])
    assert client.post(where, body, content_type="application/json").status_code == 400


@pytest.mark.parametrize("date", ["2026-02-31", "9999-99-99", "0000-01-01", "soon"])
def test_a_night_that_does_not_exist_is_no_page(client: Client, token: str, date: str) -> None:
    where = reverse("head_count", args=[token])
    assert client.get(f"{where}?night={date}").status_code == 404


def test_one_id_for_two_people_is_kept_once_and_the_other_is_refused(
    client: Client, cast: Cast, token: str
) -> None:
    first = _tick(cast)
    other = _tick(cast, who=f"l{cast.trip_instructor.pk}", uid=first["uid"])
    assert _post(client, cast, token, [first]).json()["kept"] == [first["uid"]]
    (refused,) = _post(client, cast, token, [other]).json()["refused"]
    assert refused["uid"] == first["uid"]
    assert Tick.objects.get().enrolment == cast.enrolment


def test_a_revoked_link_counts_nobody(client: Client, cast: Cast, token: str) -> None:
    links.revoke(cast.trip_instructor)
    assert _post(client, cast, token, [_tick(cast)]).status_code == 404
    assert not Tick.objects.exists()


def test_a_participants_link_opens_no_head_count(client: Client, cast: Cast, token: str) -> None:
    own = links.token_of(Enrolment.objects.get(pk=cast.enrolment.pk))
    assert client.get(reverse("head_count", args=[own])).status_code == 404


def test_the_list_to_print_has_a_row_for_everybody(client: Client, cast: Cast, token: str) -> None:
    page = client.get(reverse("head_count_paper", args=[token])).content.decode()
    assert page.count('<th scope="row">') == 2


def test_the_worker_keeps_this_page_and_its_files_and_no_page_of_members(
    client: Client, token: str
) -> None:
    answer = client.get(reverse("head_count_worker", args=[token]))
    assert answer.headers["Content-Type"].startswith("text/javascript")
    kept = json.loads(answer.content.decode().split("FIRST = ")[1].split(";")[0].replace("'", '"'))
    assert kept[0] == reverse("head_count", args=[token])
    assert all(address.startswith("/static/") for address in kept[1:])


def test_a_name_with_markup_is_shown_as_it_was_typed(
    client: Client, cast: Cast, token: str
) -> None:
    Person.objects.update(name="<b>Zoë</b> \u202eابن")
    page = client.get(reverse("head_count", args=[token])).content.decode()
    assert "&lt;b&gt;Zoë&lt;/b&gt;" in page
    assert "<b>Zoë" not in page


def _close(client: Client, cast: Cast, token: str, **pressed: str) -> Any:
    where = reverse("head_count_close", args=[token]) + f"?night={cast.trip_night.date}"
    return client.post(where, pressed)


def test_a_night_is_closed_from_the_field_and_opened_again(
    client: Client, cast: Cast, token: str
) -> None:
    _move(cast, timedelta(hours=-5))
    assert _close(client, cast, token).status_code == 302
    assert cast.trip_night.closed_at
    _close(client, cast, token, reopen="1")
    assert cast.trip_night.closed_at is None


def test_a_night_with_somebody_still_ticked_as_here_is_closed_only_all_the_same(
    client: Client, cast: Cast, token: str
) -> None:
    _move(cast, timedelta(hours=-5))
    _post(client, cast, token, [_tick(cast)])
    refused = _close(client, cast, token).content.decode()
    assert "1 person is ticked as here" in refused
    assert cast.trip_night.closed_at is None
    _close(client, cast, token, all_the_same="1")
    assert cast.trip_night.closed_at


def test_a_night_that_has_not_begun_is_not_closed(client: Client, cast: Cast, token: str) -> None:
    _move(cast, timedelta(hours=5))
    assert "has not begun" in _close(client, cast, token).content.decode()
    assert cast.trip_night.closed_at is None


def _move(cast: Cast, by: timedelta) -> None:
    """Let the night begin so long after the view's own clock."""
    begins = timezone.now() + by
    TripNight.objects.filter(pk=cast.trip_night.pk).update(
        meeting_at=begins, ends_at=begins + timedelta(hours=8)
    )
