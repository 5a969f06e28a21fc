"""How bright the sky is along a night, overhead and toward each target that stands right."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sky.directions import Directions
from sky.light.brightness import LocalSky, SkyLight, bodies_at, sky_toward
from sky.light.units import magnitude, naked_eye_limit
from sky.moving import all_standings
from sky.place import Place
from sky.skyline import Skyline
from sky.targets.kinds import target_of
from sky.targets.target import Body, Point
from trips.almanac.local_sky import dark_enough
from trips.almanac.night_targets import NightTarget
from trips.almanac.windows import spot_place, spot_skyline
from trips.models import Night, Site, Spot

Floats = NDArray[np.float64]
Pair = tuple[float, float]

STEP_SECONDS = 300.0
HARDLY_MAG = 0.05


@dataclass(frozen=True, slots=True)
class Parts:
    """The sky toward one direction at one moment (Unix seconds), in magnitudes.

    `natural_mag` without anything; then what skyglow, the Moon and twilight each take, in this
    order: less these three, it is `sky_mag`.
    """

    at: float
    sky_mag: float
    natural_mag: float
    glow_mag: float
    moon_mag: float
    twilight_mag: float
    faintest_star: float


@dataclass(frozen=True, slots=True)
class LightLine:
    """The sky's brightness toward something at the instants of a night, mag/arcsec²: greater is
    darker. `is_clear` where it stands above the land, `spans` where it stands right, `best` its
    best moment; overhead that is amid the darkest, and there are no spans.
    """

    target: NightTarget | None
    magnitudes: Floats
    is_clear: NDArray[np.bool_]
    spans: tuple[Pair, ...]
    best: Parts


@dataclass(frozen=True, slots=True)
class NightLight:
    """A night's sky every five minutes from sunset to sunrise, `unix` (instant,) Unix seconds."""

    unix: Floats
    overhead: LightLine
    darkest: Pair  # as long as the zenith is as dark as it gets, within what is hardly seen
    toward: tuple[LightLine, ...]
    is_measured: bool


def night_light(
    row: Night, site: Site, spot: Spot | None, seen: Sequence[NightTarget]
) -> NightLight:
    """Give the light of a night on which the Sun sets, toward targets in the order given, all of
    which `has_a_sky`.

    Errors: those of Place, of the skyline and of `local_sky`.
    """
    enough, place, skyline = dark_enough(site), spot_place(site, spot), spot_skyline(spot)
    unix = _instants(row)
    stand = all_standings([_point(one) for one in seen], place, unix)
    height = np.vstack((np.full(len(unix), 90.0), stand.altitude_degrees))
    azimuth = np.vstack((np.zeros(len(unix)), stand.azimuth_degrees))
    mags = sky_toward(enough.sky, height, azimuth, bodies_at(place, unix)).magnitude
    clear = _clear(stand, skyline)
    darkest = _darkest(unix, mags[0])
    bests = _parts(enough.sky, place, sum(darkest) / 2, seen)
    return NightLight(
        unix=unix,
        overhead=LightLine(None, mags[0], np.ones(len(unix), dtype=bool), (), bests[0]),
        darkest=darkest,
        toward=tuple(
            LightLine(one, line, is_clear, one.spans, best)
            for one, line, is_clear, best in zip(seen, mags[1:], clear, bests[1:], strict=True)
        ),
        is_measured=enough.sky.is_measured,
    )


def _instants(row: Night) -> Floats:
    """Give every five minutes from sunset to sunrise, and both of these."""
    start, end = (row.sunset or row.start).timestamp(), (row.sunrise or row.end).timestamp()
    return np.append(np.arange(start, end, STEP_SECONDS), end)


def _darkest(unix: Floats, mags: Floats) -> Pair:
    """Give the stretch around the darkest instant in which the sky is hardly brighter."""
    top = int(np.argmax(mags))
    brighter = np.flatnonzero(mags < mags[top] - HARDLY_MAG)
    before, after = brighter[brighter < top], brighter[brighter > top]
    first = int(before[-1]) + 1 if len(before) else 0
    last = int(after[0]) - 1 if len(after) else len(unix) - 1
    return float(unix[first]), float(unix[last])


def has_a_sky(one: NightTarget) -> bool:
    """Tell whether the sky toward a target says anything: the Moon's own light drowns it."""
    return _point(one) != Body("moon")


def _point(one: NightTarget) -> Point:
    return target_of(one.entry.target).points[0]


def _clear(stand: Directions, skyline: Skyline) -> NDArray[np.bool_]:
    land = np.maximum(skyline.at(stand.azimuth_degrees), 0.0)
    is_clear: NDArray[np.bool_] = stand.altitude_degrees > land
    return is_clear


def _parts(
    sky: LocalSky, place: Place, amid_darkest: float, seen: Sequence[NightTarget]
) -> list[Parts]:
    """Take the light apart overhead at its darkest, and toward each target at its best."""
    at = np.array([amid_darkest, *(one.best.at for one in seen)])
    height = np.array([90.0, *(one.best.standing.altitude_degrees for one in seen)])
    azimuth = np.array([0.0, *(one.best.standing.azimuth_degrees for one in seen)])
    light = sky_toward(sky, height, azimuth, bodies_at(place, at))
    return [Parts(*figures) for figures in zip(at.tolist(), *_figures(light), strict=True)]


def _figures(light: SkyLight) -> list[list[float]]:
    natural, dark = magnitude(light.natural), magnitude(light.dark)
    moonlit, total = magnitude(light.dark + light.moonlight), light.magnitude
    steps = (total, natural, natural - dark, dark - moonlit, moonlit - total)
    return [one.tolist() for one in (*steps, naked_eye_limit(total))]
