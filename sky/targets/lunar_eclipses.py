"""The Moon while it is eclipsed: one eclipse by its date, or all there are."""

from __future__ import annotations

import re
from datetime import date, timedelta
from functools import partial

from sky.clock import FIRST_DAY, LAST_DAY
from sky.eclipses.lunar import LunarEclipse, lunar_eclipses
from sky.errors import SkyError
from sky.spans import Spans
from sky.targets.matching import plain
from sky.targets.target import Body, Kind, Listing, Target

ALL, ALL_NAME = "all", "Eclipses of the Moon"
# Common practice, no published source.
LEAST_ALTITUDE_DEGREES = 5.0
# Some eclipse, if only of the penumbra, lies within half a year of any date.
HALF_A_YEAR = timedelta(days=183)


def target(rest: str) -> Target:
    """Give "all", or the eclipse whose greatest falls on a date in UTC ("2028-12-31").

    Each from U1 to U4, a penumbral one from P1 to P4; those that nobody could see are no target.
    Errors: `target_unknown`, with the dates of eclipses before and after.
    """
    if rest == ALL:
        return _target(ALL, ALL_NAME, FIRST_DAY, LAST_DAY)
    day = _date(rest)
    found = _watched(day, day) if day else []
    if not day or not found:
        raise SkyError("target_unknown", name=rest, nearest=_around(day) if day else (ALL,))
    return _target(rest, _name(found[0]), day, day)


def _target(rest: str, name: str, first: date, last: date) -> Target:
    return Target(
        f"lunar-eclipse:{rest}",
        name,
        (Body("moon"),),
        "any",
        LEAST_ALTITUDE_DEGREES,
        active=partial(_spans, first, last),
    )


def _spans(earliest: date, latest: date, first: date, last: date) -> Spans:
    """Give the spans of the eclipses that a season's nights may hold, of those wanted."""
    begin, end = max(earliest, first - timedelta(days=1)), min(latest, last + timedelta(days=2))
    return tuple(eclipse.span for eclipse in _watched(begin, end))


def _watched(first: date, last: date) -> list[LunarEclipse]:
    if last < first:
        return []
    found = lunar_eclipses(max(first, FIRST_DAY), min(last, LAST_DAY))
    return [eclipse for eclipse in found if not eclipse.is_negligible]


def _around(day: date) -> tuple[str, ...]:
    before, after = _watched(day - HALF_A_YEAR, day), _watched(day, day + HALF_A_YEAR)
    return tuple(eclipse.greatest.date().isoformat() for eclipse in (*before[-1:], *after[:1]))


def _date(rest: str) -> date | None:
    try:
        day = date.fromisoformat(rest)
    except ValueError:
        return None
    return day if FIRST_DAY <= day <= LAST_DAY and day.isoformat() == rest else None


def _name(eclipse: LunarEclipse) -> str:
    return f"{eclipse.type.capitalize()} eclipse of the Moon {eclipse.greatest.date()}"


def search(text: str) -> list[Listing]:
    """Offer all together; with a year ("eclipse 2028") its eclipses one by one."""
    year = re.search(r"\b(\d{4})\b", text)
    words = plain(text.replace(year.group(), "") if year else text)
    if words not in plain(ALL_NAME + "lunar eclipse") or not (words or year):
        return []
    return offered() if year is None else _of_year(int(year.group()))


def _of_year(year: int) -> list[Listing]:
    if not FIRST_DAY.year <= year <= LAST_DAY.year:
        return []
    return [_listing(eclipse) for eclipse in _watched(date(year, 1, 1), date(year, 12, 31))]


def _listing(eclipse: LunarEclipse) -> Listing:
    greatest = eclipse.greatest
    about = f"greatest at {greatest:%H:%M} UTC"
    return Listing(f"lunar-eclipse:{greatest.date()}", _name(eclipse), about)


def offered() -> list[Listing]:
    return [Listing(f"lunar-eclipse:{ALL}", ALL_NAME, "while the Earth's shadow is on it")]


KIND = Kind("lunar-eclipse", target, search, offered)
