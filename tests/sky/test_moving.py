"""What goes its own way: bodies and the arch, when they stand clear, and where they are highest."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import partial

import numpy as np
import pytest
from numpy.typing import NDArray

from sky import moving
from sky.apparent import directions_toward
from sky.directions import Directions
from sky.galactic import NORTH_POLE
from sky.moving import (
    all_standings,
    directions_at,
    highest_within,
    moving_spans,
    spans_of_all,
    spans_on_way,
    standings_at,
)
from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of
from sky.span_arrays import union
from sky.targets.target import Arch, Body, FixedPoint, Point

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
TEKAPO = Place(-44.0, 170.5, 700, "Pacific/Auckland")
TROMSO = Place(69.65, 18.96, 0, "Europe/Oslo")
START = datetime(2027, 6, 1, 12, tzinfo=UTC).timestamp()
DAY = 86_400.0
WEEK = np.array([[START, START + 7 * DAY]])
MINUTES = np.arange(START, START + 7 * DAY, 60.0)

MOON, VENUS, SUN = Body("moon"), Body("venus"), Body("sun")
CORE = FixedPoint(266.41667, -29.00778)
ARCH = Arch(20.0, 60.0)
# A gap of four degrees in a wall, and a spike of a tenth of a degree at its foot.
GAP = skyline_of([(0, 25), (178, 25), (178.5, 2), (182, 2), (182.5, 25), (250, 3), (250.05, 40),
                  (250.1, 3)])  # fmt: skip


def clearance(point: Point, line: Skyline, unix: Floats, place: Place = TERUEL) -> Floats:
    seen = directions_at(point, place, unix)
    room: Floats = seen.altitude_degrees - line.at(seen.azimuth_degrees)
    return room


def inside(spans: Floats, unix: Floats) -> Bools:
    held = np.zeros(len(unix), np.bool_)
    for start, end in spans:
        held |= (unix >= start) & (unix < end)
    return held


def far_from(edges: Floats, unix: Floats, seconds: float) -> Bools:
    nearest = np.abs(unix[:, None] - edges.ravel()).min(axis=1, initial=np.inf)
    is_far: Bools = nearest > seconds
    return is_far


@pytest.mark.parametrize("line", [LEVEL, LEVEL.raised_to(20), GAP])
@pytest.mark.parametrize("body", [MOON, VENUS, SUN])
def test_a_body_is_clear_in_the_minutes_in_which_it_stands_over_the_line(
    body: Body, line: Skyline
) -> None:
    spans = moving_spans(body, TERUEL, line, WEEK)
    sure = far_from(spans, MINUTES, 1.0)
    assert len(spans) >= 7
    assert (inside(spans, MINUTES) == (clearance(body, line, MINUTES) > 0))[sure].all()


def test_edges_lie_on_the_line() -> None:
    edges = moving_spans(MOON, TERUEL, GAP, WEEK)
    edges = edges[(edges > START) & (edges < START + 7 * DAY)]
    assert clearance(MOON, GAP, edges) == pytest.approx(0, abs=1e-3)
    assert (clearance(MOON, GAP, edges - 1) * clearance(MOON, GAP, edges + 1) < 0).all()


def test_a_spike_that_is_passed_between_two_samples_is_not_overlooked() -> None:
    spike = skyline_of([(0, 2), (200, 2), (200.02, 80), (200.04, 2)])
    without, behind = (moving_spans(MOON, TERUEL, line, WEEK) for line in
                       (LEVEL.raised_to(2), spike))  # fmt: skip
    seen = directions_at(MOON, TERUEL, MINUTES)
    west = (seen.azimuth_degrees > 200) & (seen.altitude_degrees > 2)
    passages = np.flatnonzero(west[1:] & ~west[:-1])
    assert len(passages) == 6
    assert len(behind) == len(without) + len(passages)
    assert np.sort(behind[1:, 0] - behind[:-1, 1])[:6].max() < 60


def test_the_midnight_sun_is_clear_throughout_and_hidden_over_a_wall() -> None:
    assert moving_spans(SUN, TROMSO, LEVEL, WEEK).tolist() == WEEK.tolist()
    assert moving_spans(SUN, TROMSO, LEVEL.raised_to(50), WEEK).shape == (0, 2)


def test_a_stretch_is_looked_at_from_its_first_instant_to_its_last() -> None:
    """What lies between two of the spans asked about is found too: others leave it out."""
    parts = np.array([[START, START + DAY], [START + 6 * DAY, START + 7 * DAY]])
    found = moving_spans(MOON, TERUEL, LEVEL, parts)
    assert found.tolist() == moving_spans(MOON, TERUEL, LEVEL, WEEK).tolist()


@pytest.mark.parametrize("point", [MOON, CORE, ARCH])
def test_no_time_has_no_spans(point: Point) -> None:
    assert moving_spans(point, TERUEL, LEVEL, np.empty((0, 2))).shape == (0, 2)


def test_two_halves_of_a_week_are_the_week() -> None:
    middle = START + 3.4 * DAY
    halves = np.array([[START, middle]]), np.array([[middle, START + 7 * DAY]])
    parts = [moving_spans(MOON, TERUEL, GAP, half) for half in halves]
    whole = moving_spans(MOON, TERUEL, GAP, WEEK)
    assert union(np.concatenate(parts)) == pytest.approx(whole, abs=0.1)


def test_what_goes_any_other_way_is_followed_along_it() -> None:
    way = partial(directions_toward, CORE, TERUEL)
    along = spans_on_way(way, GAP, WEEK)
    assert along == pytest.approx(moving_spans(CORE, TERUEL, GAP, WEEK), abs=0.01)
    assert len(along)


@pytest.mark.parametrize("place", [TERUEL, TEKAPO])
def test_many_together_stand_where_each_stands_alone(place: Place) -> None:
    points: list[Point] = [CORE, MOON, ARCH, VENUS, FixedPoint(10.0, 41.0), SUN]
    unix = MINUTES[::131]
    which = np.random.default_rng(5).integers(0, len(points), len(unix))
    mixed = standings_at(points, place, which, unix)
    all_of_them = all_standings(points, place, unix)
    for number, point in enumerate(points):
        alone, rows = directions_at(point, place, unix), which == number
        assert rows.any()
        for name in ("altitude_degrees", "altitude_geometric_degrees", "azimuth_degrees"):
            expected = getattr(alone, name)
            assert getattr(mixed, name)[rows] == pytest.approx(expected[rows], abs=1e-9)
            assert getattr(all_of_them, name)[number] == pytest.approx(expected, abs=1e-9)


def test_bodies_are_clear_together_as_each_is_alone() -> None:
    together = spans_of_all([MOON, VENUS, SUN], TERUEL, GAP, WEEK)
    for body, spans in zip((MOON, VENUS, SUN), together, strict=True):
        assert spans == pytest.approx(moving_spans(body, TERUEL, GAP, WEEK), abs=0.01)
        assert len(spans)


@pytest.mark.parametrize("place", [TERUEL, TEKAPO])
def test_the_arch_is_as_high_as_the_pole_of_the_galaxy_is_far_from_the_zenith(
    place: Place,
) -> None:
    pole = directions_toward(NORTH_POLE, place, MINUTES)
    top = directions_at(ARCH, place, MINUTES)
    height = pole.altitude_geometric_degrees
    assert top.altitude_geometric_degrees == pytest.approx(90 - np.abs(height))
    assert top.altitude_geometric_degrees.min() >= 0
    turned = (top.azimuth_degrees - pole.azimuth_degrees) % 360
    assert turned[height > 0] == pytest.approx(180)
    assert np.cos(np.radians(turned[height < 0])) == pytest.approx(1)


def test_the_arch_is_seen_where_the_band_is_highest() -> None:
    """No point of the galactic equator stands higher: asked every degree of it."""
    unix = MINUTES[::500]
    top = directions_at(ARCH, TERUEL, unix).altitude_geometric_degrees
    band = np.array([
        directions_toward(point, TERUEL, unix).altitude_geometric_degrees
        for point in equator_of_the_galaxy()
    ])  # fmt: skip
    # Aberration moves the pole and its circle by 20″, not always together. A degree is coarse
    # where the band is steep, beside the zenith.
    assert (band.max(axis=0) <= top + 0.006).all()
    assert (band.max(axis=0) >= top - 0.03).all()


def equator_of_the_galaxy() -> list[FixedPoint]:
    """Go round at right angles to the pole, a degree at a time."""
    ra, dec = np.radians([NORTH_POLE.ra_degrees, NORTH_POLE.dec_degrees])
    one = np.array([-np.sin(ra), np.cos(ra), 0.0])
    other = np.array([-np.sin(dec) * np.cos(ra), -np.sin(dec) * np.sin(ra), np.cos(dec)])
    angles = np.radians(np.arange(360.0))[:, None]
    x, y, z = (np.cos(angles) * one + np.sin(angles) * other).T
    around = zip(np.degrees(np.arctan2(y, x)) % 360, np.degrees(np.arcsin(z)), strict=True)
    return [FixedPoint(float(ra), float(dec)) for ra, dec in around]


def test_the_arch_stands_between_its_two_heights_whatever_the_skyline() -> None:
    spans = moving_spans(ARCH, TERUEL, LEVEL, WEEK)
    height = directions_at(ARCH, TERUEL, MINUTES).altitude_degrees
    stands = (height > 20) & (height < 60)
    sure = far_from(spans, MINUTES, 1.0)
    assert (inside(spans, MINUTES) == stands)[sure].all()
    assert 0 < stands.sum() < len(MINUTES)
    assert moving_spans(ARCH, TERUEL, LEVEL.raised_to(89), WEEK).tolist() == spans.tolist()


@pytest.mark.parametrize("point", [MOON, VENUS, CORE, ARCH])
@pytest.mark.parametrize("hours", [0.01, 1.0, 9.0, 24.0])
def test_nothing_in_a_span_is_higher_than_its_highest(point: Point, hours: float) -> None:
    starts = START + np.arange(6) * 1.1 * DAY
    spans = np.stack((starts, starts + hours * 3600), axis=1)
    at = highest_within(point, TERUEL, spans)
    assert ((at >= spans[:, 0]) & (at <= spans[:, 1])).all()
    best = directions_at(point, TERUEL, at).altitude_geometric_degrees
    for (start, end), height in zip(spans, best, strict=True):
        looked = directions_at(point, TERUEL, np.linspace(start, end, 600))
        assert looked.altitude_geometric_degrees.max() <= height + 1e-5


@pytest.mark.parametrize(("rises", "end"), [(True, 1), (False, 0)])
def test_what_rises_or_sets_all_the_while_is_highest_at_an_end(*, rises: bool, end: int) -> None:
    moonrise, moonset = moving_spans(MOON, TERUEL, LEVEL, WEEK)[1]
    start = moonrise + 600 if rises else moonset - 4200
    span = np.array([[start, start + 3600]])
    assert highest_within(MOON, TERUEL, span).tolist() == [span[0, end]]


def test_on_a_tie_the_earliest_is_the_highest(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing stands quite still in a real sky."""
    monkeypatch.setattr(moving, "directions_at", still)
    spans = np.array([[START, START + 5000.0], [START + 9000.0, START + 9001.0]])
    assert highest_within(MOON, TERUEL, spans).tolist() == spans[:, 0].tolist()


def still(_point: Point, _place: Place, unix: Floats) -> Directions:
    level = np.full(len(unix), 30.0)
    return Directions(level, level, level)
