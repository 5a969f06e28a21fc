"""What speaks against a night at a site before anybody looks at the sky: it is closed then."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, Protocol


class Openings(Protocol):
    """What a site says of when it may be reached; typed loosely, as a Django row gives it."""

    @property
    def months_open(self) -> Any: ...
    @property
    def road_closed_from(self) -> Any: ...
    @property
    def road_closed_to(self) -> Any: ...
    @property
    def night_access(self) -> Any: ...


def why_closed(site: Openings, evening: date) -> str | None:
    """Give `no_night_access`, `closed_month` or `road_closed`, or None where nothing is known.

    A road closed without a last day stays closed, one without a first day is closed until its last.
    """
    if site.night_access == "no":
        return "no_night_access"
    if evening.month not in _months(site.months_open):
        return "closed_month"
    return "road_closed" if _road_closed(site, evening) else None


def open_stretches(months: Iterable[int]) -> list[tuple[int, int]]:
    """Gather months into first and last of each stretch; the turn of the year parts none."""
    is_open = {int(month) for month in months if 1 <= int(month) <= 12}
    starts = [month for month in sorted(is_open) if (month - 2) % 12 + 1 not in is_open]
    return [(start, _end(start, is_open)) for start in starts]


def _end(start: int, is_open: set[int]) -> int:
    end = start
    while end % 12 + 1 in is_open:
        end = end % 12 + 1
    return end


def _months(months_open: Sequence[int]) -> Sequence[int]:
    """No month at all means that nobody filled it in."""
    return months_open or range(1, 13)


def _road_closed(site: Openings, evening: date) -> bool:
    first, last = site.road_closed_from, site.road_closed_to
    if first is None and last is None:
        return False
    return (first is None or evening >= first) and (last is None or evening <= last)
