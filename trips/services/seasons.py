"""Deeds on seasons."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils.translation import gettext as _

from trips.models import Job, Season, Site, User
from trips.services import jobs, nights
from trips.services.editing import save_edited

LONGEST = timedelta(days=3 * 366)
# The engine's limits: what "UTC" meant before and after is not known well enough.
FIRST_DAY, LAST_DAY = date(1972, 1, 1), date(2050, 12, 31)


@transaction.atomic
def save_season(season: Season, sites: Sequence[Site], *, by: User | None, now: datetime) -> None:
    """Save the season with its sites and ask for every night that is not there yet."""
    check_season(season, sites)
    if season.pk is None:
        season.save()
    else:
        save_edited(season)
    season.sites.set(sites)
    request_season(season, by=by, now=now)


@transaction.atomic
def request_season(season: Season, *, by: User | None, now: datetime) -> list[Job]:
    """Ask for the season's missing and stale nights: one job for each site that has any."""
    first, last = season.first_night, season.last_night
    return [
        jobs.ask(site, first, last, by=by, now=now)
        for site in season.sites.current()
        if not nights.are_fresh(site, first, last)
    ]


@transaction.atomic
def archive_season(season: Season, *, now: datetime) -> None:
    season.archived_at = now
    save_edited(season)


def check_season(season: Season, sites: Sequence[Site]) -> None:
    """Refuse what cannot be computed, naming the field."""
    first, last = season.first_night, season.last_night
    if last < first:
        _refuse("last_night", _("The last night is before the first. Swap the two dates."))
    if last - first > LONGEST:
        _refuse("last_night", _("A season has at most three years. Give an earlier last night."))
    if first < FIRST_DAY or last > LAST_DAY:
        _refuse("first_night", _("Nights are computed from 1972 to 2050. Give dates within."))
    for site in sites:
        if site.organisation_id != season.organisation_id:
            _refuse("sites", _("“%s” belongs to another organisation.") % site.name)


def _refuse(field: str, why: str) -> None:
    raise ValidationError({field: why})
