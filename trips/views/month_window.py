"""Which months of a season a page shows at once, and the ways to the others."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from django.utils.formats import date_format

from trips.views.page_address import PageAddress

MONTHS_SHOWN = 2
PLACE = "#months"


@dataclass(frozen=True, slots=True)
class MonthLink:
    words: str
    year: int
    address: str
    is_shown: bool


@dataclass(frozen=True, slots=True)
class MonthWindow:
    """`months` are the first days of the months shown, `links` go to every month of the season."""

    months: tuple[date, ...]
    links: tuple[MonthLink, ...]

    def holds(self, day: date) -> bool:
        return day.replace(day=1) in self.months


def month_window(
    asked: str | None, first: date, last: date, usual: date, address: PageAddress
) -> MonthWindow:
    """Show the month asked for, as 2027-06, and the next; for nonsense the month of `usual`."""
    every = list(_months(first, last))
    start = next((month for month in every if f"{month:%Y-%m}" == asked), usual.replace(day=1))
    at = max(0, min(every.index(start), len(every) - MONTHS_SHOWN))
    shown = tuple(every[at : at + MONTHS_SHOWN])
    links = (
        MonthLink(
            words=date_format(month, "M"),
            year=month.year,
            address=address.with_(month=f"{month:%Y-%m}") + PLACE,
            is_shown=month in shown,
        )
        for month in every
    )
    return MonthWindow(shown, tuple(links))


def _months(first: date, last: date) -> Iterator[date]:
    month = first.replace(day=1)
    while month <= last:
        yield month
        month = date(month.year + month.month // 12, month.month % 12 + 1, 1)
