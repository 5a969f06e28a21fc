"""Usable hours: the moonless dark inside the hours in which people are out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from sky.clock import zone_of
from sky.spans import Span, intersect
from trips.planning.nights import Block, NightRow, StayOut

NOON = time(12)


def stay_out_span(night: NightRow, stay_out: StayOut, zone: str) -> Span:
    """Give the stay-out hours of one night, inside the night; empty when they are reversed.

    Without a civil dusk the Sun is either that low already, and the hours start with the night,
    or never that low, and there is no dark to lose.
    """
    if stay_out.out_from is None:
        start = night.civil_dusk or night.start
    else:
        start = local_instant(night, stay_out.out_from, zone)
    start = max(start, night.start)
    end = min(local_instant(night, stay_out.out_until, zone), night.end)
    return Span(start, max(start, end))


def local_instant(night: NightRow, clock: time, zone: str) -> datetime:
    """Give the instant of a local hour of the night: before noon it is the next morning's."""
    day = night.date + timedelta(days=1) if clock < NOON else night.date
    return datetime.combine(day, clock, zone_of(zone))


def usable(moonless_spans: Sequence[Span], out: Span, most_hours: float) -> Block | None:
    """Give the contiguous stretch of at most `most_hours` that holds the most moonless dark.

    The earliest on a tie; None when nothing is usable.
    """
    pieces = intersect(moonless_spans, (out,))
    if not pieces:
        return None
    longest = timedelta(hours=most_hours)
    # The measure is piecewise linear in the window's start: its top is where the window starts
    # with a piece or ends with one.
    starts = {piece.start for piece in pieces} | {
        max(piece.end - longest, pieces[0].start) for piece in pieces
    }
    blocks = [_block(pieces, Span(start, start + longest)) for start in sorted(starts)]
    return max((block for block in blocks if block), key=_hours, default=None)


def _hours(block: Block) -> float:
    # To the millisecond, so that rounding does not choose between equals.
    return round(block.hours, 6)


def _block(pieces: Sequence[Span], window: Span) -> Block | None:
    inside = intersect(pieces, (window,))
    if not inside:
        return None
    return Block(inside[0].start, inside[-1].end, sum(piece.hours for piece in inside))
