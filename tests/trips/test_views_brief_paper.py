"""A night's brief on paper for the members of its club: which version, which size, for whom."""

from __future__ import annotations

import io
import sys
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from tests.trips.briefed import (
    CAMERA,
    bring,
    make_briefed,
    make_plans,
    publish_now,
    the_night,
)
from tests.trips.joined import EVENING, placed
from trips.models import Membership, Organisation, Trip, User
from trips.services.briefs.without_reader import DRAFT
from trips.services.links import token_of

pytestmark = pytest.mark.django_db

A4_WIDTH, LETTER_WIDTH = 595, 612  # points: ISO 216, 210 mm; ANSI/ASME Y14.1, 8.5 inches


@pytest.fixture
def trip() -> Trip:
    return make_briefed()


def _got(trip: Trip, club: Organisation | None = None, **query: str) -> Any:
    user = User.objects.create_user("member@meadow.example")
    role = Membership.Role.INSTRUCTOR
    Membership.objects.create(organisation=club or trip.organisation, user=user, role=role)
    client = Client()
    client.force_login(user)
    return client.get(reverse("trip_night_brief_pdf", args=[the_night(trip).pk]), query)


def _read(response: Any) -> tuple[int, str]:
    """Give the sheet's width, and what it says."""
    assert response.headers["Content-Type"] == "application/pdf"
    (page,) = PdfReader(io.BytesIO(response.content)).pages
    return round(page.mediabox.width), " ".join(page.extract_text().split())


def test_a_member_reads_the_draft_where_nothing_is_published_and_it_says_so(trip: Trip) -> None:
    width, said = _read(_got(trip))
    assert width == A4_WIDTH
    assert str(DRAFT) in said
    assert "Galactic core" in said


def test_a_member_reads_the_newest_version_on_the_paper_that_they_ask_for(trip: Trip) -> None:
    publish_now(trip)
    width, said = _read(_got(trip, paper="letter"))
    assert width == LETTER_WIDTH
    assert "Version 1" in said
    assert str(DRAFT) not in said


def test_another_club_gets_none_and_an_unknown_paper_is_told_the_known_ones(trip: Trip) -> None:
    other = Organisation.objects.create(name="Other Club")
    assert _got(trip, other).status_code == 404
    User.objects.filter(email="member@meadow.example").delete()
    refused = _got(trip, paper="a0")
    assert refused.status_code == 400
    assert "a4, letter" in refused.content.decode()


def test_a_persons_text_holds_their_settings_and_the_way_to_help(trip: Trip) -> None:
    ilse = placed(trip)
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=24.0, widest_f_number=1.8)
    bring(placed(trip, "Bartholomew"), "lens", focal_mm=35.0, widest_f_number=2.0)
    publish_now(trip)
    make_plans()
    response = Client().get(reverse("brief_text", args=[token_of(ilse), EVENING]))
    assert response.headers["Content-Type"] == "text/plain; charset=utf-8"
    said = response.content.decode()
    for needed in ("For Ilse", "your 24 mm f/1.8", "The chapel", "Read out:", "geo:40.4"):
        assert needed in said, needed
    assert "Bartholomew" not in said
    assert "35 mm" not in said


def test_a_server_that_cannot_set_paper_says_what_it_lacks(
    trip: Trip, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    response = _got(trip)
    assert response.status_code == 503
    assert "fieldnights[pdf]" in response.content.decode()
