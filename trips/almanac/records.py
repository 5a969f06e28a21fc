"""A night as a plain record for JSON and CSV: local times with offset, rounded to the second."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from trips.almanac.local_time import local
from trips.models import Night

EVENTS = (
    "sunset",
    "civil_dusk",
    "nautical_dusk",
    "astronomical_dusk",
    "astronomical_dawn",
    "nautical_dawn",
    "civil_dawn",
    "sunrise",
)


def night_record(row: Night, zone: str, dark_level: int) -> dict[str, Any]:
    """Give the record of a night; dark and moonless at one dark level, usable dark overhead.

    `note` is None, or the words why an event, the dark or the moonless dark is not there.
    """
    level = -dark_level
    return {
        "night": row.date.isoformat(),
        **{name: _time(getattr(row, name), zone) for name in EVENTS},
        "moonrise": [_time(instant, zone) for instant in row.moonrises],
        "moonset": [_time(instant, zone) for instant in row.moonsets],
        "moon_illuminated": round(row.moon_illuminated, 4),
        "dark": _pairs(getattr(row, f"dark_{level}"), zone),
        "moonless": _pairs(getattr(row, f"moonless_{level}"), zone),
        "dark_hours": round(getattr(row, f"dark_hours_{level}"), 4),
        "moonless_hours": round(getattr(row, f"moonless_hours_{level}"), 4),
        "usable_dark": _pairs(row.usable, zone),
        "usable_dark_hours": round(row.usable_hours, 4),
        "note": _note(row, level),
    }


def _pairs(pairs: list[list[float]], zone: str) -> list[list[str | None]]:
    return [[_time(start, zone), _time(end, zone)] for start, end in pairs]


def _time(instant: datetime | float | None, zone: str) -> str | None:
    if instant is None:
        return None
    seconds = instant.timestamp() if isinstance(instant, datetime) else instant
    return local(float(round(seconds)), zone).isoformat()


def _note(row: Night, level: int) -> str | None:
    suffix = "" if level == 18 else f"_{level}"
    named = (*EVENTS, "moonrise", "moonset", f"dark{suffix}", f"moonless{suffix}")
    words = [row.absent[name] for name in named if name in row.absent]
    return ", ".join(dict.fromkeys(words)) or None
