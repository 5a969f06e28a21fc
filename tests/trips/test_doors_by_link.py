"""What opens by a private link alone: to whoever holds it, and to nobody once it is over."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Linked
from trips.services import links

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
