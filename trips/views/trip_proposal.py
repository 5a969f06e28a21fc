"""What the form of a new trip is filled in with: the run or the night that it was asked from.

The address names rows and wishes as the season's page does; what is not the organisation's, or
cannot be read, fills nothing in.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.http import QueryDict
from django.utils.translation import gettext as _

from trips.forms.controls import wished_query
from trips.forms.evenings import tell_stretch
from trips.forms.trip_plan import USUAL_DECISION, choosable_spots
from trips.models import Organisation, Season, Site, Spot
from trips.planning.nights import Wishes

MOST_DIGITS = 18
MOST_SECOND = 5


@dataclass(frozen=True, slots=True)
class TripProposal:
    """First values of both forms, and the site that was asked for where it has no spot yet."""

    plan: dict[str, Any]
    trip: dict[str, Any]
    site_without_spot: Site | None


def propose_trip(organisation: Organisation, asked: QueryDict) -> TripProposal:
    season = _season(organisation, asked)
    site = _site(organisation, asked.get("site"))
    spots = list(choosable_spots(organisation))
    spot = _spot(spots, site, asked.get("spot"))
    # The first of the second sites that has a spot to go to.
    seconds = [_site(organisation, pk) for pk in asked.getlist("second")[:MOST_SECOND]]
    second = next((found for one in seconds if (found := _spot(spots, one))), None)
    first, last = _date(asked.get("first")), _date(asked.get("last"))
    plan = {
        "season": season,
        "spot": spot,
        "second_spot": second,
        "first_night": first,
        "last_night": last if last != first else None,
        "until": season.out_until if season else Wishes().out_until,
        "decision_clock": USUAL_DECISION,
    }
    trip: dict[str, Any] = {"target_list": season.target_list_id if season else None}
    if site and first:
        dates = tell_stretch(first, max(first, last or first))
        trip["name"] = _("%(site)s, %(dates)s") % {"site": site.name, "dates": dates}
    return TripProposal(plan, trip, site if spot is None else None)


def _season(organisation: Organisation, asked: QueryDict) -> Season | None:
    """Give the season as the address wishes it: until when, and for which targets."""
    rows = Season.objects.filter(organisation=organisation)
    found = rows.filter(pk=_number(asked.get("season"))).first()
    return wished_query(asked, found)[0] if found else None


def _site(organisation: Organisation, asked: str | None) -> Site | None:
    rows = Site.objects.current().filter(organisation=organisation)
    site: Site | None = rows.filter(pk=_number(asked)).first()
    return site


def _spot(spots: Sequence[Spot], site: Site | None, asked: str | None = None) -> Spot | None:
    """Give the spot of the site that is asked for, else its first."""
    here = [one for one in spots if site and one.site_id == site.pk]
    named = [one for one in here if one.pk == _number(asked)]
    return next(iter(named or here), None)


def _number(asked: str | None) -> int | None:
    is_number = asked and asked.isascii() and asked.isdecimal() and len(asked) <= MOST_DIGITS
    return int(asked) if asked and is_number else None


def _date(asked: str | None) -> date | None:
    try:
        return date.fromisoformat(asked or "")
    except ValueError:
        return None
