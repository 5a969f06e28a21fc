"""Whether an evening is offered at all, whatever the sky: the people and the site must suit."""

from __future__ import annotations

from datetime import date

from trips.planning.closures import Openings, why_closed
from trips.planning.nights import Wishes


def why_not(site: Openings, wishes: Wishes, evening: date) -> str | None:
    """Give a code of `why_closed`, `avoided` or `weekday`; None where the evening is offered.

    What nobody can change comes first.
    """
    closed = why_closed(site, evening)
    if closed:
        return closed
    if any(first <= evening <= last for first, last in wishes.avoid):
        return "avoided"
    return None if evening.weekday() in wishes.weekdays else "weekday"
