"""Candidate nights: enough moonless dark inside the hours in which people are out."""

from __future__ import annotations

from trips.planning.nights import (
    JudgedNight,
    NightRow,
    NightWishes,
    dark_hours,
    moonless_hours,
    moonless_pairs,
)
from trips.planning.stretches import seconds, within
from trips.planning.usable import HOUR, hours_out, usable


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
) -> JudgedNight:
    """Judge one night by what is wished, at its dark level or at another."""
    level = wishes.dark_level if dark_level is None else dark_level
    moonless = moonless_pairs(row, level)
    inside = within(moonless, hours_out(row, wishes, zone)) if moonless else ()
    hours = seconds(inside) / HOUR
    return JudgedNight(
        date=row.date,
        dark_hours=dark_hours(row, level),
        moonless_hours=moonless_hours(row, level),
        moonless_hours_out=hours,
        moon_illuminated=row.moon_illuminated,
        block=usable(inside, wishes.most_hours_out),
        is_candidate=is_enough(hours, wishes.least_hours),
        moonless_out=inside,
        why_not=why_not,
    )
