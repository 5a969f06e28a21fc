"""A row a night for a spreadsheet: local times with their offset, nothing localised."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from trips.almanac.local_time import local
from trips.almanac.records import EVENTS, night_record
from trips.models import Night
from trips.planning.nights import JudgedNight
from trips.tabular import Cell

# Figures and codes as they are known inside; a code of `not_offered` says what speaks against the
# evening whatever the sky, `note` why an event is not there. Usable hours and candidates are those
# of evenings that are offered, so that a plain sum is true; what another evening would give stands
# in `usable_hours_if_offered`. Usable dark is the physical measure beside the moonless: the sky
# overhead, brightened by little.
HEADING = (
    "night",
    *EVENTS,
    "moonrise",
    "moonset",
    "moon_illuminated",
    "moon_waxing",
    "dark",
    "moonless",
    "dark_hours",
    "moonless_hours",
    "usable_dark",
    "usable_dark_hours",
    "usable_from",
    "usable_until",
    "usable_hours",
    "candidate",
    "run",
    "not_offered",
    "usable_hours_if_offered",
    "note",
)

Numbers = Mapping[date, int | None]


def records(
    rows: Mapping[date, Night],
    nights: Sequence[JudgedNight],
    zone: str,
    dark_level: int,
    numbers: Numbers,
) -> Iterator[list[Cell]]:
    """Give the cells of each judged night; `numbers` are those of the runs that nights are in."""
    for night in nights:
        told = _stored(rows[night.date], zone, dark_level) | _judged(night, zone)
        told["run"] = numbers.get(night.date)
        yield [told[name] for name in HEADING]


def _stored(row: Night, zone: str, dark_level: int) -> dict[str, Any]:
    record = night_record(row, zone, dark_level)
    return record | {
        "moonrise": " ".join(record["moonrise"]),
        "moonset": " ".join(record["moonset"]),
        "moon_waxing": int(row.moon_waxing),
        "dark": _intervals(record["dark"]),
        "moonless": _intervals(record["moonless"]),
        "usable_dark": _intervals(record["usable_dark"]),
    }


def _intervals(pairs: Sequence[Sequence[str]]) -> str:
    """Write spans as ISO 8601 does, start/end, one after the other."""
    return " ".join(f"{start}/{end}" for start, end in pairs)


def _judged(night: JudgedNight, zone: str) -> dict[str, Cell]:
    offered = night.why_not is None
    block = night.block if offered else None
    return {
        "usable_from": _second(block.start.timestamp(), zone) if block else None,
        "usable_until": _second(block.end.timestamp(), zone) if block else None,
        "usable_hours": round(night.usable_hours, 4) if offered else None,
        "candidate": int(night.is_candidate and offered),
        "not_offered": night.why_not,
        "usable_hours_if_offered": round(night.usable_hours, 4),
    }


def _second(instant: float, zone: str) -> str:
    return local(float(round(instant)), zone).isoformat()
