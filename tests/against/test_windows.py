"""Windows against Astropy asked by brute force: nothing missed, nothing invented.

Referee: tests/against/astropy_sky.py. It is looked at every twenty seconds, every second
while a corner of the skyline is passed, and a second before and after each of our edges. Wherever
it and we say different things, either one of our edges is within a second, or it sees the target
within ALLOWED_DEGREES of the line: 0.5″ for a grazing edge, and 0.8″ that Astropy's polar motion
and diurnal aberration, which ours leaves out, differ at most.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from skyfield.api import Star
from skyfield.searchlib import find_discrete

from sky.ephemeris import timescale
from sky.lights import light_spans
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of
from sky.targets.target import LIGHTS, Arch, Body, FixedPoint, Light, Point, Target
from sky.windows import Wanted, Windows, find_windows
from tests.against import skyfield_search
from tests.against.astropy_sky import MOON_RADIUS_KM, Sky, alone, refraction

Floats = NDArray[np.float64]

ALLOWED_DEGREES = (0.5 + 0.8) / 3600
ORDINARY_SECONDS = 1.0
BEST_DEGREES = 0.002
LOOK_SECONDS = 20.0
CORNER_LOOKS = 21
NIGHTS = 24
# Without a leap second: over one, Astropy's Unix seconds are stretched for a day.
YEARS = (1980, 2000, 2003, 2027, 2028, 2049)
GALACTIC_POLE = (192.85948, 27.12825)  # ESA SP-1200 (1997), vol. 1, sec. 1.5.3
ARCH = Arch(20.0, 60.0)
BODIES = ("moon", "venus", "jupiter", "mars", "mercury", "saturn")
ZONES = ("UTC", "Etc/GMT+12", "Etc/GMT-12", "Europe/Madrid", "Pacific/Auckland")

# Degrees by which something is as wanted, at Unix seconds; negative while it is not.
Margin = Callable[[Floats], Floats]


@pytest.fixture(scope="module", autouse=True)
def _alone() -> Iterator[None]:
    with alone():
        yield


@dataclass(frozen=True)
class Case:
    """A spot beside its site, a season, and one skyline."""

    site: Place
    spot: Place
    first: date
    nights: int
    skyline: Skyline
    wanted: tuple[Wanted, ...]

    def table(self) -> SeasonTable:
        return compute_season([self.site], self.first, self.first + timedelta(self.nights - 1))


def any_skyline(rng: np.random.Generator, number: int) -> Skyline:
    """Give a rough ridge, a ridge with spikes, a canyon, nothing, or one point, in turn."""
    sort, count = number % 5, int(rng.integers(2, 60))
    around = np.sort(rng.uniform(0, 360, count)).round(3)
    ridge = dict(zip(around.tolist(), rng.uniform(-1, 25, count).tolist(), strict=True))
    if sort == 1:
        for foot in rng.uniform(1, 359, 6).round(3):
            ridge |= {foot: 3.0, foot + 0.05: float(rng.uniform(20, 60)), foot + 0.1: 3.0}
    if sort == 2:
        wall, gap = float(rng.uniform(45, 75)), float(rng.uniform(10, 330))
        ridge = {0.0: wall, gap: wall, gap + 4: 2.0, gap + 12: 5.0, gap + 13: wall}
    if sort == 3:
        return LEVEL
    return skyline_of(list(ridge.items())[:1] if sort == 4 else list(ridge.items()))


def any_place(rng: np.random.Generator, number: int) -> tuple[Place, Place]:
    """Give a site anywhere, with a zone that need not fit its longitude, and a spot 3 km off."""
    latitude = (
        (0.0, 78.2, -77.8, 89.0)[number // 4 % 4] if number % 4 == 0 else rng.uniform(-66, 66)
    )
    longitude, zone = float(rng.uniform(-180, 180)), ZONES[number % len(ZONES)]
    height = float(rng.choice([0.0, 1600.0, 5600.0]))
    site = Place(float(latitude), longitude, height, zone)
    return site, Place(float(latitude) - 0.03, longitude, height + 250, zone)


def any_star(rng: np.random.Generator) -> FixedPoint:
    """Give a place among the stars, one in six beside a pole."""
    if rng.uniform() < 1 / 6:
        dec = float(rng.choice([-1, 1]) * rng.uniform(89, 89.99))
    else:
        dec = float(np.degrees(np.arcsin(rng.uniform(-1, 1))))
    return FixedPoint(float(rng.uniform(0, 360)), dec)


def wanted_of(points: tuple[Point, ...], light: Light, rng: np.random.Generator) -> Wanted:
    least = float(rng.choice([-90.0, 5.0, 8.0, 25.0, 60.0]))
    return Wanted(Target("any:any", "any", points, light, None), light, least)


def cases_of_a_year(count: int, seed: int) -> list[Case]:
    """Draw stars over a whole year: among so many days some graze their skyline."""
    rng, cases = np.random.default_rng(seed), []
    for number in range(count):
        site, spot = any_place(rng, number)
        wanted = tuple(wanted_of((any_star(rng),), "any", rng) for _ in range(2))
        first = date(int(rng.choice(YEARS)), 1, 1)
        cases.append(Case(site, spot, first, 365, any_skyline(rng, number), wanted))
    return cases


def cases_of_some_weeks(count: int, seed: int) -> list[Case]:
    """Draw two bodies, a star, a pair and the arch over some weeks, in each light in turn."""
    rng, cases = np.random.default_rng(seed), []
    for number in range(count):
        site, spot = any_place(rng, number)
        first_body, second_body = (Body(name) for name in rng.permutation(BODIES)[:2])
        several: list[tuple[Point, ...]] = [
            (first_body,), (any_star(rng),), (first_body, second_body), (ARCH,),
        ]  # fmt: skip
        lights = [LIGHTS[(number + turn) % len(LIGHTS)] for turn in range(len(several))]
        wanted = tuple(
            wanted_of(points, light, rng) for points, light in zip(several, lights, strict=True)
        )
        first = date(int(rng.choice(YEARS)), int(rng.integers(1, 12)), 3)
        cases.append(Case(site, spot, first, NIGHTS, any_skyline(rng, number), wanted))
    return cases


def line_of(skyline: Skyline, azimuth: Floats) -> tuple[Floats, Floats]:
    """Give the skyline's altitude toward azimuths, and how steep it is there."""
    if skyline.is_level:
        return np.zeros(len(azimuth)), np.zeros(len(azimuth))
    around, height = np.array(skyline.points).T
    up, ahead = (np.interp(azimuth + move, around, height, period=360.0) for move in (0, 1e-6))
    return up, (ahead - up) / 1e-6


def clear_of(skyline: Skyline, least: float, track: Any) -> Margin:
    """Give by how much a track is clear, measured across the line where that is steep."""

    def margin(unix: Floats) -> Floats:
        altitude, azimuth = track.apparent(unix)
        up, steep = line_of(skyline, azimuth)
        across = np.hypot(1.0, steep / np.maximum(np.cos(np.radians(altitude)), 1e-6))
        room: Floats = np.minimum((altitude - up) / across, altitude - least)
        return room

    return margin


def arch_stands(sky: Sky, arch: Arch) -> Margin:
    pole = sky.star(*GALACTIC_POLE)

    def margin(unix: Floats) -> Floats:
        top = arch_top(pole, unix)
        room: Floats = np.minimum(top - arch.lowest_top_degrees, arch.highest_top_degrees - top)
        return room

    return margin


def arch_top(pole: Any, unix: Floats) -> Floats:
    height = 90.0 - np.abs(pole.geometric(unix)[0])
    seen: Floats = height + refraction(height, pole.elevation_m)
    return seen


def light_margin(sky: Sky, light: Light, dark_level: float = -18.0) -> Margin:
    """Give by how much a light is there, from its definition."""
    if light == "any":
        return lambda unix: np.full(len(unix), 90.0)
    sun, moon = sky.body("sun"), sky.body("moon")

    def margin(unix: Floats) -> Floats:
        depth = -sun.geometric(unix)[0]
        height, _, distance = moon.geometric(unix)
        if light == "twilight":
            return np.minimum(depth - 6.0, 12.0 - depth)
        if light == "moonlit":
            seen, lit = moon.apparent(unix)[0], sky.illuminated_angle(unix)
            thin, full = np.degrees(np.arccos(1 - 2 * np.array([0.10, 0.70])))
            room = (depth - 12.0, seen - 10, 45 - seen, lit - thin, full - lit)
            least: Floats = np.array(room).min(axis=0)
            return least
        down = -34 / 60 - np.degrees(np.arcsin(MOON_RADIUS_KM / distance)) - height
        dark: Floats = depth + dark_level
        return dark if light == "dark" else np.minimum(dark, down)

    return margin


def track_of(sky: Sky, point: Point) -> Any:
    if isinstance(point, FixedPoint):
        return sky.star(point.ra_degrees, point.dec_degrees)
    assert isinstance(point, Body)
    return sky.body(point.name)


def looks(ours: Windows, table: SeasonTable, skyline: Skyline, tracks: list[Any]) -> Floats:
    """Give the instants to look at: evenly, closer at corners, and beside our edges."""
    start, end = table.noons[0][[0, -1]]
    even = np.arange(start, end, LOOK_SECONDS)
    edges = ours.spans.ravel()
    beside = [edges - ORDINARY_SECONDS * 1.001, edges + ORDINARY_SECONDS * 1.001]
    closer = [ours.spans.mean(axis=1)]
    corners = np.array([azimuth for azimuth, _ in skyline.points])
    for track in tracks if len(corners) > 1 else []:
        between = np.searchsorted(corners, track.apparent(even)[1])
        at = even[:-1][np.diff(between) != 0]
        closer.append((at[:, None] + np.linspace(0, LOOK_SECONDS, CORNER_LOOKS)).ravel())
    every = np.concatenate((even, *beside, *closer))
    found: Floats = every[(every >= start) & (every < end)]
    return found


def inside(spans: Floats, unix: Floats) -> NDArray[np.bool_]:
    if not len(spans):
        return np.zeros(len(unix), np.bool_)
    at = np.clip(np.searchsorted(spans[:, 0], unix, side="right") - 1, 0, None)
    result: NDArray[np.bool_] = (unix >= spans[at, 0]) & (unix < spans[at, 1])
    return result


def far_from(edges: Floats, unix: Floats) -> NDArray[np.bool_]:
    around = np.concatenate(([-np.inf], np.sort(edges), [np.inf]))
    after = np.searchsorted(around, unix)
    nearest = np.minimum(unix - around[after - 1], around[after] - unix)
    result: NDArray[np.bool_] = nearest > ORDINARY_SECONDS
    return result


def judge(case: Case) -> None:
    table = case.table()
    start, end = table.noons[0][[0, -1]]
    ours = find_windows(case.wanted, case.spot, case.skyline, table)
    seen, lit = Sky(case.spot, start, end), Sky(case.site, start, end)
    for wanted, found in zip(case.wanted, ours, strict=True):
        points, light = wanted.target.points, light_margin(lit, wanted.light)
        if isinstance(points[0], Arch):
            tracks, margins = [], [arch_stands(seen, points[0])]
        else:
            tracks = [track_of(seen, point) for point in points]
            least = wanted.least_altitude_degrees
            margins = [clear_of(case.skyline, least, track) for track in tracks]
        unix = looks(found, table, case.skyline, tracks)
        margin = np.minimum.reduce([light(unix), *(each(unix) for each in margins)])
        apart = (inside(found.spans, unix) != (margin > 0)) & far_from(found.spans.ravel(), unix)
        worst = float(np.abs(margin[apart]).max(initial=0.0))
        assert worst <= ALLOWED_DEGREES, (wanted, worst * 3600, unix[apart][:5])
        if tracks:
            judge_best(found, tracks[0], unix)


def judge_best(ours: Windows, track: Any, unix: Floats) -> None:
    altitude, azimuth = track.apparent(ours.best_at)
    assert ours.best_altitude == pytest.approx(altitude, abs=2 * ALLOWED_DEGREES)
    assert ours.best_altitude_geometric == pytest.approx(
        track.geometric(ours.best_at)[0], abs=ALLOWED_DEGREES
    )
    aside = np.abs((ours.best_azimuth - azimuth + 180) % 360 - 180)
    assert (aside * np.cos(np.radians(altitude))).max(initial=0.0) <= ALLOWED_DEGREES
    assert inside(ours.spans, ours.best_at - 1e-6).sum() + (
        inside(ours.spans, ours.best_at).sum()
    ) >= len(ours.best_at)
    held = unix[inside(ours.spans, unix)]
    night = ours.night[np.searchsorted(ours.spans[:, 0], held, side="right") - 1]
    best = ours.best_altitude[np.searchsorted(ours.best_night, night)]
    assert (track.apparent(held)[0] - best).max(initial=-90.0) <= BEST_DEGREES


@pytest.mark.parametrize("case", cases_of_a_year(5, seed=1))
def test_a_year_of_stars_agrees_with_the_referee(case: Case) -> None:
    judge(case)


@pytest.mark.parametrize("case", cases_of_some_weeks(10, seed=2))
def test_weeks_of_bodies_and_lights_agrees_with_the_referee(case: Case) -> None:
    judge(case)


def windows_of(point: Point, place: Place, light: Light, least: float) -> Windows:
    """Give the windows of a year over a level horizon."""
    wanted = Wanted(Target("any:any", "any", (point,), light, None), light, least)
    table = compute_season([place], date(2027, 1, 1), date(2027, 12, 31))
    return find_windows([wanted], place, LEVEL, table)[0]


def test_a_star_s_risings_are_those_of_skyfield_s_search() -> None:
    """A general search that knows nothing of ours: Sirius over 10.3° geometric, a year long."""
    sirius, place = FixedPoint(101.28716, -16.71612), Place(40.4, -1.1, 1600, "Europe/Madrid")
    level = 10.3
    apparent = level + float(refraction(np.array([level]), place.elevation_m)[0])
    ours = windows_of(sirius, place, "any", apparent)
    # Spans are cut at noons; what ends there begins there again.
    edges, times = np.unique(ours.spans, return_counts=True)
    first, last = datetime(2027, 1, 2, tzinfo=UTC), datetime(2028, 1, 1, tzinfo=UTC)
    between = (edges > first.timestamp()) & (edges < last.timestamp())
    with skyfield_search.kernel() as kernel:
        theirs = passages_of(sirius, level, skyfield_search.observer(kernel, place), first, last)
    assert len(theirs) > 700
    assert edges[between & (times == 1)] == pytest.approx(theirs, abs=ORDINARY_SECONDS)


def passages_of(
    point: FixedPoint, level: float, observer: Any, first: datetime, last: datetime
) -> Floats:
    """Give when Skyfield's general search finds a star at a geometric altitude: Unix seconds."""
    star = Star(ra_hours=point.ra_degrees / 15, dec_degrees=point.dec_degrees)

    def is_up(time: Any) -> Any:
        return observer.at(time).observe(star).apparent().altaz()[0].degrees > level

    is_up.step_days = 0.2  # type: ignore[attr-defined]
    scale = timescale()
    found, _ = find_discrete(scale.from_datetime(first), scale.from_datetime(last), is_up)
    return np.array([at.timestamp() for at in found.utc_datetime()])


CORE = FixedPoint(266.417, -29.008)


def test_the_core_culminates_low_at_forty_north_and_overhead_at_29_south() -> None:
    """90° − |latitude − declination|: 20.6° at 40.4° N. Precession moves it by 0.01° by 2027."""
    north = windows_of(CORE, Place(40.4, -1.1), "any", 0.0)
    assert north.best_altitude_geometric.max() == pytest.approx(90 - 40.4 - 29.008, abs=0.02)
    south = windows_of(CORE, Place(-29.008, 150.0), "any", 0.0)
    assert south.best_altitude_geometric.max() == pytest.approx(90, abs=0.02)


def test_what_never_rises_has_no_windows() -> None:
    found = windows_of(CORE, Place(65.0, 20.0), "any", 0.0)
    assert len(found.spans) == len(found.night) == len(found.best_at) == 0


@pytest.mark.parametrize("light", LIGHTS)
def test_what_never_sets_fills_its_light(light: Light) -> None:
    """Polaris from 60° north, over a ridge of 40°."""
    place, ridge = Place(60.0, 20.0, 0, "Europe/Helsinki"), skyline_of([(0, 40), (120, 35)])
    table = compute_season([place], date(2027, 1, 1), date(2027, 12, 31))
    polaris = FixedPoint(37.95456, 89.26411)
    wanted = Wanted(Target("any:any", "any", (polaris,), light, None), light, 50.0)
    found = find_windows([wanted], place, ridge, table)[0]
    assert found.spans == pytest.approx(light_spans(table, 0, light))
