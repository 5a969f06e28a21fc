"""Usable hours: the moonless dark inside the hours in which people are out."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache

from sky.clock import zone_of
from trips.planning.nights import Block, NightRow, NightWishes
from trips.planning.stretches import Pair, Pairs, seconds, within

NOON = time(12)
HOUR = 3600.0


def hours_out(night: NightRow, wishes: NightWishes, zone: str) -> Pair:
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


def usable(pieces: Pairs, most_hours: float) -> Block | None:
    """Give the contiguous stretch of at most `most_hours` that holds the most of the pieces.

    The earliest on a tie; None when nothing is usable.
    """
    if not pieces:
        return None
    longest = most_hours * HOUR
    if pieces[-1][1] - pieces[0][0] <= longest:
        return _block(pieces)
    # The measure is piecewise linear in the window's start: its top is where the window starts
    # with a piece or ends with one.
    first = pieces[0][0]
    starts = {start for start, _ in pieces} | {max(end - longest, first) for _, end in pieces}
    windows = [within(pieces, (start, start + longest)) for start in sorted(starts)]
    return _block(max(windows, key=_rounded))


def _rounded(pieces: Pairs) -> float:
    # To the millisecond, so that rounding does not choose between equals.
    return round(seconds(pieces), 3)


def _block(pieces: Pairs) -> Block:
    start, end = pieces[0][0], pieces[-1][1]
    return Block(
        datetime.fromtimestamp(start, UTC),
        datetime.fromtimestamp(end, UTC),
        seconds(pieces) / HOUR,
    )
