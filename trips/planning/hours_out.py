"""The hours in which people are out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache
from typing import Protocol

from sky.clock import zone_of
from trips.planning.nights import NightWishes
from trips.planning.stretches import Pair

NOON = time(12)


class WithDusk(Protocol):
    """A night as far as the hours of it depend on: a stored one, or an `Evening`."""

    @property
    def date(self) -> date: ...
    @property
    def civil_dusk(self) -> datetime | None: ...


@dataclass(frozen=True, slots=True)
class Evening:
    """A night that is not stored."""

    date: date
    civil_dusk: datetime | None


def hours_out(night: WithDusk, wishes: NightWishes, zone: str) -> Pair:
    """Give the stay-out hours of one night; of no length where they are reversed.

    Without a civil dusk the Sun is either that low already, and the hours start with the night,
    or never that low, and there is no dark to lose.
    """
    if wishes.out_from is not None:
        start = instant_of(night.date, wishes.out_from, zone)
    elif night.civil_dusk is not None:
        start = night.civil_dusk.timestamp()
    else:
        start = instant_of(night.date, NOON, zone)
    return start, max(start, instant_of(night.date, wishes.out_until, zone))


# Sites of one zone ask for the same hours of the same dates.
@lru_cache(maxsize=8192)
def instant_of(evening: date, clock: time, zone: str) -> float:
    """Give a local hour of a night in Unix seconds: before noon it is the next morning's."""
    day = evening + timedelta(days=1) if clock < NOON else evening
    return datetime.combine(day, clock, zone_of(zone)).timestamp()
