"""What falls into a night, as pages tell it: short words, lines of detail, a caution."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import NamedTuple

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sky.clock import FIRST_DAY, LAST_DAY
from trips.almanac.local_time import clock, to_the_minute

ONE_DAY = timedelta(days=1)


class Moment(NamedTuple):
    """A moment of an event: what happens, and where to look."""

    instant: datetime
    words: str
    where: str


@dataclass(frozen=True, slots=True)
class Event:
    """An event of a night in the words of the reader's language.

    `code` says what it is: almanac, shower, lunar_eclipse, solar_eclipse, pair. `words` are short
    and fit into a line of a calendar; `details` are sentences; `caution` is empty where nothing can
    hurt anybody.
    """

    code: str
    words: str
    details: tuple[str, ...] = ()
    moments: tuple[Moment, ...] = ()
    caution: str = ""


def _no_moments() -> tuple[Moment, ...]:
    return ()


def _no_caution() -> str:
    return ""


@dataclass(frozen=True, slots=True)
class Happening:
    """Something that falls into a night at a place, not yet put into words.

    It is kept from one reader to the next, and readers have their own language.
    `is_for_calendar` where it is worth a line among the nights of a season.
    """

    night: date
    code: str
    words: Callable[[], str]
    details: Callable[[], tuple[str, ...]]
    moments: Callable[[], tuple[Moment, ...]] = _no_moments
    caution: Callable[[], str] = _no_caution
    is_for_calendar: bool = True

    def told(self) -> Event:
        return Event(self.code, self.words(), self.details(), self.moments(), self.caution())


def utc_dates(first: date, last: date) -> tuple[date, date]:
    """Give the UTC dates that nights of any zone touch, of those that can be computed."""
    return max(first - ONE_DAY, FIRST_DAY), min(last + ONE_DAY, LAST_DAY)


def at(name: str, night: date, instant: datetime, zone: str) -> str:
    """Say when; past midnight with the date, for the night has the one of its evening."""
    return dated(f"{name} {clock(instant, zone)}", night, instant, zone)


def from_to(name: str, night: date, start: datetime, end: datetime, zone: str) -> str:
    """Say from when to when; with the date where it begins on another than the evening's."""
    return dated(f"{name} {clock(start, zone)}–{clock(end, zone)}", night, start, zone)


def dated(told: str, night: date, instant: datetime, zone: str) -> str:
    day = to_the_minute(instant, zone).date()
    if day == night:
        return told
    return _("%(event)s on %(day)s") % {"event": told, "day": date_format(day, "j F")}
