"""What opens by a private link alone: to whoever holds it, and to nobody once it is over."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory
from django.urls import reverse
from pytest_django import Settings

from tests.conftest import WHEN, Cast
from tests.trips.doors import address, patterns
from trips.models import Enrolment, Linked
from trips.services import calendars, links
from trips.views import place
from trips.views.link_doors import by_link

# Which row's link opens an address.
BY_LINK: dict[str, Callable[[Cast], Linked]] = {
    "head_count": lambda cast: cast.trip_instructor,
    "head_count_paper": lambda cast: cast.trip_instructor,
    "head_count_worker": lambda cast: cast.trip_instructor,
    "place": lambda cast: cast.enrolment,
    "place_worker": lambda cast: cast.enrolment,
    "place_give_back": lambda cast: cast.enrolment,
    "place_export": lambda cast: cast.enrolment,
    "place_forget": lambda cast: cast.enrolment,
    "my_gear": lambda cast: cast.enrolment,
    "calendar_feed": lambda cast: calendars.make_link(cast.trip, now=WHEN),
}


# Every address that is a secret, or tells of an open page that only some were given.
WITH_TOKEN = {one.name or "" for one in patterns() if "token" in one.pattern.converters}
QUIET = sorted({"join", *WITH_TOKEN} - {"demo_sign_in"})


@pytest.mark.parametrize("role", ["anonymous", "stranger", "coordinator"])
@pytest.mark.parametrize("name", BY_LINK)
def test_a_link_opens_to_whoever_holds_it_and_to_nobody_when_revoked_or_expired(
    name: str, role: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    row, client = BY_LINK[name](cast), signed_in(role)
    where = reverse(name, args=[links.token_of(row)])
    answer = client.get(where)
    assert answer.status_code == 200
    assert _is_kept_quiet(answer)
    row.link_expires_at = datetime(2020, 1, 1, tzinfo=UTC)  # long before anybody looks
    row.save()
    assert client.get(where).status_code == 404
    row.link_expires_at = None
    links.revoke(row)
    assert client.get(where).status_code == 404


@pytest.mark.parametrize("name", QUIET)
def test_every_answer_at_such_an_address_keeps_it_quiet(name: str, cast: Cast) -> None:
    """Found or not, allowed or not, and cut off in the middle: the address is in all of them."""
    client, where = Client(), address(name, cast)
    answers = [client.generic(way, where) for way in ("GET", "HEAD", "POST", "PUT", "OPTIONS")]
    answers += [client.get(f"{where}and/more/"), client.get(where.rstrip("/") + "?look=night")]
    codes = {answer.status_code for answer in answers}
    assert {404, 405} <= codes
    assert all(_is_kept_quiet(answer) for answer in answers)


def test_a_page_that_breaks_or_leads_elsewhere_keeps_its_address_quiet(
    cast: Cast, monkeypatch: pytest.MonkeyPatch, settings: Settings
) -> None:
    where = reverse("place", args=[links.token_of(cast.enrolment)])
    client = Client(raise_request_exception=False)
    assert _is_kept_quiet(client.get(where, HTTP_HOST="elsewhere.example"), 400)
    assert _is_kept_quiet(client.get(f"{where}?look=night"), 302)
    monkeypatch.setattr(place, "told_of", None)
    assert _is_kept_quiet(client.get(where), 500)
    settings.SECURE_SSL_REDIRECT = True
    assert _is_kept_quiet(Client().get(where), 301)


def test_the_other_pages_say_where_a_reader_comes_from_to_ourselves(db: None) -> None:
    answer = Client().get(reverse("home"))
    assert answer.headers["Referrer-Policy"] == "same-origin"
    assert "X-Robots-Tag" not in answer.headers


def _is_kept_quiet(answer: Any, code: int | None = None) -> bool:
    return bool(
        code in (None, answer.status_code)
        and answer.headers.get("Referrer-Policy") == "no-referrer"
        and answer.headers.get("X-Robots-Tag") == "noindex, nofollow"
        and answer.headers.get("Cache-Control") == "private, no-cache"
    )


def test_a_place_deleted_while_a_page_is_answered_is_no_page_and_no_broken_one(
    rf: RequestFactory, db: None
) -> None:
    def deleted_meanwhile(_request: HttpRequest) -> HttpResponse:
        raise Enrolment.DoesNotExist

    assert by_link(deleted_meanwhile)(rf.get("/b/x/")).status_code == 404
