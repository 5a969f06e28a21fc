"""The next good nights of a season, as the first page tells them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from itertools import islice

from trips.almanac.local_time import night_at
from trips.models import Night, Season, Site
from trips.planning.candidates import judge
from trips.planning.nights import JudgedNight

LOOK_AHEAD = timedelta(days=120)
NEXT_NIGHTS = 3


def next_good_nights(season: Season, *, at: datetime) -> list[tuple[Site, list[JudgedNight]]]:
    """Give the next candidate nights of each site, tonight included. Two queries."""
    sites = list(season.sites.current())
    # Two days back: nowhere on Earth is it an earlier night.
    first = max(season.first_night, (at - timedelta(days=2)).date())
    last = min(season.last_night, (at + LOOK_AHEAD).date())
    rows: dict[int, list[Night]] = defaultdict(list)
    for row in Night.objects.filter(site__in=sites).between(first, last):
        rows[row.site_id].append(row)
    return [
        (site, list(islice(_candidates(season, site, rows[site.pk], at), NEXT_NIGHTS)))
        for site in sites
    ]


def _candidates(
    season: Season, site: Site, rows: Sequence[Night], at: datetime
) -> Iterator[JudgedNight]:
    tonight = night_at(at, site.zone)
    for row in rows:
        if row.date >= tonight:
            night = judge(row, season, site.zone)
            if night.is_candidate:
                yield night
