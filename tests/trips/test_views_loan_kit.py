"""The club's loan kit: kept by its members, told with who has what."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from tests.conftest import WHEN, Cast
from tests.trips.test_services_gear import in_kit
from tests.trips.test_views_my_gear import BEFORE, words
from trips.models import LoanItem
from trips.planning.gear import KINDS, Tracker
from trips.services import loans


@pytest.fixture(autouse=True)
def _a_week_before(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(timezone, "now", lambda: BEFORE)


def add(client: Client, cast: Cast, kind: str, /, **typed: object) -> str:
    where = reverse("loan_item_add", args=[cast.club.pk, kind])
    return client.post(where, typed, follow=True).content.decode()


def test_a_piece_is_added_with_the_form_of_its_kind_and_told_in_a_line(
    cast: Cast, coordinator: Client
) -> None:
    told = words(add(coordinator, cast, "tracker", name="Tern", payload_kg="3,5", note="Box 2"))
    assert "Tern is saved." in told
    assert "carries 3.5 kg" in told
    assert "Box 2" in told
    assert LoanItem.objects.get().spec["payload_kg"] == 3.5


@pytest.mark.parametrize("kind", KINDS)
def test_a_form_asks_each_thing_once(cast: Cast, coordinator: Client, kind: str) -> None:
    page = coordinator.get(reverse("loan_item_add", args=[cast.club.pk, kind])).content.decode()
    asked = re.findall(r'<(?:input|select|textarea)[^>]* name="(\w+)"[^>]* id="id_', page)
    assert "note" in asked
    assert len(asked) == len(set(asked))


def test_what_cannot_be_is_refused_and_typing_kept(cast: Cast, coordinator: Client) -> None:
    for typed, refusal in (
        ({"name": "", "payload_kg": "3"}, "Without a name it cannot be found again"),
        ({"name": "Tern", "payload_kg": "0"}, "0 is out of range: it must be from 0.1 to 100"),
        ({"name": "T" * 81, "payload_kg": "3"}, "Write at most 80 characters"),
        ({"name": "Tern", "payload_kg": "3", "note": "n" * 201}, "Write at most 200 characters"),
    ):
        html = add(coordinator, cast, "tracker", **typed)
        assert refusal in html
        assert f'value="{typed["payload_kg"]}"' in html
    assert not LoanItem.objects.exists()


def test_a_name_twice_is_refused(cast: Cast, coordinator: Client) -> None:
    in_kit(cast)
    assert "already “Tern”" in add(coordinator, cast, "tracker", name="Tern", payload_kg="3")


def test_of_two_editors_the_second_is_told_and_may_then_save(
    cast: Cast, coordinator: Client
) -> None:
    item = in_kit(cast)
    where = reverse("loan_item_edit", args=[item.pk])
    loans.save_item(LoanItem.objects.get(pk=item.pk), Tracker(name="Tern", payload_kg=9))
    typed = {"name": "Tern", "payload_kg": "4", "version": "1"}
    html = coordinator.post(where, typed).content.decode()
    assert "was changed by somebody else meanwhile" in html
    assert 'name="version" value="2"' in html
    assert LoanItem.objects.get(pk=item.pk).spec["payload_kg"] == 9
    coordinator.post(where, typed | {"version": "2"})
    assert LoanItem.objects.get(pk=item.pk).spec["payload_kg"] == 4


def test_the_kit_says_who_has_what_and_who_asks(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    item = in_kit(cast)
    loans.lend(item, cast.trip_night, cast.enrolment, by=cast.instructor, now=WHEN)
    loans.ask(item, cast.enrolment, cast.trip.nights.all())
    told = words(signed_in("instructor").get(reverse("loan_kit")).content.decode())
    assert f"Mon 1 Mar {cast.enrolment.person.name}" in told
    assert "1 person asks for it" in told
    assert "Ines" not in signed_in("stranger").get(reverse("loan_kit")).content.decode()


def test_an_archived_piece_leaves_the_kit_and_cannot_be_asked_for(
    cast: Cast, coordinator: Client
) -> None:
    item = in_kit(cast)
    coordinator.post(reverse("loan_item_archive", args=[item.pk]), {"version": item.version})
    told = words(coordinator.get(reverse("loan_kit")).content.decode())
    assert "1 archived piece" in told
    assert loans.kit_of(cast.trip) == []
