"""What a season would lose without a site: usable hours of nights that no other site offers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import date

from trips.planning.comparing import Compared, KnownT
from trips.planning.nights import JudgedNight


def only_here(sites: Sequence[Compared[KnownT]]) -> dict[KnownT, float]:
    """Sum, for each site, the usable hours of the nights on which it alone offers any.

    Only nights that are computed for every site count: elsewhere nobody knows what the others
    offer. A single site has no others, and so nothing is said of it.
    """
    alone: dict[KnownT, float] = {site.site: 0.0 for site in sites} if len(sites) > 1 else {}
    for nights in _by_date(sites).values():
        offering = [(site, hours) for site, night in nights if (hours := _offered(night))]
        if len(nights) == len(sites) > 1 and len(offering) == 1:
            ((site, hours),) = offering
            alone[site] += hours
    return alone


def _by_date(
    sites: Sequence[Compared[KnownT]],
) -> dict[date, list[tuple[KnownT, JudgedNight]]]:
    by_date: dict[date, list[tuple[KnownT, JudgedNight]]] = defaultdict(list)
    for site in sites:
        for night in site.nights:
            by_date[night.date].append((site.site, night))
    return by_date


def _offered(night: JudgedNight) -> float:
    return 0.0 if night.why_not else night.usable_hours
