"""Rows that the tests of services start from. The clock is a plain value: NOON."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

from trips.models import Night, Organisation, Season, Site, User

NOON = datetime(2027, 3, 1, 12, tzinfo=UTC)
FIRST, LAST = date(2027, 3, 1), date(2027, 3, 10)


def make_organisation(name: str = "Club") -> Organisation:
    return Organisation.objects.create(name=name)


def make_site(organisation: Organisation | None = None, **fields: Any) -> Site:
    values = {"name": "Hill", "latitude": 40.4, "longitude": -1.1, "zone": "Europe/Madrid"}
    owner = organisation or make_organisation()
    return Site.objects.create(organisation=owner, **values | fields)


def make_season(*sites: Site, **fields: Any) -> Season:
    values = {"name": "Spring", "first_night": FIRST, "last_night": LAST}
    season = Season.objects.create(organisation=sites[0].organisation, **values | fields)
    season.sites.set(sites)
    return season


def make_user(email: str = "organiser@example.org") -> User:
    return User.objects.create_user(email)


def seconds_later(seconds: float) -> datetime:
    return NOON + timedelta(seconds=seconds)


def dates_of(site: Site) -> list[date]:
    return list(Night.objects.filter(site=site).order_by("date").values_list("date", flat=True))
