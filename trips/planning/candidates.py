"""Candidate nights: enough moonless dark inside the hours in which people are out."""

from __future__ import annotations

from sky.spans import hours, intersect
from trips.planning.nights import (
    JudgedNight,
    NightRow,
    NightWishes,
    StayOut,
    dark_hours,
    moonless_hours,
    moonless_spans,
)
from trips.planning.usable import stay_out_span, usable


def is_enough(hours_out: float, least_hours: float) -> bool:
    """A night without any moonless dark is no candidate, even where zero hours are asked for."""
    return hours_out > 0 and hours_out >= least_hours


def judge(
    row: NightRow,
    wishes: NightWishes,
    zone: str,
    *,
    dark_level: int | None = None,
    why_not: str | None = None,
) -> JudgedNight:
    """Judge one night by what is wished, at its dark level or at another."""
    level = wishes.dark_level if dark_level is None else dark_level
    out = stay_out_span(row, StayOut(wishes.out_from, wishes.out_until), zone)
    inside = intersect(moonless_spans(row, level), (out,))
    hours_out = hours(inside)
    return JudgedNight(
        date=row.date,
        dark_hours=dark_hours(row, level),
        moonless_hours=moonless_hours(row, level),
        moonless_hours_out=hours_out,
        moon_illuminated=row.moon_illuminated,
        block=usable(inside, out, wishes.most_hours_out) if inside else None,
        is_candidate=is_enough(hours_out, wishes.least_hours),
        moonless_out=inside,
        why_not=why_not,
    )
