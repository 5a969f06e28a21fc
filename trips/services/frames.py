"""What a frame is about where nobody has said it: which night, and which target."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from trips.almanac.night_targets import night_targets
from trips.almanac.targets import starter_entries, starter_for
from trips.almanac.windows import known
from trips.models import Night, Season, Site, Spot, TargetEntry
from trips.services.same_night import seasons_with

DARK_LEVEL = Season.DarkLevel.ASTRONOMICAL.value


def usual_night(site: Site, today: date) -> date | None:
    """Give the first computed night from today on, else the last there is; None without any."""
    nights = Night.objects.filter(site=site).order_by("date").values_list("date", flat=True)
    return nights.filter(date__gte=today).first() or nights.last()


def computed_nights(site: Site) -> tuple[date, date] | None:
    """Give the first and the last night that is stored, whatever lies between."""
    nights = Night.objects.filter(site=site).order_by("date").values_list("date", flat=True)
    first, last = nights.first(), nights.last()
    return (first, last) if first and last else None


def usual_target(site: Site, spot: Spot, evening: date) -> str:
    """Give the key of the first target that stands right in a night: of those that the site's
    season wants, else of a list to begin with; of none that does, the first."""
    lists = [*_wanted(site, evening), starter_entries(starter_for(site.latitude, evening))]
    for entries in lists:
        found = night_targets(entries, site, spot, evening, dark_level=DARK_LEVEL)
        right = {one.entry.target for one in found.seen}
        if first := next((entry.target for entry in entries if entry.target in right), None):
            return first
    return next(entry.target for entries in lists for entry in entries)


def _wanted(site: Site, evening: date) -> Iterator[list[TargetEntry]]:
    for season in seasons_with(site, evening):
        if season.target_list:
            yield list(known(season.target_list.entries.all()))
