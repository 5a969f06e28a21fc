"""What every page keeps to: to look changes nothing, nothing is inline, a deed wants its token."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.apps import apps
from django.test import Client

from tests.conftest import Cast
from tests.trips.doors import LOOKED_AT, ROLES, address
from trips.models import (
    Camera,
    DarknessReading,
    Hazard,
    Job,
    Landmark,
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


@pytest.mark.parametrize("name", LOOKED_AT)
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
        "trip_lend",
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


@pytest.mark.parametrize("name", LOOKED_AT)
def test_no_page_has_inline_script_or_style(
    name: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    page = signed_in("coordinator").get(address(name, cast)).content.decode(errors="replace")
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
