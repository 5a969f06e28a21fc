"""Pages travel small."""

from __future__ import annotations

import gzip

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, store_nights


def test_a_browser_that_takes_it_gets_a_page_packed(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    address = reverse("season_detail", args=[cast.season.pk])
    packed = coordinator.get(address, headers={"accept-encoding": "gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert len(packed.content) < len(gzip.decompress(packed.content)) / 4


def test_a_browser_that_does_not_gets_it_plain(cast: Cast, coordinator: Client) -> None:
    plain = coordinator.get(reverse("season_detail", args=[cast.season.pk]))
    assert "Content-Encoding" not in plain.headers
