"""A session that ended while somebody typed: the sign-in stands between, and nothing is lost."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import PASSWORD, Cast
from tests.trips.test_views_sites import edited
from trips.models import Site


@pytest.fixture
def editing(cast: Cast) -> str:
    return reverse("site_edit", args=[cast.site.pk])


def sent(client: Client, cast: Cast, address: str) -> Any:
    return client.post(address, edited(cast, notes="Two <gates> & a “ford”\nand dogs"))


def sign_in(client: Client, cast: Cast, asked: Any, **changed: str) -> Any:
    """Sign in on the page that was given, with what it carries along."""
    carried = {name: asked.context[name] for name in ("next", "typed")}
    who = {"username": cast.instructor.email, "password": PASSWORD}
    return client.post(reverse("sign_in"), carried | who | changed)


def test_a_form_sent_after_the_session_ended_asks_for_the_sign_in_and_keeps_it(
    cast: Cast, editing: str
) -> None:
    page = sent(Client(), cast, editing).content.decode()
    assert "You were signed out while you were typing. It is kept" in page
    assert "csrfmiddlewaretoken" not in page.split('name="typed" value="')[1].split('"')[0]


def test_signed_in_again_one_goes_on_with_what_was_typed(cast: Cast, editing: str) -> None:
    client = Client()
    offered = sign_in(client, cast, sent(client, cast, editing))
    assert "Nothing is saved yet." in offered.content.decode()
    assert offered.context["address"] == editing
    again: dict[str, Any] = {}
    for name, value in offered.context["fields"]:
        again.setdefault(name, []).append(value)
    assert client.post(editing, again).status_code == 302
    cast.site.refresh_from_db()
    assert cast.site.notes == "Two <gates> & a “ford”\nand dogs"


def test_nothing_is_saved_by_signing_in_alone(cast: Cast, editing: str) -> None:
    client = Client()
    sign_in(client, cast, sent(client, cast, editing))
    assert Site.objects.get(pk=cast.site.pk).notes == ""


def test_a_wrong_password_does_not_lose_it(cast: Cast, editing: str) -> None:
    client = Client()
    asked = sign_in(client, cast, sent(client, cast, editing), password="guess")
    assert sign_in(client, cast, asked).context["address"] == editing


def test_what_was_typed_is_not_sent_to_another_server(cast: Cast, editing: str) -> None:
    client = Client()
    asked = sent(client, cast, editing)
    response = sign_in(client, cast, asked, next="https://evil.example/")
    assert (response.status_code, response.headers["Location"]) == (302, reverse("home"))


def test_markup_in_it_stays_text(cast: Cast, editing: str) -> None:
    client = Client()
    page = sign_in(client, cast, sent(client, cast, editing)).content.decode()
    assert "Two &lt;gates&gt; &amp; a “ford”" in page


def test_who_only_looks_is_sent_to_the_sign_in(editing: str) -> None:
    response = Client().get(editing)
    assert response.headers["Location"] == f"{reverse('sign_in')}?next={editing}"


def test_who_signs_in_with_nothing_typed_goes_straight_on(cast: Cast, editing: str) -> None:
    who = {"username": cast.instructor.email, "password": PASSWORD, "next": editing}
    assert Client().post(reverse("sign_in"), who).headers["Location"] == editing
