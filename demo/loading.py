"""Puts the demo club into the database, or finds it there."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction

from demo import club
from trips.models import Hazard, Membership, Organisation, Season, Site, User
from trips.services.seasons import request_season, save_season
from trips.services.sites import save_site


@transaction.atomic
def load_club(*, now: datetime) -> Season:
    """Give the demo season with its jobs asked for; what is there already is left as it is."""
    organisation, _is_new = Organisation.objects.get_or_create(name=club.ORGANISATION)
    organiser = _member(organisation, club.ORGANISER, Membership.Role.COORDINATOR)
    _member(organisation, club.INSTRUCTOR, Membership.Role.INSTRUCTOR)
    named = {"organisation": organisation, "name": club.SEASON["name"]}
    season: Season | None = Season.objects.current().filter(**named).first()
    if season is not None:
        request_season(season, by=organiser, now=now)
        return season
    season = Season(organisation=organisation, **club.SEASON)
    sites = [_site(organisation, fields, organiser, now) for fields in club.SITES]
    save_season(season, sites, by=organiser, now=now)
    return season


def organiser() -> User:
    return User.objects.get(email=club.ORGANISER)


def _member(organisation: Organisation, email: str, role: Membership.Role) -> User:
    user = User.objects.filter(email=email).first()
    if user is None:
        # No password: the link on the terminal is the only way in.
        user = User.objects.create_user(email)
    Membership.objects.get_or_create(user=user, organisation=organisation, defaults={"role": role})
    return user


def _site(organisation: Organisation, fields: dict[str, Any], by: User, now: datetime) -> Site:
    named = Site.objects.current().filter(organisation=organisation, name=fields["name"])
    site: Site | None = named.first()
    if site is not None:
        return site
    site = Site(organisation=organisation, **fields)
    save_site(site, by=by, now=now)
    for kind, text in club.HAZARDS.get(site.name, []):
        Hazard.objects.create(site=site, kind=kind, text=text)
    return site
