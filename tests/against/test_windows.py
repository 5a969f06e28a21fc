"""Windows against Astropy asked by brute force: nothing missed, nothing invented.

Referee: tests/against/astropy_sky.py, looked at as tests/against/agreement.py says.
"""

from __future__ import annotations

from collections.abc import Iterator
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
from sky.targets.target import Arch, Body, FixedPoint, Light, Point, Target
from sky.windows import Wanted, Windows, find_windows
from tests.against import skyfield_search
from tests.against.agreement import (
    ALLOWED_DEGREES,
    ORDINARY_SECONDS,
    SHARP_LIGHTS,
    Margin,
    clear_of,
    far_from,
    inside,
    light_margin,
    looks,
    track_of,
)
from tests.against.astropy_sky import Sky, alone, refraction
from tests.against.drawn import BODIES, YEARS, any_place, any_skyline, any_star

Floats = NDArray[np.float64]

BEST_DEGREES = 0.002
NIGHTS = 24
GALACTIC_POLE = (192.85948, 27.12825)  # ESA SP-1200 (1997), vol. 1, sec. 1.5.3
ARCH = Arch(20.0, 60.0)


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
        lights = [SHARP_LIGHTS[(number + turn) % len(SHARP_LIGHTS)] for turn in range(len(several))]
        wanted = tuple(
            wanted_of(points, light, rng) for points, light in zip(several, lights, strict=True)
        )
        first = date(int(rng.choice(YEARS)), int(rng.integers(1, 12)), 3)
        cases.append(Case(site, spot, first, NIGHTS, any_skyline(rng, number), wanted))
    return cases


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
        unix = looks(found.spans, start, end, case.skyline, tracks)
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


@pytest.mark.parametrize("light", SHARP_LIGHTS)
def test_what_never_sets_fills_its_light(light: Light) -> None:
    """Polaris from 60° north, over a ridge of 40°."""
    place, ridge = Place(60.0, 20.0, 0, "Europe/Helsinki"), skyline_of([(0, 40), (120, 35)])
    table = compute_season([place], date(2027, 1, 1), date(2027, 12, 31))
    polaris = FixedPoint(37.95456, 89.26411)
    wanted = Wanted(Target("any:any", "any", (polaris,), light, None), light, 50.0)
    found = find_windows([wanted], place, ridge, table)[0]
    assert found.spans == pytest.approx(light_spans(table, 0, light), abs=0.001)
