"""Night lines for the tests of pictures and tables: invented, plain, told by their dates."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from trips.charts.bands import NightBands, NightLine

FIRST = date(2027, 6, 1)


def make_bands(day: date = FIRST, **fields: Any) -> NightBands:
    """Sunset 21:00, dusks an hour apart, dark 23:30–03:00, the Moon rises at 02:00."""
    values: dict[str, Any] = {
        "date": day,
        "civil": ((540, 1080),),
        "nautical": ((600, 1020),),
        "astronomical": ((650, 970),),
        "dark": ((690, 900),),
        "moon_up": ((840, 1440),),
        "veil": ((840, 1080),),
        "lit": 0.25,
        "waxing": False,
        "usable": (690, 840),
        "out": ((690, 840),),
        "offsets": (120, 120),
    }
    return NightBands(**values | fields)


def make_line(
    day: date = FIRST, *, bands: dict[str, Any] | None = None, **fields: Any
) -> NightLine:
    values: dict[str, Any] = {
        "bands": make_bands(day, **bands or {}),
        "dark_hours": 3.5,
        "moonless_hours": 2.5,
        "usable_dark_hours": 3.0,
        "usable_hours": 2.5,
        "is_candidate": True,
        "run": None,
        "against": "",
        "events": (),
        "address": f"/sites/1/nights/{day}/",
    }
    return NightLine(**values | fields)


def make_lines(first: date, last: date, **fields: Any) -> list[NightLine]:
    days = (last - first).days + 1
    return [make_line(first + timedelta(days=n), **fields) for n in range(days)]


# What a night under the midnight Sun has not.
NO_NIGHT: dict[str, Any] = {
    "civil": (), "nautical": (), "astronomical": (), "dark": (), "veil": (), "usable": None,
}  # fmt: skip
