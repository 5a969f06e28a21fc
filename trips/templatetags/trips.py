"""From a run or a night to a trip: the address of the form, filled in; and to where people meet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import template
from django.urls import reverse
from django.utils.http import urlencode

from trips.models import Season, Site, TripNight
from trips.planning.elsewhere import Elsewhere
from trips.planning.runs import Run
from trips.services.meeting_points import MeetingPoint, meeting_point, meeting_point_told

register = template.Library()

MOST_SECOND = 5


@register.filter
def led_to(night: TripNight) -> MeetingPoint | None:
    """Give the position of the meeting point to members."""
    return meeting_point(night)


@register.filter
def led_to_by_link(night: TripNight) -> MeetingPoint | None:
    """Give it to whoever has a place."""
    return meeting_point_told(night)


@register.simple_tag
def plan_from_run(
    site: Site, run: Run, query: str, elsewhere: Sequence[Elsewhere[Site]] = ()
) -> str:
    """Give the address for a run; `query` is how nights are asked for, as the season's page wishes.

    Second sites are those that are open in the same nights, most hours first.
    """
    open_then = [other.site.pk for other in elsewhere if not other.why_not and other.hours > 0]
    asked = {"site": site.pk, "first": run.first, "last": run.last}
    return _address(site, query, asked | {"second": open_then[:MOST_SECOND]})


@register.simple_tag
def plan_from_night(
    site: Site, night: date, season: Season | None, wished: str, spot: str | None
) -> str:
    """Give the address for one night, with the season and the wishes that judged it."""
    query = f"?season={season.pk}{wished}" if season else ""
    asked = {"site": site.pk, "first": night}
    return _address(site, query, asked | ({"spot": spot} if spot else {}))


def _address(site: Site, query: str, asked: dict[str, Any]) -> str:
    path = reverse("trip_add", args=[site.organisation_id])
    return f"{path}{query}{'&' if query else '?'}{urlencode(asked, doseq=True)}"
