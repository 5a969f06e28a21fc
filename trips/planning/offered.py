"""Whether an evening is offered at all, whatever the sky: the people and the site must suit."""

from __future__ import annotations

from datetime import date

from trips.planning.closures import Openings, why_closed
from trips.planning.nights import Wishes


def why_not(site: Openings, wishes: Wishes, evening: date) -> str | None:
    """Give `avoided`, `weekday`, or a code of `why_closed`; None where the evening is offered."""
    if any(first <= evening <= last for first, last in wishes.avoid):
        return "avoided"
    if evening.weekday() not in wishes.weekdays:
        return "weekday"
    return why_closed(site, evening)
