"""Whether an evening is offered at all, whatever the sky: the people and the site must suit."""

from __future__ import annotations

from collections.abc import Set
from datetime import date

from trips.planning.closures import Openings, why_closed
from trips.planning.nights import Wishes

DAYS_A_WEEK = 7


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


def longest_row(weekdays: Set[int]) -> int | None:
    """Count the evenings in a row that weekdays can give; None where every day suits."""
    if len(weekdays) == DAYS_A_WEEK:
        return None
    longest = row = 0
    for day in [*range(DAYS_A_WEEK), *range(DAYS_A_WEEK)]:  # a row may go over Sunday
        row = row + 1 if day in weekdays else 0
        longest = max(longest, row)
    return longest
