"""A night at a site for the tests of its page: stored or computed, and the page read."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, LAST, Cast, invented_night
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.nights import compute_nights
from trips.models import Night, Season, Site

Told = Callable[..., str]


def get(client: Client, site: Site, night: date = FIRST, **asked: Any) -> Any:
    return client.get(reverse("night_detail", args=[site.pk, night]), asked)


def teller(client: Client, cast: Cast) -> Told:
    """Give a function that gives the text of the night's page, at the club's site at first."""

    def text(night: date = FIRST, site: Site | None = None, **asked: Any) -> str:
        return str(get(client, site or cast.site, night, **asked).content.decode())

    return text


def store(site: Site, moonless_hours: float, night: date = FIRST, **changed: Any) -> Night:
    row = invented_night(
        site, night, moonless_hours=moonless_hours, fingerprint=site_fingerprint(site)
    )
    for name, value in changed.items():
        setattr(row, name, value)
    row.save()
    return row


def compute(site: Site, night: date) -> None:
    Night.objects.bulk_create(compute_nights(site, night, night))


def another_site(cast: Cast, name: str, **fields: Any) -> Site:
    values = {"latitude": 40.5, "longitude": -1.2, "zone": "Europe/Madrid"} | fields
    site = Site.objects.create(organisation=cast.club, name=name, **values)
    cast.season.sites.add(site)
    return site


def another_season(cast: Cast, name: str, **fields: Any) -> Season:
    values = {"first_night": FIRST - timedelta(days=30), "last_night": LAST} | fields
    season = Season.objects.create(organisation=cast.club, name=name, **values)
    season.sites.add(cast.site)
    return season
