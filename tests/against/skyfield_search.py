"""Skyfield's own search and its exact altitudes, as the referee."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.typing import NDArray
from skyfield import almanac
from skyfield.api import load_file, wgs84

from sky.constants import HORIZON_REFRACTION_DEGREES, MOON_RADIUS_KM
from sky.ephemeris import timescale
from sky.place import Place

Floats = NDArray[np.float64]
HOUR = 3600.0


@contextmanager
def kernel() -> Iterator[Any]:
    opened = load_file(str(files("skyfield_data") / "data" / "de421.bsp"))
    try:
        yield opened
    finally:
        opened.close()


def observer(opened: Any, place: Place) -> Any:
    return opened["earth"] + wgs84.latlon(place.latitude, place.longitude, place.elevation_m)


def crossings_of_a_year(
    opened: Any, place: Place, year: int, level: float | None
) -> tuple[Floats, float, float]:
    """Give Skyfield's crossings between two instants, in Unix seconds; no level means the Moon."""
    scale = timescale()
    start, end = scale.utc(year, 1, 1, 12), scale.utc(year + 1, 1, 1, 12)
    body = opened["moon" if level is None else "sun"]
    wanted = {} if level is None else {"horizon_degrees": level}
    found = [
        time.utc_datetime()[really]
        for search in (almanac.find_risings, almanac.find_settings)
        for time, really in [search(observer(opened, place), body, start, end, **wanted)]
    ]
    at = np.sort([instant.timestamp() for part in found for instant in part])
    return at, start.utc_datetime().timestamp(), end.utc_datetime().timestamp()


def crossings_near(opened: Any, place: Place, root: float, level: float | None) -> int:
    """Count how often Skyfield's altitude, every 10 s, passes the level within an hour of `root`.

    Its search itself may halt seconds of arc away from a graze, or find one crossing of two.
    """
    height = height_above_level(opened, place, root + np.arange(-HOUR, HOUR, 10.0), level)
    return int(np.sum((height[1:] > 0) != (height[:-1] > 0)))


def height_above_level(opened: Any, place: Place, unix: Floats, level: float | None) -> Floats:
    """Give degrees above the level by Skyfield, at Unix times of one place."""
    time = timescale().from_datetimes([datetime.fromtimestamp(at, UTC) for at in unix])
    body = opened["moon" if level is None else "sun"]
    seen = observer(opened, place).at(time).observe(body).apparent()
    altitude, _, distance = seen.altaz()
    degrees = np.asarray(altitude.degrees, dtype=np.float64)
    if level is not None:
        return degrees - level
    limb = np.degrees(np.arcsin(MOON_RADIUS_KM / np.asarray(distance.km, dtype=np.float64)))
    result: Floats = degrees + HORIZON_REFRACTION_DEGREES + limb
    return result
