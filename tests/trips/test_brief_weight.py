"""What a phone keeps of a trip of three nights: the pages, and all that they need."""

from __future__ import annotations

import gzip
import re
from datetime import timedelta
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from django.contrib.staticfiles import finders
from django.test import Client
from django.urls import reverse

from tests.trips.briefed import CAMERA, bring, make_briefed, make_plans, publish_now
from tests.trips.joined import EVENING, MEETING, placed
from trips.models import Trip, TripNight
from trips.services.briefs.plans import OF_A_NIGHT
from trips.services.links import token_of

pytestmark = pytest.mark.django_db

NIGHTS, PICTURES = 3, 7  # a strip, and of each target a finder and a sky
MOST_RAW, MOST_PACKED, MOST_OF_A_PICTURE = 400_000, 150_000, 12_000
MORE_TARGETS = (
    ("milky-way:arch", "Arch", "moonless"),
    ("deep-sky:NGC7000", "Nebula", "dark"),
    ("planet:jupiter", "Jupiter", "any"),
)


@pytest.fixture
def trip() -> Trip:
    trip = make_briefed()
    assert trip.target_list is not None
    for key, name, light in MORE_TARGETS:
        trip.target_list.entries.create(target=key, name=name, weight=0.5, light=light)
    third, later = TripNight.objects.latest("date"), timedelta(days=2)
    TripNight.objects.create(
        trip=trip, spot=third.spot, meeting_point="The chapel", date=EVENING + later,
        meeting_at=MEETING + later, ends_at=MEETING + later + timedelta(hours=6),
        call_out_at=MEETING + later + timedelta(hours=8),
    )  # fmt: skip
    return trip


def test_three_nights_are_light_enough_for_a_weak_signal(trip: Trip, client: Client) -> None:
    ilse = placed(trip)
    bring(ilse, "camera", **CAMERA)
    bring(ilse, "lens", focal_mm=24.0, widest_f_number=1.8)
    for night in TripNight.objects.select_related(*OF_A_NIGHT):
        publish_now(trip, night=night)
    assert make_plans() == NIGHTS
    kept = _kept(client, token_of(ilse))
    bodies = {where: _body(client, where) for where in kept}
    nights = [body for where, body in bodies.items() if re.search(r"/\d{4}-\d\d-\d\d/$", where)]
    assert len(nights) == NIGHTS
    pictures = [one for body in nights for one in re.findall(rb"<svg.*?</svg>", body, re.S)]
    assert len(pictures) == NIGHTS * PICTURES
    assert max(map(len, pictures)) <= MOST_OF_A_PICTURE
    assert sum(map(len, bodies.values())) <= MOST_RAW
    assert sum(len(gzip.compress(body)) for body in bodies.values()) <= MOST_PACKED


def _kept(client: Client, token: str) -> list[str]:
    """Give what the script that keeps the pages fetches."""
    script = client.get(reverse("place_worker", args=[token])).content.decode()
    found = re.search(r"const FIRST = \[(.*?)\];", script, re.S)
    assert found is not None
    return re.findall(r"'([^']+)'", found[1])


def _body(client: Client, where: str) -> bytes:
    path = urlsplit(where).path
    if not path.startswith(settings.STATIC_URL):
        answer = client.get(path)
        assert answer.status_code == 200
        return answer.content
    file = finders.find(path.removeprefix(settings.STATIC_URL))
    assert file is not None
    return Path(file).read_bytes()
