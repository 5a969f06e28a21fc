"""Which two sites of a season to lay over each other, where nobody has chosen."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from trips.planning.comparing import Compared, KnownT, Month, in_order


def site_to_start_from(sites: Sequence[Compared[KnownT]]) -> Compared[KnownT] | None:
    """Give the site with the most usable hours; None where no night is computed."""
    ordered = in_order(sites, "usable", most_first=True)
    return ordered[0] if ordered and ordered[0].nights else None


def most_different(
    first: Compared[KnownT], sites: Sequence[Compared[KnownT]]
) -> Compared[KnownT] | None:
    """Give the site whose months differ most from the first one's; the better among equals."""
    others = [s for s in in_order(sites, "usable", most_first=True) if s.nights and s is not first]
    return max(others, key=lambda site: _difference(first, site), default=None)


def _difference(first: Compared[KnownT], second: Compared[KnownT]) -> int:
    ours, theirs = _by_month(first), _by_month(second)
    return sum(abs(ours[month] - theirs[month]) for month in ours.keys() | theirs.keys())


def _by_month(site: Compared[KnownT]) -> Counter[Month]:
    """Sum the minutes that are laid over each other: of every night, offered or not."""
    minutes: Counter[Month] = Counter()
    for night in site.nights:
        minutes[night.date.year, night.date.month] += round(night.moonless_hours_out * 60)
    return minutes
