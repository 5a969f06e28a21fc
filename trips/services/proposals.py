"""What a new season starts from, so that only what differs has to be typed, and its twins."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from trips.models import Organisation, Season, Site

# From October on, people plan the next year; before, the twelve months to come.
PLANNING_MONTH = 10


@dataclass(frozen=True, slots=True)
class Proposal:
    name: str
    first_night: date
    last_night: date
    sites: tuple[Site, ...]


def propose_season(organisation: Organisation, *, now: datetime) -> Proposal:
    """Propose the next whole year or the next twelve months that no season covers yet, at all
    sites of the organisation."""
    first, last = _uncovered(organisation, now.date())
    return Proposal(
        name=_free_name(organisation, first, last),
        first_night=first,
        last_night=last,
        sites=tuple(Site.objects.current().filter(organisation=organisation)),
    )


def twins(season: Season) -> list[Season]:
    """Give the organisation's other seasons with the same dates at the same sites."""
    alike = Season.objects.current().filter(
        organisation=season.organisation,
        first_night=season.first_night,
        last_night=season.last_night,
    )
    chosen = _site_ids(season)
    return [other for other in alike.exclude(pk=season.pk) if _site_ids(other) == chosen]


def _site_ids(season: Season) -> set[int]:
    return set(season.sites.values_list("pk", flat=True))


def _uncovered(organisation: Organisation, today: date) -> tuple[date, date]:
    first, last = _dates(today)
    for season in Season.objects.current().filter(organisation=organisation).order_by("last_night"):
        if _covers_most(season, first, last):
            first, last = _dates(season.last_night + timedelta(days=1))
    return first, last


def _covers_most(season: Season, first: date, last: date) -> bool:
    """A few weeks of a year leave the rest of it to be planned; most of it would be a twin."""
    shared = min(season.last_night, last) - max(season.first_night, first)
    return shared > (last - first) / 2


def _dates(today: date) -> tuple[date, date]:
    first = today.replace(day=1)
    if today.month >= PLANNING_MONTH:
        first = date(today.year + 1, 1, 1)
    return first, first.replace(year=first.year + 1) - timedelta(days=1)


def _free_name(organisation: Organisation, first: date, last: date) -> str:
    """Name the season by its dates; where that name is taken, number it."""
    taken = set(
        Season.objects.current().filter(organisation=organisation).values_list("name", flat=True)
    )
    name = _named(first, last)
    numbered = (_("%(name)s, %(n)d") % {"name": name, "n": n} for n in range(2, len(taken) + 3))
    return next(free for free in (name, *numbered) if free not in taken)


def _named(first: date, last: date) -> str:
    if first.year == last.year:
        return _("Season %(year)d") % {"year": first.year}
    return _("%(first)s to %(last)s") % {
        "first": date_format(first, "F Y"),
        "last": date_format(last, "F Y"),
    }
