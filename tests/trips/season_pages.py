"""The season's page as its tests open and read it."""

from __future__ import annotations

import re
from typing import Any

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Night, Site


def page(client: Client, cast: Cast, query: str = "", **headers: str) -> Any:
    return client.get(reverse("season_detail", args=[cast.season.pk]) + query, headers=headers)


def text_of(response: Any) -> str:
    """Give the words of a page, without tags and with single spaces."""
    bare = re.sub(r"<[^>]+>", " ", response.content.decode())
    return re.sub(r"\s+", " ", bare.replace("\u00a0", " "))


def add_site(cast: Cast, name: str, **fields: Any) -> Site:
    values: dict[str, Any] = {"latitude": 40.6, "longitude": -1.5, "zone": "Europe/Madrid"}
    site = Site.objects.create(organisation=cast.club, name=name, **values | fields)
    cast.season.sites.add(site)
    return site


def keep(client: Client, cast: Cast, **typed: Any) -> Any:
    address = reverse("season_keep", args=[cast.season.pk])
    return client.post(address, {"version": cast.season.version} | typed)


def without_dark() -> None:
    Night.objects.update(moonless_18=[], moonless_hours_18=0, dark_18=[], dark_hours_18=0)
