"""A site's stored nights of one year, in a few figures. Reads rows and changes none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from trips.almanac.dates import count_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.models import Night, Site


@dataclass(frozen=True, slots=True)
class MonthHours:
    """One month: how many of its stored nights get dark, and the hours of them."""

    first: date
    nights: int
    dark_nights: int
    dark_hours: float
    moonless_hours: float
    usable_dark_hours: float


@dataclass(frozen=True, slots=True)
class SiteYear:
    """`dark_nights` get dark at 18°; of those that do not, `dark_at_15` do at 15°."""

    year: int
    years: tuple[int, ...]
    rows: tuple[Night, ...]
    nights_of_year: int
    dark_nights: int
    dark_at_15: int
    moonless_hours: float
    moonless_hours_at_15: float
    usable_dark_hours: float  # overhead
    stale: int
    months: tuple[MonthHours, ...]

    @property
    def is_whole(self) -> bool:
        return len(self.rows) == self.nights_of_year

    @property
    def never_dark(self) -> int:
        return len(self.rows) - self.dark_nights


def site_year(site: Site, asked: int | None, *, today: date) -> SiteYear | None:
    """Give the year asked for, if nights of it are stored, else the one nearest to now, else None.

    Nearest: the present year, else the next with nights, else the last one before.
    """
    stored = Night.objects.filter(site=site)
    years = tuple(day.year for day in stored.dates("date", "year"))
    if not years:
        return None
    year = asked if asked in years else _nearest(years, today.year)
    rows = tuple(stored.between(date(year, 1, 1), date(year, 12, 31)))
    return _figures(site, year, years, rows)


def _nearest(years: Sequence[int], present: int) -> int:
    return min((year for year in years if year >= present), default=max(years))


def _figures(site: Site, year: int, years: tuple[int, ...], rows: tuple[Night, ...]) -> SiteYear:
    present = site_fingerprint(site)
    bright = [row for row in rows if not row.dark_hours_18]
    return SiteYear(
        year=year,
        years=years,
        rows=rows,
        nights_of_year=count_nights(site.zone, date(year, 1, 1), date(year, 12, 31)),
        dark_nights=len(rows) - len(bright),
        dark_at_15=sum(row.dark_hours_15 > 0 for row in bright),
        moonless_hours=sum(row.moonless_hours_18 for row in rows),
        moonless_hours_at_15=sum(row.moonless_hours_15 for row in bright),
        usable_dark_hours=sum(row.usable_hours for row in rows),
        stale=sum(row.fingerprint != present for row in rows),
        months=tuple(_months(rows)),
    )


def _months(rows: Sequence[Night]) -> list[MonthHours]:
    months = sorted({row.date.replace(day=1) for row in rows})
    return [
        _month(first, [row for row in rows if row.date.month == first.month]) for first in months
    ]


def _month(first: date, rows: Sequence[Night]) -> MonthHours:
    return MonthHours(
        first=first,
        nights=len(rows),
        dark_nights=sum(row.dark_hours_18 > 0 for row in rows),
        dark_hours=sum(row.dark_hours_18 for row in rows),
        moonless_hours=sum(row.moonless_hours_18 for row in rows),
        usable_dark_hours=sum(row.usable_hours for row in rows),
    )
