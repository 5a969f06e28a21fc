"""The sites of a season beside each other: figures by month, and the order of any column."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeVar

from trips.planning.nights import JudgedNight
from trips.planning.runs import Run
from trips.planning.season_view import PlannedSite, SiteSeason

Month = tuple[int, int]  # year and month

# Words of access in the order of what they ask of a club; what is not known has no place in it.
ACCESS = ("yes", "permit", "no")
# Of `why_not`: what keeps a site shut, whoever would like to come.
CLOSED = frozenset({"closed_month", "road_closed", "no_night_access"})
# Columns that one wants little of, or reads from A on, start with the least.
LEAST_FIRST = frozenset({"site", "drive", "access"})
# The column of what counts: hours of the wanted targets or, without a list, usable hours.
COUNTING = "targets"


class KnownSite(PlannedSite, Protocol):
    """What is read of a site; typed loosely, as a Django row gives it."""

    @property
    def name(self) -> Any: ...
    @property
    def sky_brightness(self) -> Any: ...
    @property
    def drive_minutes(self) -> Any: ...
    @property
    def latitude(self) -> Any: ...
    @property
    def longitude(self) -> Any: ...


KnownT = TypeVar("KnownT", bound=KnownSite)


@dataclass(frozen=True, slots=True)
class MonthHours:
    """A month at a site: moonless hours of its nights, usable hours of the evenings offered.

    With a list of targets its hours are the usable ones, and `moonless_usable` those of the
    moonless dark, as they would be without it; None where there is no list. `usable_dark` is that
    overhead, of all its nights.
    """

    nights: int
    moonless: float
    usable: float
    is_closed: bool = False  # the site, on all of them
    moonless_usable: float | None = None
    usable_dark: float = 0.0

    @property
    def ink(self) -> float:
        """Give the hours of the bar on whose foot the usable ones stand."""
        return self.moonless if self.moonless_usable is None else self.moonless_usable

    @property
    def usable_minutes(self) -> int:
        return minutes(self.usable)


@dataclass(frozen=True, slots=True)
class Compared(Generic[KnownT]):
    """A site's season, or one year of it, in the figures that sites are compared by.

    Usable hours and `offered` candidate nights are those of evenings on which people can come;
    `candidates` counts them all, `left_out` those that are not offered, by why.
    """

    site: KnownT
    nights: tuple[JudgedNight, ...]
    months: Mapping[Month, MonthHours]
    best: Run | None
    candidates: int
    left_out: Mapping[str, int]

    @property
    def moonless_hours(self) -> float:
        return sum(month.moonless for month in self.months.values())

    @property
    def usable_dark_hours(self) -> float:
        """Give the usable dark overhead of all nights, offered or not."""
        return sum(month.usable_dark for month in self.months.values())

    @property
    def usable_hours(self) -> float:
        return sum(month.usable for month in self.months.values())

    @property
    def moonless_usable_hours(self) -> float:
        """Give what is usable without a list of targets, whether or not there is one."""
        return sum(
            month.usable if month.moonless_usable is None else month.moonless_usable
            for month in self.months.values()
        )

    @property
    def usable_minutes(self) -> int:
        """Whole minutes: what is compared, so that nobody sees equal figures ranked apart."""
        return minutes(self.usable_hours)

    @property
    def offered(self) -> int:
        return self.candidates - sum(self.left_out.values())


def compared(
    found: SiteSeason[KnownT], year: int | None = None, *, by_targets: bool = False
) -> Compared[KnownT]:
    """Sum a site's season up, or one year of it; a run belongs to the year that it begins in.

    `by_targets`: the nights were judged by a list of targets.
    """
    nights = found.nights
    if year is not None:
        nights = tuple(night for night in nights if night.date.year == year)
    runs = (run for run in found.runs if year in (None, run.first.year))
    candidates = [night for night in nights if night.is_candidate]
    return Compared(
        site=found.site,
        nights=nights,
        months=_months(nights, by_targets=by_targets),
        best=next(runs, None),
        candidates=len(candidates),
        left_out=Counter(night.why_not for night in candidates if night.why_not),
    )


def in_order(
    sites: Sequence[Compared[KnownT]], column: str | Month, *, most_first: bool
) -> list[Compared[KnownT]]:
    """Sort by a column or a month: equals by name, and what has no figure last either way."""
    by_name = sorted(sites, key=lambda site: str(site.site.name).casefold())
    pairs = [(figure(site, column), site) for site in by_name]
    known = [pair for pair in pairs if pair[0] is not None]
    known.sort(key=lambda pair: pair[0], reverse=most_first)
    return [site for _, site in known] + [site for value, site in pairs if value is None]


def figure(of: Compared[KnownT], column: str | Month) -> Any:
    """Give what a column is sorted by, or None where it is not known or not computed.

    Months go by their usable hours, and by the hours of their bar among equals.
    """
    site = of.site
    if isinstance(column, tuple):
        month = of.months.get(column)
        return month and (month.usable_minutes, minutes(month.ink))
    if column == "site":
        return str(site.name).casefold()
    if column == "darkness":
        return site.sky_brightness
    if column == "drive":
        return site.drive_minutes
    if column == "access":
        return _access(site)
    return _of_nights(of, column) if of.nights else None


def minutes(of_hours: float) -> int:
    return round(of_hours * 60)


def _months(nights: Sequence[JudgedNight], *, by_targets: bool) -> dict[Month, MonthHours]:
    by_month: dict[Month, list[JudgedNight]] = defaultdict(list)
    for night in nights:
        by_month[night.date.year, night.date.month].append(night)
    return {month: _month(of_month, by_targets=by_targets) for month, of_month in by_month.items()}


def _month(nights: Sequence[JudgedNight], *, by_targets: bool) -> MonthHours:
    # Lists, and the block without its property: a page of many sites sums some 100 000 nights.
    dark = [night.moonless_usable_hours for night in nights if by_targets and not night.why_not]
    return MonthHours(
        nights=len(nights),
        moonless=sum([night.moonless_hours for night in nights]),
        usable=sum([night.block.hours for night in nights if night.block and not night.why_not]),
        is_closed=all(night.why_not in CLOSED for night in nights),
        moonless_usable=sum(dark) if by_targets else None,
        usable_dark=sum([night.usable_dark_hours for night in nights]),
    )


def _of_nights(of: Compared[KnownT], column: str) -> int:
    if column == "candidates":
        return of.offered
    if column == "run":
        return of.best.best.minutes if of.best else 0
    if column == "usable":
        return minutes(of.moonless_usable_hours)
    return of.usable_minutes


def _access(site: KnownSite) -> tuple[int, int] | None:
    if site.night_access not in ACCESS:
        return None
    return ACCESS.index(site.night_access), -len(site.months_open or range(12))
