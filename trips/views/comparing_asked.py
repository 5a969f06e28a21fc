"""What the address of the compare page asks for; nonsense is said and the usual shown."""

from __future__ import annotations

from collections.abc import Container, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Any
from urllib.parse import urlencode

from django.http import QueryDict
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from trips.planning.comparing import COUNTING, LEAST_FIRST, Month

MOST, LEAST = "most", "least"

# Column → its order in words, the most first and the least first.
ORDERS = {
    "site": (gettext_lazy("by name, from Z to A"), gettext_lazy("by name, from A to Z")),
    COUNTING: (
        gettext_lazy("by target hours, the most first"),
        gettext_lazy("by target hours, the fewest first"),
    ),
    "usable": (
        gettext_lazy("by usable hours, the most first"),
        gettext_lazy("by usable hours, the fewest first"),
    ),
    "candidates": (
        gettext_lazy("by candidate nights, the most first"),
        gettext_lazy("by candidate nights, the fewest first"),
    ),
    "darkness": (
        gettext_lazy("by darkness, the darkest first"),
        gettext_lazy("by darkness, the brightest first"),
    ),
    "drive": (
        gettext_lazy("by drive, the farthest first"),
        gettext_lazy("by drive, the nearest first"),
    ),
    "access": (
        gettext_lazy("by access, the most restricted first"),
        gettext_lazy("by access, the freest first"),
    ),
    "run": (
        gettext_lazy("by the hours of the best run, the most first"),
        gettext_lazy("by the hours of the best run, the fewest first"),
    ),
}
# By whether a list of targets is wanted.
OF_A_MONTH = {
    False: (
        gettext_lazy("by usable hours in %(month)s, the most first"),
        gettext_lazy("by usable hours in %(month)s, the fewest first"),
    ),
    True: (
        gettext_lazy("by target hours in %(month)s, the most first"),
        gettext_lazy("by target hours in %(month)s, the fewest first"),
    ),
}


@dataclass(frozen=True, slots=True)
class Asked:
    """The page asked for. `kept` are the valid parameters, to be carried by every link."""

    year: int | None
    column: str | Month
    most_first: bool
    by_targets: bool
    kept: dict[str, Any]
    mistakes: list[str] = field(default_factory=list)

    @property
    def order(self) -> str:
        """Say the order in words."""
        is_month = isinstance(self.column, tuple)
        words = OF_A_MONTH[self.by_targets] if is_month else ORDERS[key_of(self.column)]
        return str(words[0 if self.most_first else 1]) % {"month": month_name(self.column)}

    @property
    def aria_sort(self) -> str:
        return "descending" if self.most_first else "ascending"

    def sorted_by(self, column: str | Month) -> str:
        """Give the address of the page sorted by that column, or the other way round if it is."""
        most_first = not self.most_first if column == self.column else _most_first(column)
        way = MOST if most_first else LEAST
        return self.address(sort=key_of(column), way=way)

    @property
    def whole(self) -> str:
        """Give the address of the whole season."""
        return self.address(year=None)

    @property
    def carried(self) -> list[tuple[str, str]]:
        """Give what the form of the two sites carries along."""
        return [
            (name, value)
            for name, values in self.kept.items()
            if name not in ("over", "with")
            for value in (values if isinstance(values, list) else [values])
        ]

    def address(self, **changed: str | None) -> str:
        """Give this page's query with some parameters changed, or taken away by None."""
        query = {k: v for k, v in {**self.kept, **changed}.items() if v is not None}
        return f"?{urlencode(query, doseq=True)}"


def read(
    query: QueryDict,
    months: Sequence[Month],
    sites: Container[str],
    wished: Mapping[str, Any] = MappingProxyType({}),
    *,
    by_targets: bool = False,
) -> Asked:
    """Read `?year=`, `?sort=` and `?way=`; `months` are those of the whole season.

    `wished` is what the address wishes otherwise than the season, carried along. `by_targets`:
    a list of targets is wanted, so that the table has a column of their hours.

    The two sites laid over each other are read elsewhere and only kept here, where they are
    among `sites`, numbers as the address has them.
    """
    mistakes: list[str] = []
    year = _year(query.get("year"), {each for each, _month in months}, mistakes)
    shown = [month for month in months if year in (None, month[0])]
    column = _column(query.get("sort"), shown, mistakes, by_targets=by_targets)
    most_first = _way(query.get("way"), column, mistakes)
    kept: dict[str, Any] = {
        **wished,
        "year": str(year) if year else None,
        "sort": key_of(column) if "sort" in query else None,
        "way": (MOST if most_first else LEAST) if "way" in query else None,
        "over": query.get("over") if query.get("over") in sites else None,
        "with": query.get("with") if query.get("with") in sites else None,
    }
    valid = {k: v for k, v in kept.items() if v}
    return Asked(year, column, most_first, by_targets, valid, mistakes)


def key_of(column: str | Month) -> str:
    """Write a column as the address has it: usable, or 2027-03 for a month."""
    return f"{column[0]:04d}-{column[1]:02d}" if isinstance(column, tuple) else column


def month_name(column: str | Month) -> str:
    if isinstance(column, tuple):
        return date_format(date(column[0], column[1], 1), "F Y")
    return ""


def _most_first(column: str | Month) -> bool:
    return column not in LEAST_FIRST


def _year(asked: str | None, years: set[int], mistakes: list[str]) -> int | None:
    if not asked:
        return None
    for year in years:
        if str(year) == asked:
            return year
    said = _("“%(asked)s” is no year of this season: all of it is shown.")
    mistakes.append(said % {"asked": asked[:20]})
    return None


def _column(
    asked: str | None, months: Sequence[Month], mistakes: list[str], *, by_targets: bool
) -> str | Month:
    usual = COUNTING if by_targets else "usable"
    if not asked:
        return usual
    if asked in ORDERS and (by_targets or asked != COUNTING):
        return asked
    for month in months:
        if key_of(month) == asked:
            return month
    said = _("“%(asked)s” is no column of this table: it is sorted by usable hours.")
    if by_targets:
        said = _("“%(asked)s” is no column of this table: it is sorted by target hours.")
    mistakes.append(said % {"asked": asked[:20]})
    return usual


def _way(asked: str | None, column: str | Month, mistakes: list[str]) -> bool:
    if asked and asked not in (MOST, LEAST):
        said = _("“%(asked)s” is no order: “most” or “least” comes first.")
        mistakes.append(said % {"asked": asked[:20]})
    return asked == MOST if asked in (MOST, LEAST) else _most_first(column)
