"""Every address, tried by everybody. An address that is not in the matrix fails it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from django.apps import apps
from django.contrib import admin
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests.conftest import Cast
from trips.models import (
    Camera,
    DarknessReading,
    Hazard,
    Job,
    Landmark,
    Linked,
    Membership,
    Night,
    Season,
    Site,
    Spot,
    TargetEntry,
    TargetList,
    Trip,
    TripEvent,
    TripInstructor,
    TripNight,
)
from trips.services import links

ROLES = ["anonymous", "stranger", "instructor", "coordinator", "superuser"]

# A superuser keeps the server; the clubs' rows are their members' alone.
MEMBERS = [302, 404, 200, 200, 404]
ANY_ACCOUNT = [302, 200, 200, 200, 200]

# (method, name): the status for each of ROLES. 302 of the anonymous leads to the sign-in.
MATRIX: dict[tuple[str, str], list[int]] = {
    ("GET", "home"): [200, 200, 200, 200, 200],
    ("GET", "sign_in"): [200, 302, 302, 302, 302],
    ("POST", "sign_out"): [302, 302, 302, 302, 302],
    ("GET", "sign_out"): [405, 405, 405, 405, 405],
    ("POST", "look"): [302, 302, 302, 302, 302],
    ("GET", "look"): [405, 405, 405, 405, 405],
    ("GET", "camera"): [200, 200, 200, 200, 200],
    ("GET", "site_list"): ANY_ACCOUNT,
    ("GET", "site_add"): MEMBERS,
    ("POST", "site_add"): MEMBERS,
    ("GET", "site_detail"): MEMBERS,
    ("GET", "site_edit"): MEMBERS,
    ("POST", "site_edit"): MEMBERS,
    ("GET", "site_archive"): [302, 404, 403, 200, 404],
    ("POST", "site_archive"): [302, 404, 403, 302, 404],
    ("GET", "night_detail"): MEMBERS,
    ("GET", "darkness_add"): MEMBERS,
    ("POST", "darkness_add"): MEMBERS,
    ("GET", "darkness_csv"): MEMBERS,
    ("GET", "darkness_table"): MEMBERS,
    ("POST", "darkness_table"): MEMBERS,
    # Of the coordinator; the instructor did not make it.
    ("GET", "reading_remove"): [302, 404, 403, 200, 404],
    ("POST", "reading_remove"): [302, 404, 403, 302, 404],
    ("GET", "spot_add"): MEMBERS,
    ("POST", "spot_add"): MEMBERS,
    ("GET", "spot_detail"): MEMBERS,
    ("GET", "spot_frame"): MEMBERS,
    ("GET", "spot_edit"): MEMBERS,
    ("POST", "spot_edit"): MEMBERS,
    ("GET", "spot_archive"): [302, 404, 403, 200, 404],
    ("POST", "spot_archive"): [302, 404, 403, 302, 404],
    ("GET", "spot_first"): [405, 405, 405, 405, 405],
    ("POST", "spot_first"): [302, 404, 302, 302, 404],
    ("GET", "spot_skyline_csv"): MEMBERS,
    ("GET", "lit_then_dark"): MEMBERS,
    # No landmark has a face: back to the page that says so.
    ("GET", "lit_then_dark_csv"): [302, 404, 302, 302, 404],
    ("GET", "alignments"): MEMBERS,
    # Nothing is asked yet: back to the page that asks.
    ("GET", "alignments_csv"): [302, 404, 302, 302, 404],
    ("GET", "season_list"): ANY_ACCOUNT,
    ("GET", "season_add"): MEMBERS,
    ("POST", "season_add"): MEMBERS,
    ("GET", "season_detail"): MEMBERS,
    ("GET", "season_edit"): MEMBERS,
    ("POST", "season_edit"): MEMBERS,
    ("GET", "season_archive"): [302, 404, 403, 200, 404],
    ("POST", "season_archive"): [302, 404, 403, 302, 404],
    ("GET", "season_keep"): [405, 405, 405, 405, 405],
    ("POST", "season_keep"): [302, 404, 302, 302, 404],
    ("GET", "season_recompute"): [405, 405, 405, 405, 405],
    ("POST", "season_recompute"): [302, 404, 302, 302, 404],
    ("GET", "season_calendar"): MEMBERS,
    ("GET", "season_nights_csv"): MEMBERS,
    ("GET", "season_compare"): MEMBERS,
    ("GET", "season_compare_csv"): MEMBERS,
    ("GET", "target_lists"): ANY_ACCOUNT,
    ("GET", "target_list_add"): MEMBERS,
    ("POST", "target_list_add"): MEMBERS,
    ("GET", "target_list_copy"): MEMBERS,
    ("POST", "target_list_copy"): MEMBERS,
    ("GET", "target_list"): MEMBERS,
    ("GET", "target_list_edit"): MEMBERS,
    ("POST", "target_list_edit"): MEMBERS,
    ("GET", "target_list_archive"): [302, 404, 403, 200, 404],
    ("POST", "target_list_archive"): [302, 404, 403, 302, 404],
    ("GET", "target_list_csv"): MEMBERS,
    ("GET", "target_search"): MEMBERS,
    ("GET", "target_show"): MEMBERS,
    ("GET", "target_add"): [405, 405, 405, 405, 405],
    ("POST", "target_add"): [302, 404, 302, 302, 404],
    ("GET", "camera_list"): ANY_ACCOUNT,
    ("GET", "camera_add"): MEMBERS,
    ("POST", "camera_add"): MEMBERS,
    ("GET", "camera_detail"): MEMBERS,
    ("GET", "camera_edit"): MEMBERS,
    ("POST", "camera_edit"): MEMBERS,
    ("GET", "camera_calibrate"): MEMBERS,
    ("POST", "camera_calibrate"): MEMBERS,
    ("GET", "camera_archive"): [302, 404, 403, 200, 404],
    ("POST", "camera_archive"): [302, 404, 403, 302, 404],
    ("GET", "trip_list"): ANY_ACCOUNT,
    ("GET", "trip_add"): MEMBERS,
    ("POST", "trip_add"): MEMBERS,
    ("GET", "trip_detail"): MEMBERS,
    ("GET", "trip_history"): MEMBERS,
    # Of those who lead it (the instructor does) and of coordinators.
    ("GET", "trip_edit"): MEMBERS,
    ("POST", "trip_edit"): MEMBERS,
    ("GET", "trip_step"): MEMBERS,
    ("POST", "trip_step"): [302, 404, 302, 302, 404],
    ("GET", "trip_invitation"): [405, 405, 405, 405, 405],
    ("POST", "trip_invitation"): [302, 404, 302, 302, 404],
    ("GET", "trip_instructors"): MEMBERS,
    ("POST", "trip_instructors"): [302, 404, 302, 302, 404],
    ("GET", "trip_instructor_off"): [405, 405, 405, 405, 405],
    ("POST", "trip_instructor_off"): [302, 404, 302, 302, 404],
    ("GET", "trip_night_add"): MEMBERS,
    ("POST", "trip_night_add"): MEMBERS,
    ("GET", "trip_night_edit"): MEMBERS,
    ("POST", "trip_night_edit"): MEMBERS,
    ("GET", "trip_night_remove"): MEMBERS,
    ("POST", "trip_night_remove"): [302, 404, 302, 302, 404],
    ("GET", "trip_cars"): MEMBERS,
    ("POST", "trip_cars"): MEMBERS,
    ("GET", "trip_drivers"): MEMBERS,
    # No car is written down: there is nothing to choose, and so it is saved.
    ("POST", "trip_drivers"): [302, 404, 302, 302, 404],
    ("GET", "trip_night_safety"): MEMBERS,
    ("GET", "trip_night_close"): MEMBERS,
    ("POST", "trip_night_close"): [302, 404, 302, 302, 404],
    ("GET", "trip_night_reopen"): [405, 405, 405, 405, 405],
    ("POST", "trip_night_reopen"): [302, 404, 302, 302, 404],
    ("GET", "trip_night_decide"): [405, 405, 405, 405, 405],
    ("POST", "trip_night_decide"): [302, 404, 302, 302, 404],
    ("GET", "trip_night_log"): MEMBERS,
    ("POST", "trip_night_log"): MEMBERS,
    ("GET", "site_months"): MEMBERS,
    ("POST", "site_months"): [302, 404, 302, 302, 404],
    # Deeds of whoever leads the trip or coordinates; the superuser is no member.
    ("GET", "trip_people_csv"): MEMBERS,
    ("GET", "enrolment_remove"): MEMBERS,
    ("POST", "enrolment_remove"): [302, 404, 302, 302, 404],
    ("GET", "enrolment_no_show"): [405, 405, 405, 405, 405],
    ("POST", "enrolment_no_show"): [302, 404, 302, 302, 404],
    ("GET", "enrolment_came"): [405, 405, 405, 405, 405],
    ("POST", "enrolment_came"): [302, 404, 302, 302, 404],
    ("GET", "enrolment_move_up"): [405, 405, 405, 405, 405],
    ("POST", "enrolment_move_up"): [302, 404, 302, 302, 404],
    ("GET", "enrolment_new_link"): [405, 405, 405, 405, 405],
    ("POST", "enrolment_new_link"): [302, 404, 302, 302, 404],
    ("GET", "letter_again"): [405, 405, 405, 405, 405],
    ("POST", "letter_again"): [302, 404, 302, 302, 404],
    ("GET", "job_list"): ANY_ACCOUNT,
    ("GET", "jobs_open"): ANY_ACCOUNT,
    ("GET", "job_detail"): MEMBERS,
    ("GET", "job_progress"): MEMBERS,
    ("GET", "job_again"): [405, 405, 405, 405, 405],
    ("POST", "job_again"): [302, 404, 302, 302, 404],
    ("GET", "job_stop"): [405, 405, 405, 405, 405],
    ("POST", "job_stop"): [302, 404, 302, 302, 404],
    # Behind a private link, which is nobody's here: guessed. BY_LINK tries the right ones.
    ("GET", "group_targets"): MEMBERS,
    ("GET", "rota_add"): MEMBERS,
    ("POST", "rota_add"): MEMBERS,
    # No button of the form was pressed.
    ("POST", "rota_change"): [302, 404, 404, 404, 404],
    ("GET", "rota_change"): [405, 405, 405, 405, 405],
    ("POST", "count_link_renew"): [302, 404, 302, 302, 404],
    ("GET", "count_link_renew"): [405, 405, 405, 405, 405],
    ("GET", "head_count"): [404, 404, 404, 404, 404],
    ("POST", "head_count"): [404, 404, 404, 404, 404],
    ("POST", "head_count_ticks"): [404, 404, 404, 404, 404],
    ("GET", "head_count_ticks"): [405, 405, 405, 405, 405],
    ("POST", "head_count_close"): [404, 404, 404, 404, 404],
    ("GET", "head_count_close"): [405, 405, 405, 405, 405],
    ("GET", "head_count_paper"): [404, 404, 404, 404, 404],
    ("GET", "head_count_worker"): [404, 404, 404, 404, 404],
    ("GET", "place"): [404, 404, 404, 404, 404],
    ("POST", "place"): [404, 404, 404, 404, 404],
    ("GET", "place_confirm"): [405, 405, 405, 405, 405],
    ("POST", "place_confirm"): [404, 404, 404, 404, 404],
    ("GET", "place_give_back"): [404, 404, 404, 404, 404],
    ("POST", "place_give_back"): [404, 404, 404, 404, 404],
    ("GET", "place_new_link"): [405, 405, 405, 405, 405],
    ("POST", "place_new_link"): [404, 404, 404, 404, 404],
    ("GET", "place_export"): [404, 404, 404, 404, 404],
    ("GET", "place_forget"): [404, 404, 404, 404, 404],
    ("POST", "place_forget"): [404, 404, 404, 404, 404],
    ("GET", "loan_kit"): ANY_ACCOUNT,
    ("GET", "loan_grant"): [405, 405, 405, 405, 405],
    ("POST", "loan_grant"): [302, 404, 302, 302, 404],
    ("GET", "loan_refuse"): [405, 405, 405, 405, 405],
    ("POST", "loan_refuse"): [302, 404, 302, 302, 404],
    ("GET", "enrolment_lend"): [405, 405, 405, 405, 405],
    # No piece is named.
    ("POST", "enrolment_lend"): [302, 404, 404, 404, 404],
    ("GET", "trip_gear_csv"): MEMBERS,
    ("GET", "loan_item_add"): MEMBERS,
    ("POST", "loan_item_add"): MEMBERS,
    ("GET", "loan_item_edit"): MEMBERS,
    ("POST", "loan_item_edit"): MEMBERS,
    ("GET", "loan_item_archive"): [302, 404, 403, 200, 404],
    ("POST", "loan_item_archive"): [302, 404, 403, 302, 404],
    ("GET", "my_gear"): [404, 404, 404, 404, 404],
    ("GET", "my_gear_add"): [404, 404, 404, 404, 404],
    ("POST", "my_gear_add"): [404, 404, 404, 404, 404],
    ("GET", "my_gear_change"): [404, 404, 404, 404, 404],
    ("POST", "my_gear_change"): [404, 404, 404, 404, 404],
    ("GET", "my_gear_remove"): [405, 405, 405, 405, 405],
    ("POST", "my_gear_remove"): [404, 404, 404, 404, 404],
    ("GET", "my_gear_small"): [405, 405, 405, 405, 405],
    ("POST", "my_gear_small"): [404, 404, 404, 404, 404],
    ("GET", "my_gear_copy"): [405, 405, 405, 405, 405],
    ("POST", "my_gear_copy"): [404, 404, 404, 404, 404],
    ("GET", "my_gear_ask"): [405, 405, 405, 405, 405],
    ("POST", "my_gear_ask"): [404, 404, 404, 404, 404],
    ("GET", "my_gear_withdraw"): [405, 405, 405, 405, 405],
    ("POST", "my_gear_withdraw"): [404, 404, 404, 404, 404],
    ("GET", "invitation"): [404, 404, 404, 404, 404],
    ("POST", "invitation"): [404, 404, 404, 404, 404],
    # A draft has no open page.
    ("GET", "join"): [404, 404, 404, 404, 404],
    ("POST", "join"): [404, 404, 404, 404, 404],
    # Only under the demo settings; the token in this address is nobody's.
    ("GET", "demo_sign_in"): [200, 200, 200, 200, 200],
    ("POST", "demo_sign_in"): [410, 410, 410, 410, 410],
}
NEEDS_NO_ACCOUNT = {"sign_in", "sign_out", "demo_sign_in", "look"}
# Which row's link opens an address.
BY_LINK: dict[str, Callable[[Cast], Linked]] = {
    "head_count": lambda cast: cast.trip_instructor,
    "head_count_paper": lambda cast: cast.trip_instructor,
    "head_count_worker": lambda cast: cast.trip_instructor,
    "place": lambda cast: cast.enrolment,
    "place_give_back": lambda cast: cast.enrolment,
    "place_export": lambda cast: cast.enrolment,
    "place_forget": lambda cast: cast.enrolment,
    "my_gear": lambda cast: cast.enrolment,
}


def address(name: str, cast: Cast) -> str:
    values: dict[str, Any] = {
        "organisation_id": cast.club.pk,
        "site_id": cast.site.pk,
        "season_id": cast.season.pk,
        "job_id": cast.job.pk,
        "spot_id": cast.spot.pk,
        "list_id": cast.target_list.pk,
        "camera_id": cast.camera.pk,
        "reading_id": cast.reading.pk,
        "night": cast.season.first_night,
        "trip_id": cast.trip.pk,
        "night_id": cast.trip_night.pk,
        "instructor_id": cast.trip_instructor.pk,
        "rota_id": cast.rota.pk,
        "token": "no-such-token",
        "uid": cast.trip.uid,
        "enrolment_id": cast.enrolment.pk,
        "letter_id": cast.letter.pk,
        "item_id": cast.loan_item.pk,
        "loan_id": cast.loan.pk,
        "kind": "lens",
        "number": 1,
    }
    wanted = {key for pattern in patterns() if pattern.name == name
              for key in pattern.pattern.converters}  # fmt: skip
    return reverse(name, kwargs={key: values[key] for key in wanted})


def patterns(resolver: URLResolver | None = None) -> Iterator[URLPattern]:
    for found in (resolver or get_resolver()).url_patterns:
        if isinstance(found, URLResolver):
            if found.namespace != "admin":  # tried as a whole, below
                yield from patterns(found)
        else:
            yield found


def test_every_address_is_in_the_matrix() -> None:
    assert {pattern.name for pattern in patterns()} == {name for _, name in MATRIX}


def test_every_address_is_tried_by_get() -> None:
    never_got = {name for _, name in MATRIX} - {name for way, name in MATRIX if way == "GET"}
    assert never_got == set()


@pytest.mark.parametrize(("method", "name"), MATRIX)
def test_the_door_answers(
    method: str, name: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    """To each role as if no other had been there before."""
    where = address(name, cast)
    answers = {}
    for role in ROLES:
        with transaction.atomic():
            answers[role] = signed_in(role).generic(method, where)
            transaction.set_rollback(True)
    assert [answer.status_code for answer in answers.values()] == MATRIX[method, name]
    if answers["anonymous"].status_code == 302 and name not in NEEDS_NO_ACCOUNT:
        assert answers["anonymous"].headers["Location"].startswith(reverse("sign_in"))


@pytest.mark.parametrize("role", ["anonymous", "stranger", "coordinator"])
@pytest.mark.parametrize("name", BY_LINK)
def test_a_link_opens_to_whoever_holds_it_and_to_nobody_when_revoked_or_expired(
    name: str, role: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    row, client = BY_LINK[name](cast), signed_in(role)
    where = reverse(name, args=[links.token_of(row)])
    answer = client.get(where)
    assert answer.status_code == 200
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert "noindex" in answer.headers["X-Robots-Tag"]
    row.link_expires_at = datetime(2020, 1, 1, tzinfo=UTC)  # long before anybody looks
    row.save()
    assert client.get(where).status_code == 404
    row.link_expires_at = None
    links.revoke(row)
    assert client.get(where).status_code == 404


def admin_addresses(cast: Cast) -> list[str]:
    """Every address of the back room that Django serves for our rows."""
    views = ["index", "password_change", "jsi18n", "autocomplete"]
    addresses = [reverse(f"admin:{view}") for view in views]
    for model in admin.site._registry:
        name = f"admin:{model._meta.app_label}_{model._meta.model_name}"
        addresses += [reverse(f"{name}_{way}") for way in ("changelist", "add")]
        addresses += [reverse(f"{name}_{way}", args=[1]) for way in ("change", "delete", "history")]
    return addresses


@pytest.mark.parametrize("role", ["anonymous", "stranger", "instructor", "coordinator"])
def test_the_back_room_is_shut(role: str, cast: Cast, signed_in: Callable[[str], Client]) -> None:
    for address in admin_addresses(cast):
        response = signed_in(role).get(address)
        assert response.status_code == 302, address
        assert reverse("admin:login") in response.headers["Location"], address


@pytest.mark.parametrize("model", ["user", "organisation", "site", "season", "job"])
def test_the_back_room_is_open_to_a_superuser(
    model: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    response = signed_in("superuser").get(reverse(f"admin:trips_{model}_changelist"))
    assert response.status_code == 200


@pytest.mark.parametrize("model", ["site", "season", "job"])
def test_the_back_room_does_not_change_what_services_keep(
    model: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    client, row = signed_in("superuser"), getattr(cast, model)
    assert client.get(reverse(f"admin:trips_{model}_add")).status_code == 403
    for way in ("change", "delete"):
        address = reverse(f"admin:trips_{model}_{way}", args=[row.pk])
        assert client.post(address, {"post": "yes"}).status_code == 403


@pytest.mark.parametrize("name", sorted({name for way, name in MATRIX if way == "GET"}))
def test_reading_a_page_changes_no_row(
    name: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    where = address(name, cast)
    before = _rows()
    signed_in("coordinator").get(where)
    assert _rows() == before


@pytest.mark.parametrize(
    "name",
    [
        "season_recompute",
        "job_stop",
        "job_again",
        "sign_out",
        "site_archive",
        "season_archive",
        "spot_archive",
        "spot_first",
        "target_list_archive",
        "loan_item_add",
        "loan_item_edit",
        "loan_item_archive",
        "loan_grant",
        "loan_refuse",
        "enrolment_lend",
        "camera_archive",
        "camera_calibrate",
        "reading_remove",
        "target_list_copy",
        "target_add",
        "trip_add",
        "trip_edit",
        "trip_step",
        "trip_invitation",
        "trip_instructors",
        "trip_instructor_off",
        "trip_night_add",
        "trip_night_edit",
        "trip_night_remove",
    ],
)
def test_a_deed_without_the_token_against_forgery_is_refused(
    name: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    client = signed_in("coordinator")
    client.handler.enforce_csrf_checks = True
    assert client.post(address(name, cast)).status_code == 403


@pytest.mark.parametrize("role", ROLES)
def test_every_answer_carries_the_policy(
    role: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    for name in ("home", "season_detail", "sign_in"):
        policy = signed_in(role).get(address(name, cast)).headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'self';")
        assert "unsafe" not in policy


@pytest.mark.parametrize("name", sorted({name for way, name in MATRIX if way == "GET"}))
def test_no_page_has_inline_script_or_style(
    name: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    page = signed_in("coordinator").get(address(name, cast)).content.decode()
    # Files of our own, and blocks of data, which are not run.
    assert re.findall(r'<script(?! defer src="/static/)(?![^>]*application/json)', page) == []
    assert "<style" not in page
    assert " style=" not in page


def _rows() -> dict[str, list[Any]]:
    """Every row of the trade, with every value."""
    kinds = [Site, Spot, Landmark, Season, TargetList, TargetEntry, Night, Job, Membership, Hazard,
             Camera, DarknessReading, Trip, TripNight, TripInstructor, TripEvent]  # fmt: skip
    assert {kind._meta.label for kind in kinds} < {m._meta.label for m in apps.get_models()}
    return {kind.__name__: list(kind._default_manager.order_by("pk").values()) for kind in kinds}
