"""What to focus on through a night: bright stars and planets neither low nor overhead.

Low, the air smears them; high up, a screen cannot be looked at. The heights, the magnitude, and how
often focus is looked at again: common practice, no published source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sky.apparent import directions_toward
from sky.directions import Directions
from sky.dome import Standing
from sky.ephemeris import planet_magnitudes
from sky.place import Place
from sky.skyline import Skyline
from sky.stars import bright_stars, directions_at_once
from sky.targets.planets import NAMES as PLANETS
from sky.targets.target import Body, FixedPoint

Floats = NDArray[np.float64]

LOWEST_DEGREES, HIGHEST_DEGREES = 20.0, 70.0
FAINTEST = 2.0
AGAIN_SECONDS = 7200.0
# It must stay for as long as a group needs to focus on it.
LEAST_SECONDS = 1800.0
MINUTE = 60.0
NAMED = 3
MOON = Body("moon")


@dataclass(frozen=True, slots=True)
class FocusTarget:
    """A star or planet as it stands at a stop; `until` in Unix seconds, to a minute, when it has
    left the heights or gone behind the land, None where it stays to the end."""

    name: str
    magnitude: float
    standing: Standing
    until: float | None


@dataclass(frozen=True, slots=True)
class FocusStop:
    """A moment to focus at, in Unix seconds: the brightest first, at most NAMED of them; and the
    Moon, where it stands as they do."""

    at: float
    targets: tuple[FocusTarget, ...]
    moon: Standing | None


@dataclass(frozen=True, slots=True)
class _Light:
    name: str
    magnitude: float
    point: Body | FixedPoint


def focus_stops(place: Place, skyline: Skyline, start: float, end: float) -> tuple[FocusStop, ...]:
    """Give when to focus between two Unix times, and on what.

    The first stop is at the start; the next two hours later, or as soon as the first target of this
    one has left 20° to 70° (apparent) or the skyline. A target stays for half an hour, or
    to the end. A stop may have none. Reversed times: no stop. Errors: `instant_outside`.
    """
    return tuple(_stops(place, skyline, start, end))


def _stops(place: Place, skyline: Skyline, start: float, end: float) -> Iterator[FocusStop]:
    at = start
    while at < end:
        targets = tuple(_targets(place, skyline, at, end))
        moon = _seen(MOON, place, np.array([at]))
        is_moon_good = bool(_fits(moon, skyline)[0])
        yield FocusStop(at, targets, _standing(moon) if is_moon_good else None)
        until = targets[0].until if targets else None
        at = min(at + AGAIN_SECONDS, until or np.inf)


def _targets(place: Place, skyline: Skyline, at: float, end: float) -> Iterator[FocusTarget]:
    """Give the brightest that stay, looked at minute by minute from now on."""
    minutes = np.append(np.arange(at, end, MINUTE), end)
    found = 0
    for light in _up(place, skyline, at):
        seen = _seen(light.point, place, minutes)
        gone = np.flatnonzero(~_fits(seen, skyline))
        until = float(minutes[gone[0]]) if len(gone) else None
        if until is None or until - at >= LEAST_SECONDS:
            yield FocusTarget(light.name, light.magnitude, _standing(seen), until)
            found += 1
        if found == NAMED:
            return


def _up(place: Place, skyline: Skyline, at: float) -> list[_Light]:
    """Give what stands right at an instant, the brightest first."""
    instant = datetime.fromtimestamp(at, UTC)
    stars, vectors = _named_stars()
    stand = _fits(directions_at_once(vectors, place, instant), skyline)
    up = [star for star, stands in zip(stars, stand, strict=True) if stands]
    for planet in _planets(instant.date()):
        if _fits(_seen(planet.point, place, np.array([at])), skyline)[0]:
            up.append(planet)
    return sorted(up, key=lambda light: light.magnitude)


@lru_cache(maxsize=1)
def _named_stars() -> tuple[tuple[_Light, ...], Floats]:
    """Give the stars with a name that are bright enough, and their vectors."""
    stars = bright_stars()
    chosen = [n for n, name in enumerate(stars.names) if name and stars.magnitudes[n] <= FAINTEST]
    vectors = stars.vectors[chosen]
    ra = np.degrees(np.arctan2(vectors[:, 1], vectors[:, 0])) % 360
    dec = np.degrees(np.arcsin(vectors[:, 2]))
    lights = tuple(
        _Light(stars.names[n], float(stars.magnitudes[n]), FixedPoint(float(ra[k]), float(dec[k])))
        for k, n in enumerate(chosen)
    )
    return lights, vectors


def _planets(day: date) -> list[_Light]:
    """Give those that are bright enough around a day."""
    magnitudes = planet_magnitudes(day + timedelta(days=1))
    return [
        _Light(name, magnitudes[body], Body(body))
        for body, name in PLANETS.items()
        if magnitudes[body] <= FAINTEST
    ]


def _seen(point: Body | FixedPoint, place: Place, unix: Floats) -> Directions:
    return directions_toward(point, place, unix)


def _fits(seen: Directions, skyline: Skyline) -> NDArray[np.bool_]:
    height = seen.altitude_degrees
    fits: NDArray[np.bool_] = (
        (height >= LOWEST_DEGREES)
        & (height <= HIGHEST_DEGREES)
        & (height > skyline.at(seen.azimuth_degrees))
    )
    return fits


def _standing(seen: Directions) -> Standing:
    return Standing(float(seen.altitude_degrees[0]), float(seen.azimuth_degrees[0]))
