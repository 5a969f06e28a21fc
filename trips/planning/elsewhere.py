"""The same nights at the other sites of a season."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Generic

from trips.planning.season_view import SiteSeason, SiteT


@dataclass(frozen=True, slots=True)
class Elsewhere(Generic[SiteT]):
    """A run's nights at another site: the hours usable there, and why not where it is closed."""

    site: SiteT
    hours: float
    why_not: str | None


def elsewhere(
    others: Sequence[SiteSeason[SiteT]], first: date, last: date
) -> list[Elsewhere[SiteT]]:
    """Give the other sites that have all those nights: the open ones first, by usable hours.

    Among equals the nearest comes first, one whose drive is not known last.
    """
    wanted = (last - first).days + 1
    found = []
    for other in others:
        nights = [night for night in other.nights if first <= night.date <= last]
        if len(nights) == wanted:
            closed = next((night.why_not for night in nights if night.why_not), None)
            hours = sum(night.usable_hours for night in nights)
            found.append(Elsewhere(other.site, hours, closed))
    return sorted(found, key=_order)


def _order(found: Elsewhere[SiteT]) -> tuple[bool, int, float]:
    drive = found.site.drive_minutes
    far = float("inf") if drive is None else drive
    return found.why_not is not None, -round(found.hours * 60), far
