"""The demo's sign-in link works once, for ten minutes, by its button, on this machine."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from demo.links import forget_link_tokens, make_link_token, use_link_token
from trips.models import User

pytestmark = pytest.mark.django_db

NOON = datetime(2027, 3, 1, 12, tzinfo=UTC)


@pytest.fixture
def organiser() -> User:
    return User.objects.create_user("organiser@example.org")


@pytest.fixture
def address(organiser: User) -> str:
    token = make_link_token(organiser, settings.DATA_FOLDER / "sign-in", now=timezone.now())
    return reverse("demo_sign_in", args=[token])


def is_signed_in(client: Client) -> bool:
    return "_auth_user_id" in client.session


def test_looking_at_the_link_shows_a_button_and_does_not_use_it_up(
    client: Client, address: str
) -> None:
    for _look in range(2):
        assert "<button" in client.get(address).content.decode()
    assert not is_signed_in(client)
    client.post(address)
    assert is_signed_in(client)


def test_the_link_does_not_work_twice(client: Client, address: str) -> None:
    client.post(address)
    other = Client()
    assert other.post(address).status_code == 410
    assert not is_signed_in(other)


def test_the_button_needs_its_own_page(address: str) -> None:
    stranger = Client(enforce_csrf_checks=True)
    assert stranger.post(address).status_code == 403
    assert not is_signed_in(stranger)


def test_the_link_does_not_work_from_another_machine(client: Client, address: str) -> None:
    assert client.post(address, REMOTE_ADDR="192.0.2.7").status_code == 403
    assert not is_signed_in(client)


def test_the_link_does_not_work_under_another_name(client: Client, address: str) -> None:
    assert client.post(address, headers={"host": "club.example.org"}).status_code == 400


@pytest.mark.parametrize(("minutes", "works"), [(0, True), (10, True), (11, False)])
def test_the_link_works_for_ten_minutes(
    minutes: int, works: bool, tmp_path: Path, organiser: User
) -> None:
    token = make_link_token(organiser, tmp_path, now=NOON)
    used = use_link_token(token, tmp_path, now=NOON + timedelta(minutes=minutes))
    assert (used == organiser) is works


def test_an_invented_token_does_not_work(tmp_path: Path, organiser: User) -> None:
    make_link_token(organiser, tmp_path, now=NOON)
    for token in ("", "x", "../secret-key"):
        assert use_link_token(token, tmp_path, now=NOON) is None


def test_the_folder_does_not_hold_the_token(tmp_path: Path, organiser: User) -> None:
    token = make_link_token(organiser, tmp_path, now=NOON)
    (kept,) = tmp_path.iterdir()
    assert token not in kept.name + kept.read_text("utf-8")


def test_a_new_start_makes_older_links_useless(tmp_path: Path, organiser: User) -> None:
    token = make_link_token(organiser, tmp_path, now=NOON)
    forget_link_tokens(tmp_path)
    assert use_link_token(token, tmp_path, now=NOON) is None
