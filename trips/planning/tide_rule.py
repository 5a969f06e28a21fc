"""What a night on a coast still lacks before it can be confirmed.

Tides are read in a table by an instructor, never computed here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

# Springs follow new and full Moon by a day or two; the days either side: common practice, no
# published source.
SPRING_BEFORE, SPRING_AFTER = timedelta(days=2), timedelta(days=4)


@dataclass(frozen=True, slots=True)
class CoastNight:
    """`kinds` of the waters typed, high and low, each with its time and height."""

    on_coast: bool
    kinds: Collection[str] = ()
    datum: str = ""
    source: str = ""
    leave_by: datetime | None = None


def still_lacking(night: CoastNight) -> tuple[str, ...]:
    """Give codes in the order in which a tide table is read; none inland and where all is there."""
    return tuple(_lacking(night)) if night.on_coast else ()


def _lacking(night: CoastNight) -> Iterator[str]:
    for kind in ("high", "low"):
        if kind not in night.kinds:
            yield f"{kind}_water"
    if not night.datum.strip():
        yield "tide_datum"
    if not night.source.strip():
        yield "tide_source"
    if night.leave_by is None:
        yield "leave_by"


@dataclass(frozen=True, slots=True, order=True)
class Water:
    at: datetime
    is_high: bool
    height_m: float


def misread(waters: Iterable[Water]) -> str:
    """Give the code of what no tide table can say of waters of one night, or ""."""
    for before, after in pairwise(sorted(waters)):
        if before.at == after.at:
            return "two_at_once"
        high, low = (before, after) if before.is_high else (after, before)
        if high.is_high and not low.is_high and high.height_m <= low.height_m:
            return "high_below_low"
    return ""


def spring_moon(at: datetime, moons: Mapping[datetime, str]) -> tuple[datetime, str] | None:
    """Give the new or full Moon that makes the tides of an instant large, or None.

    `moons` are instants of new and full Moon, with which of both it is.
    """
    near = [moon for moon in moons if moon - SPRING_BEFORE <= at <= moon + SPRING_AFTER]
    return (near[0], moons[near[0]]) if near else None
