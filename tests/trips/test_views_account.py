"""Signing in and out, and the pages for what goes wrong."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.core.exceptions import SuspiciousOperation
from django.test import Client, RequestFactory
from django.urls import reverse
from django.views import defaults
from django.views.csrf import csrf_failure

from tests.conftest import PASSWORD, Cast


def sign_in(client: Client, email: str, password: str, **extra: Any) -> Any:
    return client.post(reverse("sign_in"), {"username": email, "password": password} | extra)


def test_the_right_password_opens_the_home_page(cast: Cast) -> None:
    response = sign_in(Client(), cast.instructor.email, PASSWORD)
    assert response.status_code == 302
    assert response.headers["Location"] == reverse("home")


def test_the_e_mail_is_read_without_regard_to_capitals(cast: Cast) -> None:
    assert sign_in(Client(), cast.instructor.email.upper(), PASSWORD).status_code == 302


def test_a_wrong_password_does_not_open_it(cast: Cast) -> None:
    response = sign_in(Client(), cast.instructor.email, "guess")
    assert response.status_code == 200
    assert "_auth_user_id" not in response.client.session


def test_sign_in_does_not_lead_to_another_server(cast: Cast) -> None:
    response = sign_in(Client(), cast.instructor.email, PASSWORD, next="https://evil.example/")
    assert response.headers["Location"] == reverse("home")


def test_the_sixth_guess_is_refused_even_with_the_right_password(cast: Cast) -> None:
    client = Client()
    for _ in range(5):
        sign_in(client, cast.instructor.email, "guess")
    response = sign_in(client, cast.instructor.email, PASSWORD)
    assert response.status_code == 429
    assert "_auth_user_id" not in client.session


def test_the_guesses_of_one_account_are_counted_however_it_is_spelt(cast: Cast) -> None:
    client, email = Client(), cast.instructor.email
    for spelt in (email, email.upper(), email.title(), email.capitalize(), email):
        sign_in(client, spelt, "guess")
    response = sign_in(client, email.upper(), PASSWORD)
    assert response.status_code == 429
    assert "Too many wrong passwords" in response.content.decode()


def test_guessing_one_account_does_not_lock_another(cast: Cast) -> None:
    client = Client()
    for _ in range(6):
        sign_in(client, cast.instructor.email, "guess")
    assert sign_in(client, cast.coordinator.email, PASSWORD).status_code == 302


def test_signing_out_by_post_ends_the_session(coordinator: Client) -> None:
    coordinator.post(reverse("sign_out"))
    assert coordinator.get(reverse("site_list")).status_code == 302


def test_a_link_does_not_sign_out(coordinator: Client) -> None:
    assert coordinator.get(reverse("sign_out")).status_code == 405
    assert coordinator.get(reverse("site_list")).status_code == 200


# Without the fixture of the database, a query in these pages would fail the test.
@pytest.mark.parametrize(
    ("answer", "status", "words"),
    [
        (lambda r: defaults.bad_request(r, SuspiciousOperation()), 400, "could not be read"),
        (lambda r: defaults.permission_denied(r, PermissionError()), 403, "not open to you"),
        (lambda r: defaults.page_not_found(r, LookupError()), 404, "no such page"),
        (defaults.server_error, 500, "broke on our side"),
        (csrf_failure, 403, "open too long"),
    ],
)
def test_an_error_page_says_what_to_do_without_a_database(
    answer: Callable[..., Any], status: int, words: str
) -> None:
    response = answer(RequestFactory().get("/"))
    assert response.status_code == status
    assert words in response.content.decode()
    assert "trips/look.css" in response.content.decode()


def test_an_error_page_keeps_the_look_of_the_night() -> None:
    request = RequestFactory().get("/")
    request.COOKIES["look"] = "night"
    page = defaults.page_not_found(request, LookupError()).content.decode()
    assert '<html lang="en" data-look="night"' in page


def test_an_error_page_without_a_choice_follows_the_device() -> None:
    page = defaults.page_not_found(RequestFactory().get("/"), LookupError()).content.decode()
    assert "data-look" not in page


def test_a_wrong_password_is_said_and_the_e_mail_kept(cast: Cast) -> None:
    text = sign_in(Client(), cast.instructor.email, "guess").content.decode()
    assert 'role="alert"' in text
    assert "do not go together" in text
    assert cast.instructor.email in text


def test_sign_in_without_a_mistake_shows_none(client: Client, db: None) -> None:
    assert 'role="alert"' not in client.get(reverse("sign_in")).content.decode()
