"""The Moon's phases, and the equinoxes and solstices: crossings of ecliptic longitude."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import lru_cache
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray
from scipy.interpolate import CubicSpline

from sky.altitude import phase_of
from sky.constants import SECONDS_PER_DAY
from sky.ephemeris import J2000_JD, J2000_UNIX, nodes_between, utc_from_tt

QUARTERS = ("new", "first_quarter", "full", "last_quarter")


@dataclass(frozen=True, slots=True)
class Phase:
    """One of the four phases, at its instant in UTC."""

    instant: datetime
    kind: str


@lru_cache(maxsize=64)
def moon_phases(first: date, last: date) -> tuple[Phase, ...]:
    """Give the phases between 0 h UTC of `first` and 24 h UTC of `last`, in order.

    A phase is the instant at which the apparent geocentric longitudes of Moon and Sun differ by
    0°, 90°, 180° or 270° (USNO's definition).
    """
    nodes = nodes_between(first, last, ("sun", "moon"))
    elongation = phase_of(nodes).elongation
    found = _quarter_turns(elongation, nodes.tt)
    return tuple(
        Phase(instant, QUARTERS[turn % 4])
        for turn, instant in found
        if first <= instant.date() <= last
    )


def new_moons(first: date, last: date) -> list[datetime]:
    """Give the instants of new Moon from `first` to `last`."""
    return [phase.instant for phase in moon_phases(first, last) if phase.kind == "new"]


def equinoxes_and_solstices(first: date, last: date) -> list[datetime]:
    """Give the instants at which the Sun's apparent longitude is a multiple of 90°, in UTC."""
    nodes = nodes_between(first, last, ("sun", "moon"))
    longitude = CubicSpline(nodes.tt, nodes.longitudes["sun"])
    return [
        instant
        for _, instant in _quarter_turns(longitude, nodes.tt)
        if first <= instant.date() <= last
    ]


def illuminated(tt_jd: float) -> float:
    """Give the Moon's geocentric illuminated fraction at a Julian date of TT, 0 to 1."""
    seconds = (tt_jd - J2000_JD) * SECONDS_PER_DAY
    day = datetime.fromtimestamp(seconds + J2000_UNIX, UTC).date()
    return float(phase_of(nodes_between(day, day, ("sun", "moon"))).illuminated(seconds))


def _quarter_turns(angle: CubicSpline, tt: NDArray[np.float64]) -> list[tuple[int, datetime]]:
    """Give each instant at which a growing angle is a multiple of a quarter turn, and which."""
    quarter = np.pi / 2
    start, end = (float(angle(edge)) / quarter for edge in tt[[0, -1]])
    turns = np.arange(ceil(start), floor(end) + 1)
    roots = np.interp(turns * quarter, angle(tt), tt)
    for _ in range(3):  # between nodes three hours apart the angle is all but straight
        roots -= (angle(roots) - turns * quarter) / angle(roots, 1)
    return [
        (turn, datetime.fromtimestamp(second, UTC))
        for turn, second in zip(turns.tolist(), utc_from_tt(roots).tolist(), strict=True)
    ]
