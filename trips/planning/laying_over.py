"""Two sites of a season laid over each other: which two, where nobody has chosen, and what of
their usable hours falls together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from math import asin, cos, radians, sin, sqrt

from trips.planning.comparing import COUNTING, Compared, KnownSite, KnownT, in_order
from trips.planning.nights import JudgedNight
from trips.planning.stretches import Pairs, seconds, within

HOUR = 3600.0
EARTH_RADIUS_KM = 6371.0
# Beyond this nobody drives instead: a day on the road, as the crow flies. Common practice, no
# published source.
FARTHEST_KM = 600.0


@dataclass(frozen=True, slots=True)
class SharedHours:
    """Usable hours of two sites: at both at the same time, and at each while the other has none."""

    both: float
    only_first: float
    only_second: float

    @property
    def of_first(self) -> float:
        return self.both + self.only_first

    @property
    def of_second(self) -> float:
        return self.both + self.only_second


def site_to_start_from(sites: Sequence[Compared[KnownT]]) -> Compared[KnownT] | None:
    """Give the site with the most usable hours; None where no night is computed."""
    ordered = in_order(sites, COUNTING, most_first=True)
    return ordered[0] if ordered and ordered[0].nights else None


def adds_most(
    first: Compared[KnownT], sites: Sequence[Compared[KnownT]]
) -> Compared[KnownT] | None:
    """Give the site with the most usable hours beyond the first one's, summed night by night.

    One that lies within FARTHEST_KM of it, where there is one; the better among equals.
    """
    others = [s for s in in_order(sites, COUNTING, most_first=True) if s.nights and s is not first]
    near = [s for s in others if _apart_km(first.site, s.site) <= FARTHEST_KM]
    ours = {night.date: night.usable_hours for night in first.nights if not night.why_not}
    return max(near or others, key=lambda site: _added(ours, site.nights), default=None)


def usable_pairs(night: JudgedNight) -> Pairs:
    """Give the stretches that a night's usable hours are the sum of; none where it is not
    offered. They are several where the Moon interrupts."""
    if night.why_not or not night.block:
        return ()
    block = (night.block.start.timestamp(), night.block.end.timestamp())
    return within(night.counted_out, block)


def shared_hours(first: Iterable[JudgedNight], second: Iterable[JudgedNight]) -> SharedHours:
    """Part the usable hours of two sites; with those of both, each adds up to its own."""
    ours, theirs = _by_date(first), _by_date(second)
    both = sum(
        seconds(within(theirs[day], pair))
        for day in ours.keys() & theirs.keys()
        for pair in ours[day]
    )
    of_first, of_second = (
        sum(seconds(pairs) for pairs in each.values()) for each in (ours, theirs)
    )
    return SharedHours(both / HOUR, (of_first - both) / HOUR, (of_second - both) / HOUR)


def _by_date(nights: Iterable[JudgedNight]) -> dict[date, Pairs]:
    return {night.date: usable_pairs(night) for night in nights}


def _added(ours: dict[date, float], nights: Iterable[JudgedNight]) -> int:
    hours = sum(
        max(0.0, night.usable_hours - ours.get(night.date, 0.0))
        for night in nights
        if not night.why_not
    )
    # Whole minutes: rounding chooses between nobody.
    return round(hours * 60)


def _apart_km(one: KnownSite, other: KnownSite) -> float:
    """Give the great circle between two sites, by the haversine formula."""
    here, there = radians(one.latitude), radians(other.latitude)
    across = radians(other.longitude - one.longitude)
    square = sin((there - here) / 2) ** 2 + cos(here) * cos(there) * sin(across / 2) ** 2
    return 2 * EARTH_RADIUS_KM * asin(min(1.0, sqrt(square)))
