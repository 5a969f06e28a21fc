"""What a new night of a trip starts from: when people meet and when it ends. Changes no rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.nights import compute_nights
from trips.models import Night, Site
from trips.planning.candidates import judge
from trips.planning.hours_out import hours_out
from trips.planning.meeting_time import meeting_time
from trips.planning.nights import Wishes
from trips.services.wanted import Asked, wanted_at

# Where the hours in which people are out would end before they meet.
SHORTEST_NIGHT = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class NightHours:
    meeting_at: datetime
    ends_at: datetime


def propose_hours(site: Site, evenings: Sequence[date], wishes: Wishes) -> dict[date, NightHours]:
    """Give the hours of each evening, its meeting time by the definition and the end of the
    hours out. A date that the zone skipped has none.

    What is wanted is seen from the site's first spot; where its windows are not stored, the
    moonless dark is wanted. Errors: `SkyError` for dates that cannot be computed.
    """
    return {row.date: _hours(row, wishes) for row in _nights(site, evenings)}


def _nights(site: Site, evenings: Sequence[date]) -> list[Night]:
    """Read the nights that are stored and fresh; compute the others."""
    stored = Night.objects.filter(site=site, date__in=evenings).fresh(site_fingerprint(site))
    rows = {row.date: row for row in stored.select_related("site")}
    missing = sorted(set(evenings) - set(rows))
    if missing:
        rows |= {row.date: row for row in compute_nights(site, missing[0], missing[-1])}
    return [rows[evening] for evening in sorted(set(evenings)) if evening in rows]


def _hours(row: Night, wishes: Wishes) -> NightHours:
    zone = row.site.zone
    out_from, out_until = (
        datetime.fromtimestamp(edge, UTC) for edge in hours_out(row, wishes, zone)
    )
    meeting_at = meeting_time(
        sunset=row.sunset, wanted=_first_wanted(row, wishes), out_from=out_from
    )
    return NightHours(meeting_at, max(out_until, meeting_at + SHORTEST_NIGHT))


def _first_wanted(row: Night, wishes: Wishes) -> datetime | None:
    asked = wishes.target_list and Asked(wishes.target_list, row.date, row.date, wishes.dark_level)
    wanted = wanted_at([row.site], asked)[row.site] if asked else None
    spans = wanted.spans if wanted and wanted.spans else None
    pieces = judge(row, wishes, row.site.zone, wanted=spans).counted_out
    return datetime.fromtimestamp(pieces[0][0], UTC) if pieces else None
