"""What planning knows of a night and of what is wished of it. Values only."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from operator import attrgetter
from typing import Any, Protocol

from trips.planning.stretches import Pairs

RUN_LENGTH, LONGEST_RUN = 3, 14
ALL_WEEK = frozenset(range(7))


@dataclass(frozen=True, slots=True)
class Block:
    """The best stretch of a night: from its first usable instant to its last, and the hours
    usable between them: fewer than its length where the Moon interrupts, or where what is wanted
    counts less than a whole hour."""

    start: datetime
    end: datetime
    hours: float


class NightRow(Protocol):
    """A stored night. Its spans are read by level: moonless_18, moonless_hours_18, …"""

    @property
    def date(self) -> date: ...
    @property
    def civil_dusk(self) -> datetime | None: ...
    @property
    def moon_illuminated(self) -> float: ...
    @property
    def usable_hours(self) -> float: ...


class NightWishes(Protocol):
    """What a season asks of each night.

    The hours in which people are out are local: `out_from` None means civil dusk, an hour before
    noon the next morning.
    """

    @property
    def dark_level(self) -> int: ...
    @property
    def out_from(self) -> time | None: ...
    @property
    def out_until(self) -> time: ...
    @property
    def most_hours_out(self) -> float: ...
    @property
    def least_hours(self) -> float: ...


class SeasonWishes(NightWishes, Protocol):
    """What a stored season asks of its nights and runs; typed loosely, as a Django row gives it.

    `weekdays` count from Monday, 0; `avoid` is a list of [first, last] as ISO dates.
    """

    @property
    def run_length(self) -> int: ...
    @property
    def weekdays(self) -> Any: ...
    @property
    def avoid(self) -> Any: ...
    @property
    def target_list_id(self) -> int | None: ...


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is asked of nights and runs. `avoid` holds stretches of evenings, both ends included.

    `target_list` is the key of the list whose targets are wanted; None: the dark is.
    """

    dark_level: int = -18
    out_from: time | None = None
    out_until: time = time(2)
    most_hours_out: float = 4.0
    least_hours: float = 2.0
    run_length: int = RUN_LENGTH
    weekdays: frozenset[int] = ALL_WEEK
    avoid: tuple[tuple[date, date], ...] = ()
    target_list: int | None = None

    @classmethod
    def of(cls, season: SeasonWishes) -> Wishes:
        return cls(
            dark_level=season.dark_level,
            out_from=season.out_from,
            out_until=season.out_until,
            most_hours_out=season.most_hours_out,
            least_hours=season.least_hours,
            run_length=season.run_length,
            weekdays=frozenset(season.weekdays),
            avoid=tuple(
                (date.fromisoformat(first), date.fromisoformat(last))
                for first, last in season.avoid
            ),
            target_list=season.target_list_id,
        )


@dataclass(slots=True, unsafe_hash=True)
class JudgedNight:
    """A night at a site, judged by what is wished: a value, not to be changed. It is not frozen,
    because a ranking makes tens of thousands.

    `why_not` says why the evening is not offered, whatever the sky: a code of `offered.why_not`.
    """

    date: date
    dark_hours: float
    moonless_hours: float  # of the whole night
    moonless_hours_out: float  # inside the stay-out hours
    moon_illuminated: float
    block: Block | None
    is_candidate: bool
    counted_hours_out: float  # of what counts then: the moonless dark, or the wanted targets
    moonless_usable_hours: float  # usable if the moonless dark is all that counts
    usable_dark_hours: float = 0.0  # of the whole night, overhead: Moon and twilight take little
    counted_out: Pairs = ()  # when anything counts
    why_not: str | None = None

    @property
    def usable_hours(self) -> float:
        return self.block.hours if self.block else 0.0


def moonless_pairs(row: NightRow, dark_level: int) -> Sequence[Sequence[float]]:
    """Read the row's moonless stretches at a dark level, in Unix seconds."""
    pairs: Sequence[Sequence[float]] = _of_level(row, "moonless", dark_level)
    return pairs


def dark_hours(row: NightRow, dark_level: int) -> float:
    return float(_of_level(row, "dark_hours", dark_level))


def moonless_hours(row: NightRow, dark_level: int) -> float:
    return float(_of_level(row, "moonless_hours", dark_level))


def column(rows: Sequence[NightRow], name: str, dark_level: int) -> list[Any]:
    """Read a column of many rows at a dark level: dark_hours, moonless_hours, moonless."""
    return list(map(attrgetter(f"{name}_{-dark_level}"), rows))


def _of_level(row: NightRow, name: str, dark_level: int) -> Any:
    return getattr(row, f"{name}_{-dark_level}")
