"""What a season would lose without a site: usable hours of nights that no other site offers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

from trips.planning.comparing import Compared, KnownT


def only_here(sites: Sequence[Compared[KnownT]]) -> dict[KnownT, float]:
    """Sum, for each site, the usable hours of the nights on which it alone offers any.

    Only nights that are computed for every site count: elsewhere nobody knows what the others
    offer. A single site has no others, and so nothing is said of it.
    """
    if len(sites) < 2:
        return {}
    computed = Counter(night.date for site in sites for night in site.nights)
    alone: dict[KnownT, float] = {site.site: 0.0 for site in sites}
    for day, offer in _single_offers(sites).items():
        if offer and computed[day] == len(sites):
            site, hours = offer
            alone[site] += hours
    return alone


def _single_offers(sites: Sequence[Compared[KnownT]]) -> dict[date, tuple[KnownT, float] | None]:
    """Give, by night, the site that offers usable hours; None where several do."""
    offers: dict[date, tuple[KnownT, float] | None] = {}
    for site in sites:
        for night in site.nights:
            if night.block and not night.why_not:
                first = night.date not in offers
                offers[night.date] = (site.site, night.block.hours) if first else None
    return offers
