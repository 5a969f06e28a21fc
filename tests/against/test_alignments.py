"""Alignments against Astropy asked by brute force: nothing missed, nothing invented.

Referee: tests/against/astropy_sky.py, looked at as tests/against/agreement.py says. The azimuth
tolerance is laid on the sky with the geometric altitude.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from sky.aim import Aim
from sky.alignments import Alignments, find_alignments
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, Skyline
from sky.targets.kinds import target_of
from sky.targets.target import Body, Light, Point, Target
from tests.against.agreement import (
    ALLOWED_DEGREES,
    LOOK_SECONDS,
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
from tests.against.published import row

Floats = NDArray[np.float64]

NIGHTS = 6
DRAWN, MOST_DRAWS = 24, 3
HALVINGS = 25  # of twenty seconds, to a microsecond
CORE = "position:266.41667,-29.00778"
ANDROMEDA = "position:10.68471,41.26875"
DUBHE = "position:165.93,61.75"

MEADOW = Place(40.4, -1.1, 1600, "Europe/Madrid")
GLEN = Place(57.2, -3.8, 400, "Europe/London")
POLAR_NIGHT = Place(-77.8, 166.7, 10, "Antarctica/McMurdo")
ARCTIC = Place(69.6, 18.9, 0, "Europe/Oslo")
ALPS = Place(-44.0, 170.5, 700, "Pacific/Auckland")
VOLCANO = Place(0.1, -78.4, 2800, "America/Guayaquil")
DESERT = Place(39.5, 76.0, 1300, "Asia/Shanghai")
ATOLL = Place(1.9, -157.4, 3, "Pacific/Kiritimati")

CHOSEN: list[tuple[str, Place, date, str, Aim, Light]] = [
    ("core due south", MEADOW, date(2027, 6, 1), CORE, Aim(180.0), "dark"),
    ("core over a tower", MEADOW, date(2027, 6, 1), CORE, Aim(172.0, 19.5, 1.5, 0.8), "dark"),
    ("a star high up", MEADOW, date(2027, 10, 1), ANDROMEDA, Aim(74.0, 55.0, 2.0, 1.0), "any"),
    ("near the zenith", MEADOW, date(2027, 10, 1), ANDROMEDA, Aim(300.0, 84.0, 1.0, 2.0), "any"),
    ("circumpolar, twice", GLEN, date(2027, 1, 3), DUBHE, Aim(20.0), "any"),
    ("at its elongation", GLEN, date(2027, 1, 3), DUBHE, Aim(51.0, 53.0, 4.0, 3.0), "any"),
    ("beside the pole", POLAR_NIGHT, date(2027, 6, 20), CORE, Aim(310.0, 38.0, 1.0, 2.0), "dark"),
    ("Arctic Moon", ARCTIC, date(2027, 1, 12), "moon:moon", Aim(135.0), "any"),
    ("Moon, ridge", ALPS, date(2027, 3, 16), "moon:moon", Aim(325.0, 12.0, 6.0, 2.0), "any"),
    ("Venus rising", VOLCANO, date(2028, 2, 1), "planet:venus", Aim(93.0, 4.0, 2.0, 0.5), "any"),
    ("Saturn, wide zone", DESERT, date(1999, 11, 5), "planet:saturn", Aim(240.0), "dark"),
    ("date line", ATOLL, date(2035, 11, 1), "planet:jupiter", Aim(75.0, 30.0, 3.0, 3.0), "dark"),
    ("beside the zenith", Place(17.4675, 118.0051, 0, "Asia/Manila"), date(2028, 12, 5),
     "position:17.46508,16.52955", Aim(93.05312, None, 8.0), "any"),
    ("overhead", Place(0.0, -73.54325, 1600), date(1980, 3, 13),
     "position:196.4827,-0.45103", Aim(90.48, None, 8.0), "any"),
    ("setting", MEADOW, date(2027, 8, 20), CORE, Aim(230.0, 1.0, 2.0, 0.5), "any"),
]  # fmt: skip


@pytest.fixture(scope="module", autouse=True)
def _alone() -> Iterator[None]:
    with alone():
        yield


@dataclass(frozen=True)
class Stage:
    """A target over a place in some nights, as the referee sees it; `light` None: its own."""

    target: Target
    place: Place
    first: date
    light: Light | None
    skyline: Skyline

    @cached_property
    def table(self) -> SeasonTable:
        return compute_season([self.place], self.first, self.first + timedelta(NIGHTS - 1))

    @cached_property
    def ends(self) -> tuple[float, float]:
        return float(self.table.noons[0][0]), float(self.table.noons[0][-1])

    @cached_property
    def sky(self) -> Sky:
        return Sky(self.place, *self.ends)

    @cached_property
    def track(self) -> Any:
        return track_of(self.sky, self.target.points[0])

    @cached_property
    def looked(self) -> Floats:
        return np.arange(*self.ends, LOOK_SECONDS)

    @cached_property
    def seen(self) -> Margin:
        """Give by how much the light is there and the land is not in the way."""
        lit = self._usual_light() if self.light is None else light_margin(self.sky, self.light)
        if self.skyline.is_level:
            return lit
        clear = clear_of(self.skyline, -90.0, self.track)
        return lambda unix: np.minimum(lit(unix), clear(unix))

    def _usual_light(self) -> Margin:
        if self.target.light != "any":
            return light_margin(self.sky, self.target.light)
        sun = self.sky.body("sun")
        return lambda unix: -6.0 - sun.geometric(unix)[0]

    def found(self, aim: Aim) -> Alignments:
        return find_alignments(self.target, aim, self.table, light=self.light, skyline=self.skyline)


def aside(track: Any, aim: Aim, unix: Floats) -> Floats:
    """Give degrees of azimuth to the right of the aim, −180 to 180."""
    right: Floats = track.geometric(unix)[1] - aim.azimuth_degrees
    result: Floats = (right + 180.0) % 360.0 - 180.0
    return result


def aside_on_the_sky(track: Any, aim: Aim, unix: Floats) -> Floats:
    result: Floats = aside(track, aim, unix) * np.cos(np.radians(track.geometric(unix)[0]))
    return result


def aimed(track: Any, aim: Aim) -> Margin:
    """Give by how much a target is where it is wanted, from the definition."""
    wanted = aim.altitude_degrees

    def margin(unix: Floats) -> Floats:
        side, seen = aside(track, aim, unix), track.apparent(unix)[0]
        level = np.cos(np.radians(track.geometric(unix)[0]))
        in_front = np.degrees(np.arcsin(level * np.cos(np.radians(side))))
        room = [aim.azimuth_tolerance_degrees - np.abs(side) * level, in_front]
        room.append(seen - aim.least_altitude_degrees)
        if wanted is not None:
            room.append(aim.altitude_tolerance_degrees - np.abs(seen - wanted))
        least: Floats = np.minimum.reduce(room)
        return least

    return margin


def passages(stage: Stage, aim: Aim) -> Floats:
    """Give every instant at which a target passes the azimuth in front, in any light."""
    side = aside(stage.track, aim, stage.looked)
    changes = (side[1:] > 0) != (side[:-1] > 0)
    low = stage.looked[:-1][changes & (np.abs(side[1:] - side[:-1]) < 180)]
    high, right_at_first = low + LOOK_SECONDS, aside(stage.track, aim, low) > 0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        is_before = (aside(stage.track, aim, middle) > 0) == right_at_first
        low, high = np.where(is_before, middle, low), np.where(is_before, high, middle)
    result: Floats = low
    return result


def apart(track: Any, aim: Aim, unix: Floats) -> Floats:
    """Give degrees on the sky between a target and an aim with an altitude."""
    height, wanted = np.radians(track.apparent(unix)[0]), np.radians(aim.altitude_degrees or 0.0)
    sideward = np.sin(np.radians(aside(track, aim, unix)) / 2) ** 2
    chord2 = np.sin((height - wanted) / 2) ** 2 + np.cos(height) * np.cos(wanted) * sideward
    result: Floats = 2 * np.degrees(np.arcsin(np.sqrt(chord2)))
    return result


def judge(stage: Stage, aim: Aim) -> Alignments:
    ours, where = stage.found(aim), aimed(stage.track, aim)

    def margin(unix: Floats) -> Floats:
        least: Floats = np.minimum(where(unix), stage.seen(unix))
        return least

    # Two passages may be in one stretch.
    spans = np.unique(np.stack((ours.start, ours.end), axis=1), axis=0)
    judge_stretches(stage, aim, spans, margin)
    if aim.altitude_degrees is None:
        judge_passages(stage, aim, ours, margin)
    else:
        judge_closest(stage.track, aim, ours)
    judge_told(stage.track, ours)
    return ours


def judge_stretches(stage: Stage, aim: Aim, spans: Floats, margin: Margin) -> None:
    unix = looks(spans, *stage.ends, stage.skyline, [stage.track])
    held, room = inside(spans, unix), margin(unix)
    is_sure = far_from(spans.ravel(), unix) & (np.abs(room) > ALLOWED_DEGREES)
    assert (room[held & is_sure] > 0).all()
    missed = unix[~held & is_sure & (room > 0)]
    if aim.altitude_degrees is None:  # a stretch without a passage is none
        missed = missed[~far_from(spans.ravel(), missed, 1.01 * ORDINARY_SECONDS)]
    assert len(missed) == 0


def judge_passages(stage: Stage, aim: Aim, ours: Alignments, margin: Margin) -> None:
    """Each of ours is one of the referee's, and each of its own one of ours."""
    theirs = passages(stage, aim)
    assert not far_from(theirs, ours.at, seconds_allowed(stage.track, aim, ours.at)).any()
    around = theirs + np.array([[-ORDINARY_SECONDS], [0.0], [ORDINARY_SECONDS]])
    sure = theirs[margin(around.ravel()).reshape(around.shape).min(axis=0) > ALLOWED_DEGREES]
    assert not far_from(ours.at, sure, seconds_allowed(stage.track, aim, sure)).any()


def seconds_allowed(track: Any, aim: Aim, unix: Floats) -> Floats:
    """Give a second, or as long as what moves slowly takes for what is allowed on the sky."""
    before, after = (aside_on_the_sky(track, aim, unix + move) for move in (-1.0, 1.0))
    rate = np.maximum(np.abs(after - before) / 2, 1e-9)
    result: Floats = np.maximum(ORDINARY_SECONDS, ALLOWED_DEGREES / rate)
    return result


def judge_closest(track: Any, aim: Aim, ours: Alignments) -> None:
    """No instant of a stretch is nearer; inside it, the moment is to the second."""
    for at, start, end in zip(ours.at, ours.start, ours.end, strict=True):
        stretch = np.append(np.arange(start, end, LOOK_SECONDS), end)
        least = apart(track, aim, stretch).min()
        assert apart(track, aim, np.array([at]))[0] <= least + ALLOWED_DEGREES
        if start + LOOK_SECONDS < at < end - LOOK_SECONDS:
            beside = at + LOOK_SECONDS * np.arange(-1.0, 2.0)
            before, here, after = apart(track, aim, beside) ** 2
            bend = (before - 2 * here + after) / 2
            off = (before - after) / (4 * bend)
            assert abs(off) * LOOK_SECONDS <= ORDINARY_SECONDS or (
                abs(off) * np.sqrt(bend) <= ALLOWED_DEGREES
            )


def judge_told(track: Any, ours: Alignments) -> None:
    altitude, azimuth = track.apparent(ours.at)
    geometric = track.geometric(ours.at)[0]
    assert ours.altitude_degrees == pytest.approx(altitude, abs=2 * ALLOWED_DEGREES)
    assert ours.altitude_geometric_degrees == pytest.approx(geometric, abs=ALLOWED_DEGREES)
    off = (ours.azimuth_degrees - azimuth + 180.0) % 360.0 - 180.0
    assert off * np.cos(np.radians(altitude)) == pytest.approx(0.0, abs=ALLOWED_DEGREES)


@pytest.mark.parametrize(
    ("place", "first", "key", "aim", "light"),
    [pytest.param(*rest, id=name) for name, *rest in CHOSEN],
)
def test_a_chosen_alignment_agrees_with_the_referee(
    place: Place, first: date, key: str, aim: Aim, light: Light
) -> None:
    assert len(judge(Stage(target_of(key), place, first, light, LEVEL), aim)) > 0


def drawn_stage(rng: np.random.Generator, number: int) -> Stage:
    """Draw a star or a body over a place, in each light in turn, every third with a skyline."""
    point: Point = any_star(rng) if number % 2 else Body(str(rng.choice(BODIES)))
    place, _ = any_place(rng, int(rng.integers(40)))
    first = date(int(rng.choice(YEARS)), int(rng.integers(1, 13)), int(rng.integers(2, 24)))
    light = [*SHARP_LIGHTS, None][number // 2 % (len(SHARP_LIGHTS) + 1)]
    skyline = any_skyline(rng, int(rng.integers(5))) if number % 3 == 0 else LEVEL
    own: Light = "any" if rng.uniform() < 0.7 else "moonless"
    return Stage(Target("any:any", "any", (point,), own, None), place, first, light, skyline)


def drawn_aim(rng: np.random.Generator, stage: Stage) -> Aim | None:
    """Draw an aim beside an instant at which the referee sees the target; None: it never does."""
    height, azimuth = stage.track.apparent(stage.looked)
    seen = np.flatnonzero((stage.seen(stage.looked) > 0) & (height > 0.5))
    if not len(seen):
        return None
    at = int(rng.choice(seen))
    side, up = float(rng.choice([0.1, 1.0, 2.0, 8.0])), float(rng.choice([0.1, 1.0, 3.0]))
    if rng.uniform() < 0.4:
        least = float(rng.choice([-90.0, 0.0, 10.0]))
        return Aim(float(azimuth[at]), None, side, up, min(least, float(height[at]) - 0.1))
    off = rng.uniform(-0.8, 0.8) * side / max(float(np.cos(np.radians(height[at]))), 0.02)
    wanted = min(float(height[at]) + rng.uniform(-0.8, 0.8) * up, 90.0)
    return Aim(float(azimuth[at] + off) % 360.0, wanted, side, up, -90.0)


@pytest.mark.parametrize("number", range(DRAWN))
def test_a_drawn_alignment_agrees_with_the_referee(number: int) -> None:
    rng = np.random.default_rng([11, number])
    for _ in range(MOST_DRAWS):
        stage = drawn_stage(rng, number)
        if aim := drawn_aim(rng, stage):
            assert len(judge(stage, aim)) > 0
            return
        assert len(judge(stage, Aim(float(rng.uniform(0, 360)), None, 5.0, 1.0, 0.5))) == 0


def test_venus_stands_over_the_book_s_direction_at_the_book_s_instant() -> None:
    """A04: Meeus's example, by day, to what 0.003° of his place allows of time."""
    case = row("directions", "A04")
    inputs, expected = case["inputs"], case["expected"]
    place = Place(inputs["latitude"], inputs["longitude"], inputs["elevation_m"])
    height = expected["altitude_degrees"]
    lifted = height + float(refraction(np.array([height]), place.elevation_m)[0])
    instant = datetime.fromisoformat(inputs["instant"])
    table = compute_season([place], instant.date(), instant.date())
    aim = Aim(expected["azimuth_degrees"], lifted, 0.1, 0.1)
    found = find_alignments(target_of("planet:venus"), aim, table, light="any")
    assert found.at == pytest.approx([instant.timestamp()], abs=2.0)
    assert found.altitude_geometric_degrees == pytest.approx(height, abs=case["tolerance"])
