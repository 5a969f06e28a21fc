"""Dark and moonless of one night at each dark level."""

from __future__ import annotations

from dataclasses import dataclass

from trips.models import Night, Season


@dataclass(frozen=True, slots=True)
class Level:
    """Dark and moonless at one dark level, with a word for what is absent."""

    name: str
    is_chosen: bool
    dark: list[list[float]]
    dark_hours: float
    dark_absent: str | None
    moonless: list[list[float]]
    moonless_hours: float
    moonless_absent: str | None


def levels_of(row: Night, chosen: int) -> list[Level]:
    return [level_of(row, level.value, chosen) for level in Season.DarkLevel]


def level_of(row: Night, level: int, chosen: int) -> Level:
    depth = -level
    suffix = "" if depth == 18 else f"_{depth}"
    return Level(
        name=str(Season.DarkLevel(level).label),
        is_chosen=level == chosen,
        dark=getattr(row, f"dark_{depth}"),
        dark_hours=getattr(row, f"dark_hours_{depth}"),
        dark_absent=row.absent.get(f"dark{suffix}"),
        moonless=getattr(row, f"moonless_{depth}"),
        moonless_hours=getattr(row, f"moonless_hours_{depth}"),
        moonless_absent=row.absent.get(f"moonless{suffix}"),
    )
