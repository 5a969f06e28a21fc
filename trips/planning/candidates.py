"""Candidate nights: enough moonless dark inside the hours in which people are out."""

from __future__ import annotations

from collections.abc import Sequence

from sky.spans import Span, hours, intersect
from trips.planning.nights import (
    JudgedNight,
    NightRow,
    SeasonWishes,
    StayOut,
    dark_hours,
    moonless_hours,
    moonless_spans,
)
from trips.planning.usable import stay_out_span, usable


def is_candidate(moonless: Sequence[Span], out: Span, least_hours: float) -> bool:
    """Tell whether the moonless dark inside the stay-out hours sums to enough.

    A night with none of it is no candidate, even where zero hours are asked for.
    """
    inside = hours(intersect(moonless, (out,)))
    return inside > 0 and inside >= least_hours


def judge(
    row: NightRow, wishes: SeasonWishes, zone: str, *, dark_level: int | None = None
) -> JudgedNight:
    """Judge one night by a season's wishes, at its dark level or at another."""
    level = wishes.dark_level if dark_level is None else dark_level
    moonless = moonless_spans(row, level)
    out = stay_out_span(row, StayOut(wishes.out_from, wishes.out_until), zone)
    return JudgedNight(
        date=row.date,
        dark_hours=dark_hours(row, level),
        moonless_hours=moonless_hours(row, level),
        moonless_hours_out=hours(intersect(moonless, (out,))),
        moon_illuminated=row.moon_illuminated,
        block=usable(moonless, out, wishes.most_hours_out),
        is_candidate=is_candidate(moonless, out, wishes.least_hours),
    )
