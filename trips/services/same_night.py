"""One night at every site of a season, judged: where would it be better? Changes no rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, time

from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.local_time import local
from trips.models import Night, Season, Site
from trips.planning.candidates import judge
from trips.planning.closures import why_closed
from trips.planning.nights import JudgedNight, Wishes, moonless_pairs
from trips.planning.offered import why_not
from trips.planning.reasons import LEAST_GAIN_HOURS
from trips.services.wanted import WantedHere, wanted_by

NOON = time(12)


@dataclass(frozen=True, slots=True)
class SiteNight:
    """A night at a site; `row` None: not computed. `closed` is a code of `why_closed`."""

    evening: date
    site: Site
    row: Night | None
    judged: JudgedNight | None
    closed: str | None
    is_stale: bool
    wanted: WantedHere | None = None  # None: the dark alone counts

    @property
    def usable_hours(self) -> float:
        return self.judged.usable_hours if self.judged else 0.0


def seasons_with(site: Site, evening: date) -> list[Season]:
    """Give the site's seasons that hold the evening, the earliest first. One query."""
    seasons = site.seasons.current().filter(first_night__lte=evening, last_night__gte=evening)
    return list(seasons.order_by("first_night", "name"))


def at_every_site(season: Season, evening: date) -> list[SiteNight]:
    """Give the evening at the season's sites, most usable hours first. Two queries, and three
    more where targets are wanted.

    What is closed stands behind what is open, and what is not computed behind both.
    """
    sites = list(season.sites.current())
    stored = Night.objects.filter(site__in=sites, date=evening)
    rows = {row.site_id: row for row in stored}
    wishes = Wishes.of(season)
    wanted = wanted_by(season, wishes, sites, evening=evening) or {}
    return _ordered(
        [_at_site(site, rows.get(site.pk), wishes, evening, wanted.get(site)) for site in sites]
    )


def at_site(season: Season, site: Site, row: Night | None, evening: date) -> SiteNight:
    """Give the evening at one site, whether or not it is still among the season's."""
    wishes = Wishes.of(season)
    wanted = wanted_by(season, wishes, [site], evening=evening) or {}
    return _at_site(site, row, wishes, evening, wanted.get(site))


def _at_site(
    site: Site, row: Night | None, wishes: Wishes, evening: date, wanted: WantedHere | None
) -> SiteNight:
    judged = None
    if row is not None:
        reason = why_not(site, wishes, evening)
        spans = wanted.spans if wanted else None
        judged = judge(row, wishes, site.zone, why_not=reason, wanted=spans)
    return SiteNight(
        evening=evening,
        site=site,
        row=row,
        judged=judged,
        closed=why_closed(site, evening),
        is_stale=row is not None and row.fingerprint != site_fingerprint(site),
        wanted=wanted,
    )


def gain_of_staying(night: SiteNight, wishes: Wishes) -> tuple[time, float] | None:
    """Give until when to stay, and the usable hours that adds, where it adds half an hour.

    Asked of nights that are no candidates: there the latest hour may be all that is against them.
    """
    if night.row is None or night.judged is None or night.judged.is_candidate:
        return None
    moonless = moonless_pairs(night.row, wishes.dark_level)
    until = local(moonless[-1][1], night.site.zone).time() if moonless else NOON
    if not wishes.out_until < until < NOON:
        return None
    later, spans = replace(wishes, out_until=until), night.wanted.spans if night.wanted else None
    longer = judge(night.row, later, night.site.zone, wanted=spans)
    gained = longer.usable_hours - night.usable_hours
    return (until, gained) if gained >= LEAST_GAIN_HOURS else None


def _ordered(nights: Sequence[SiteNight]) -> list[SiteNight]:
    return sorted(
        nights,
        key=lambda each: (
            each.row is None,
            each.closed is not None,
            # In whole minutes, so that nobody sees equal figures ranked apart.
            -round(each.usable_hours * 60),
            each.site.name,
        ),
    )
