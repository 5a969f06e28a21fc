"""What a frame is about where nobody has said it: which night, and which target."""

from __future__ import annotations

from datetime import date

from trips.almanac.targets import starter_entries, starter_for
from trips.almanac.windows import known
from trips.models import Night, Site, TargetEntry
from trips.services.same_night import seasons_with


def usual_night(site: Site, today: date) -> date | None:
    """Give the first computed night from today on, else the last there is; None without any."""
    nights = Night.objects.filter(site=site).order_by("date").values_list("date", flat=True)
    return nights.filter(date__gte=today).first() or nights.last()


def computed_nights(site: Site) -> tuple[date, date] | None:
    """Give the first and the last night that is stored, whatever lies between."""
    nights = Night.objects.filter(site=site).order_by("date").values_list("date", flat=True)
    first, last = nights.first(), nights.last()
    return (first, last) if first and last else None


def usual_target(site: Site, evening: date) -> str:
    """Give the key of what the site's season wants first, else of what a list to begin with has."""
    wanting = (season for season in seasons_with(site, evening) if season.target_list_id)
    season = next(wanting, None)
    listed: list[TargetEntry] = []
    if season and season.target_list:
        listed = list(known(season.target_list.entries.all()))
    offered = starter_entries(starter_for(site.latitude, evening))
    return (listed or offered)[0].target
