"""Deeds on sites."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.places import place_of, zone_at
from trips.models import Season, Site, User
from trips.services import nights, target_windows
from trips.services.editing import save_edited


@transaction.atomic
def save_site(site: Site, *, by: User | None, now: datetime) -> None:
    """Save the site; nights that depended on what was edited are asked for again.

    Errors: `SkyError` for a position or zone that cannot be, `EditedMeanwhileError`.
    """
    if not site.zone:
        site.zone = zone_at(site.latitude, site.longitude)
    place_of(site)
    if site.pk is None:
        site.save()
        return
    before = site_fingerprint(Site.objects.select_for_update().get(pk=site.pk))
    save_edited(site)
    if site_fingerprint(site) != before:
        request_site(site, by=by, now=now)


def asks_for_lead_time(site: Site) -> bool:
    """Tell whether a permit is needed and nobody knows yet how long before."""
    is_by_permit = site.night_access == Site.Access.PERMIT
    return is_by_permit and not site.permit_number and site.permit_lead_days is None


def request_site(site: Site, *, by: User | None, now: datetime) -> None:
    """Ask for the site's nights and windows in every season that is not over."""
    for season in open_seasons(site, now=now):
        first, last = season.first_night, season.last_night
        if not nights.are_fresh(site, first, last):
            nights.ask(site, first, last, by=by, now=now)
    target_windows.request_site(site, by=by, now=now)


def open_seasons(site: Site, *, now: datetime) -> list[Season]:
    return list(site.seasons.current().filter(last_night__gte=now.date()))


@transaction.atomic
def archive_site(site: Site, *, now: datetime) -> None:
    """Take the site out of the lists; its nights and seasons stay as history."""
    site.archived_at = now
    save_edited(site)
