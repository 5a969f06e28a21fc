"""Any place among the stars that somebody gives by right ascension and declination."""

from __future__ import annotations

import math
import re

from sky.errors import SkyError
from sky.targets.target import FixedPoint, Kind, Listing, Target

# Common practice, no published source.
LEAST_ALTITUDE_DEGREES = 25.0

SEXAGESIMAL = re.compile(
    r"(?P<sign>[+\-−]?)(?P<whole>\d{1,3})\s*(?P<unit>[hd°:])\s*(?P<minutes>\d{1,2})\s*[m'′:]?\s*"
    r"(?:(?P<seconds>\d{1,2}(?:\.\d*)?)\s*[s\"″]?)?"
)


def target(rest: str) -> Target:
    """Give the target of "RA,DEC" in ICRS degrees; errors: those of `position_of`."""
    ra, _, dec = rest.partition(",")
    point = position_of(ra, dec)
    return Target(key_of(point), name_of(point), (point,), "moonless", LEAST_ALTITUDE_DEGREES)


def position_of(ra: str, dec: str) -> FixedPoint:
    """Read ICRS degrees (`266.417`) or sexagesimals (`17h45m40s`, `-29d00m28s`).

    A right ascension with `:` counts hours. Errors: `position_unreadable`, `ra_outside` (0 to
    360°), `dec_outside` (−90 to 90°).
    """
    ra_degrees, dec_degrees = _angle("ra", ra), _angle("dec", dec)
    if not 0 <= ra_degrees <= 360:
        raise SkyError("ra_outside", value=ra)
    if not -90 <= dec_degrees <= 90:
        raise SkyError("dec_outside", value=dec)
    return FixedPoint(ra_degrees % 360, dec_degrees)


def key_of(point: FixedPoint) -> str:
    return f"position:{point.ra_degrees:.5f},{point.dec_degrees:+.5f}"


def name_of(point: FixedPoint) -> str:
    return f"{point.ra_degrees:.3f}° {point.dec_degrees:+.3f}°".replace("-", "−")


def _angle(field: str, text: str) -> float:
    typed = text.strip().replace("−", "-")
    try:
        value = float(typed)
    except ValueError:
        value = _sexagesimal(field, typed)
    if not math.isfinite(value):
        raise SkyError("position_unreadable", field=field, value=text)
    return value


def _sexagesimal(field: str, typed: str) -> float:
    read = SEXAGESIMAL.fullmatch(typed)
    if read is None or (read["unit"] == "h" and field == "dec"):
        raise SkyError("position_unreadable", field=field, value=typed)
    minutes, seconds = float(read["minutes"]), float(read["seconds"] or 0)
    if minutes >= 60 or seconds >= 60:
        raise SkyError("position_unreadable", field=field, value=typed)
    value = float(read["whole"]) + minutes / 60 + seconds / 3600
    counts_hours = field == "ra" and read["unit"] in "h:"
    return (-value if read["sign"] == "-" else value) * (15 if counts_hours else 1)


def search(text: str) -> list[Listing]:
    """Offer what was typed as two angles: "266.417 -29.008", "17h45m40s -29d00m28s".

    Errors: `ra_outside`, `dec_outside` where both are angles and one cannot be.
    """
    parts = text.replace(",", " ").split()
    if len(parts) != 2:
        return []
    try:
        point = position_of(parts[0], parts[1])
    except SkyError as error:
        if error.code != "position_unreadable":
            raise
        return []
    return [Listing(key_of(point), name_of(point), "a place among the stars")]


KIND = Kind("position", target, search, list)
