"""Nights judged by what is wished: what counts of each, and whether it is a candidate."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from trips.planning.hours_out import hours_out
from trips.planning.nights import (
    Block,
    JudgedNight,
    NightRow,
    NightWishes,
    column,
)
from trips.planning.stretches import Pairs
from trips.planning.weighing import WantedSpans, Weighed, weigh

Floats = NDArray[np.float64]


def is_enough(hours: float, least_hours: float) -> bool:
    """A night without any moonless dark is no candidate, even where zero hours are asked for."""
    return hours > 0 and hours >= least_hours


def judge(
    row: NightRow,
    wishes: NightWishes,
    zone: str,
    *,
    dark_level: int | None = None,
    why_not: str | None = None,
    wanted: Sequence[WantedSpans] | None = None,
) -> JudgedNight:
    """Judge one night; see `judge_nights`."""
    reasons = None if why_not is None else [why_not]
    return judge_nights([row], wishes, zone, dark_level=dark_level, why_not=reasons, wanted=wanted)[
        0
    ]


def judge_nights(
    rows: Sequence[NightRow],
    wishes: NightWishes,
    zone: str,
    *,
    dark_level: int | None = None,
    why_not: Sequence[str | None] | None = None,
    wanted: Sequence[WantedSpans] | None = None,
) -> list[JudgedNight]:
    """Judge nights in order of date, at the dark level that is wished or at another.

    What counts is when one of the `wanted` stands right; None: the moonless dark. `why_not` says of
    each night why it is not offered.
    """
    if not rows:
        return []
    level = wishes.dark_level if dark_level is None else dark_level
    out = np.array([hours_out(row, wishes, zone) for row in rows])
    dark = weigh([WantedSpans(1.0, _moonless(rows, level))], out, wishes.most_hours_out)
    found = dark if wanted is None else weigh(wanted, out, wishes.most_hours_out)
    columns = zip(
        rows,
        column(rows, "dark_hours", level),
        column(rows, "moonless_hours", level),
        dark.hours_out.tolist(),
        dark.hours.tolist(),
        _blocks(found),
        found.hours_out.tolist(),
        _pieces(found, len(rows)),
        why_not or [None] * len(rows),
        strict=True,
    )
    return [
        JudgedNight(
            date=row.date,
            dark_hours=of_dark,
            moonless_hours=of_moonless,
            moonless_hours_out=moonless_out,
            moon_illuminated=row.moon_illuminated,
            block=block,
            is_candidate=is_enough(moonless_out, wishes.least_hours),
            counted_hours_out=counted,
            moonless_usable_hours=usable,
            usable_dark_hours=row.usable_hours,
            counted_out=pieces,
            why_not=reason,
        )
        for (
            row, of_dark, of_moonless, moonless_out, usable, block, counted, pieces, reason,
        ) in columns
    ]  # fmt: skip


def _moonless(rows: Sequence[NightRow], level: int) -> Floats:
    pairs = [pair for pairs in column(rows, "moonless", level) for pair in pairs]
    return np.array(pairs, dtype=np.float64).reshape(-1, 2)


def _blocks(found: Weighed) -> list[Block | None]:
    figures = zip(found.start.tolist(), found.end.tolist(), found.hours.tolist(), strict=True)
    return [
        Block(datetime.fromtimestamp(start, UTC), datetime.fromtimestamp(end, UTC), hours)
        if hours
        else None
        for start, end, hours in figures
    ]


def _pieces(found: Weighed, nights: int) -> list[Pairs]:
    edges = np.searchsorted(found.night, np.arange(nights + 1)).tolist()
    pieces = [(start, end) for start, end in found.pieces.tolist()]
    return [tuple(pieces[a:b]) for a, b in pairwise(edges)]
