"""The compare page and its table as tests read them, and sites to be compared."""

from __future__ import annotations

import csv
from datetime import date
from io import StringIO
from typing import Any

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, invented_night
from trips.almanac.fingerprint import site_fingerprint
from trips.models import Night, Site


def page(client: Client, cast: Cast, query: str = "") -> Any:
    return client.get(reverse("season_compare", args=[cast.season.pk]) + query)


def text(client: Client, cast: Cast, query: str = "") -> str:
    # No-break spaces keep a figure with its unit, joiners two months; neither is read.
    content: str = page(client, cast, query).content.decode()
    return content.replace("\xa0", " ").replace("\u2060", "")


def table(client: Client, cast: Cast, query: str = "") -> list[dict[str, str]]:
    response = client.get(reverse("season_compare_csv", args=[cast.season.pk]) + query)
    return list(csv.DictReader(StringIO(response.content.decode("utf-8-sig"))))


def order(client: Client, cast: Cast, query: str = "") -> list[str]:
    return [row.found.site.name for row in page(client, cast, query).context["rows"]]


def add_site(cast: Cast, name: str, *, hours: float | None = 8, **fields: Any) -> Site:
    """Add a site to the season, with that many moonless hours each night, or without nights."""
    values: dict[str, Any] = {"latitude": 40.4, "longitude": -1.1, "zone": "Europe/Madrid"}
    site = Site.objects.create(organisation=cast.club, name=name, **values | fields)
    cast.season.sites.add(site)
    if hours is not None:
        fingerprint = site_fingerprint(site)
        Night.objects.bulk_create(
            invented_night(site, date(2027, 3, day), moonless_hours=hours, fingerprint=fingerprint)
            for day in range(1, 32)
        )
    return site
