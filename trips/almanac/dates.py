"""Which stretches of nights are accepted."""

from __future__ import annotations

from datetime import date, timedelta

from sky.clock import FIRST_DAY, LAST_DAY, check_season, count_nights
from sky.errors import SkyError

__all__ = ["FIRST_DAY", "LAST_DAY", "LONGEST_YEARS", "check_dates", "count_nights"]

LONGEST_YEARS = 3


def check_dates(first: date, last: date) -> None:
    """Refuse reversed dates, years that cannot be computed, and more than three years.

    Errors: `season_reversed`, `season_outside`, `season_too_long`.
    """
    check_season(first, last)
    longest = _years_later(first, LONGEST_YEARS) - timedelta(days=1)
    if last > longest:
        raise SkyError("season_too_long", first=first, last=last, longest=longest)


def _years_later(day: date, years: int) -> date:
    if (day.month, day.day) == (2, 29):
        return date(day.year + years, 3, 1)
    return day.replace(year=day.year + years)
