"""Deeds on seasons."""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from datetime import datetime

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import Q, QuerySet
from django.utils.translation import gettext as _

from trips.almanac.dates import check_dates
from trips.models import Job, Season, Site, TargetList, User
from trips.planning.nights import Wishes
from trips.services import nights, target_windows
from trips.services.editing import save_edited

MOST_TRIED = 4


@transaction.atomic
def save_season(season: Season, sites: Sequence[Site], *, by: User | None, now: datetime) -> None:
    """Save the season with its sites and ask for every night that is not there yet.

    Errors: `SkyError` for its dates, `ValidationError` for a foreign site or list of targets,
    `EditedMeanwhileError`.
    """
    check_dates(season.first_night, season.last_night)
    _refuse_foreign(season, sites)
    if season.pk is None:
        season.save()
    else:
        save_edited(season)
    season.sites.set(sites)
    request_season(season, by=by, now=now)


@transaction.atomic
def request_season(season: Season, *, by: User | None, now: datetime) -> list[Job]:
    """Ask for the season's missing and stale nights and windows: a job each for a site."""
    first, last = season.first_night, season.last_night
    asked = [
        nights.ask(site, first, last, by=by, now=now)
        for site in season.sites.current()
        if not nights.are_fresh(site, first, last)
    ]
    return asked + target_windows.request_season(season, by=by, now=now)


@transaction.atomic
def keep_wishes(season: Season, wishes: Wishes, *, by: User | None, now: datetime) -> None:
    """Make the wishes the season's own; no night is computed again, windows of other targets are.

    Errors: `EditedMeanwhileError`, `ValidationError` for a foreign list of targets.
    """
    _wish(season, wishes)
    _refuse_foreign(season, ())
    save_edited(season)
    target_windows.request_season(season, by=by, now=now)


@transaction.atomic
def try_list(
    season: Season, target_list: TargetList, *, by: User | None, now: datetime
) -> list[Job]:
    """Compute when the targets of a list stand right, so that the season can be ranked by it
    without wanting it. The lists tried last are remembered, and computed again after edits.

    Errors: `ValidationError` for a foreign list.
    """
    _refuse_foreign_list(season, target_list)
    tried = season.tried_lists.through.objects.filter(season=season).order_by("-pk")
    season.tried_lists.remove(*[row.targetlist_id for row in tried[MOST_TRIED - 1 :]])
    season.tried_lists.add(target_list)
    return target_windows.request_season(season, by=by, now=now)


def choosable_lists(season: Season) -> QuerySet[TargetList]:
    """Give the organisation's lists; an archived one stays where it was already chosen."""
    own = TargetList.objects.filter(organisation=season.organisation_id)
    return own.filter(Q(archived_at=None) | Q(pk=season.target_list_id))


def as_wished(season: Season, wishes: Wishes) -> Season:
    """Give a copy of the season that wishes otherwise, for a page to be read by. Never save it."""
    wished = copy(season)
    _wish(wished, wishes)
    return wished


def _wish(season: Season, wishes: Wishes) -> None:
    season.run_length = wishes.run_length
    season.weekdays = sorted(wishes.weekdays)
    season.out_from, season.out_until = wishes.out_from, wishes.out_until
    season.most_hours_out = wishes.most_hours_out
    season.dark_level = wishes.dark_level
    season.target_list_id = wishes.target_list
    season.avoid = [[f"{first}", f"{last}"] for first, last in wishes.avoid]


@transaction.atomic
def archive_season(season: Season, *, now: datetime) -> None:
    """Take the season out of the lists; nothing of it is deleted."""
    season.archived_at = now
    save_edited(season)


def _refuse_foreign(season: Season, sites: Sequence[Site]) -> None:
    for site in sites:
        if site.organisation_id != season.organisation_id:
            why = _("“%(site)s” belongs to another organisation; choose among your own sites.")
            raise ValidationError({"sites": why % {"site": site.name}})
    if season.target_list is not None:
        _refuse_foreign_list(season, season.target_list)


def _refuse_foreign_list(season: Season, wanted: TargetList) -> None:
    if wanted.organisation_id != season.organisation_id:
        why = _("“%(list)s” belongs to another organisation; choose among your own lists.")
        raise ValidationError({"target_list": why % {"list": wanted.name}})
