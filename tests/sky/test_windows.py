"""Windows of targets: whose nights they are, what ends them, and the best moment in each."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sky import windows
from sky.directions import Directions
from sky.errors import SkyError
from sky.lights import light_spans
from sky.moving import directions_at
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, Skyline, skyline_of
from sky.span_arrays import intersect, outside, union
from sky.spans import Span, Spans
from sky.targets.target import LIGHTS, Arch, Body, FixedPoint, Light, Point, Target
from sky.windows import NO_LEAST_DEGREES, Wanted, Windows, find_windows

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
TEKAPO = Place(-44.0, 170.5, 700, "Pacific/Auckland")
APIA = Place(-13.83, -171.77, 2, "Pacific/Apia")
FIRST, LAST = date(2027, 6, 1), date(2027, 6, 30)

CORE = FixedPoint(266.41667, -29.00778)
POLARIS = FixedPoint(37.95456, 89.26411)
FAR_SOUTH = FixedPoint(10.0, -70.0)
VEGA = FixedPoint(279.23473, 38.78369)
MOON, MARS, ARCH = Body("moon"), Body("mars"), Arch(20.0, 60.0)
EVERY: tuple[tuple[Point, ...], ...] = ((CORE,), (POLARIS,), (MOON,), (ARCH,), (MOON, MARS))
HILLS = skyline_of([(0, 5), (120, 2), (175, 2), (178, 15), (182, 2), (250, 12)])


@cache
def table_of(place: Place = TERUEL, first: date = FIRST, last: date = LAST) -> SeasonTable:
    return compute_season([place], first, last)


def wanted(*points: Point, light: Light = "any", least: float = NO_LEAST_DEGREES) -> Wanted:
    return Wanted(Target("any:any", "any", points, light, None), light, least)


def windows_of(one: Wanted, skyline: Skyline = LEVEL, place: Place = TERUEL) -> Windows:
    return find_windows([one], place, skyline, table_of(place))[0]


def assert_empty(found: Windows) -> None:
    assert found.spans.shape == (0, 2)
    for each in (found.night, found.best_night, found.best_at, found.best_altitude):
        assert each.shape == (0,)
    assert found.best_altitude_geometric.shape == found.best_azimuth.shape == (0,)


def assert_same(found: Windows, other: Windows, *, seconds: float = 0.05) -> None:
    assert found.spans == pytest.approx(other.spans, abs=seconds)
    assert found.night.tolist() == other.night.tolist()
    assert found.best_night.tolist() == other.best_night.tolist()
    assert found.best_altitude == pytest.approx(other.best_altitude, abs=1e-3)


@pytest.mark.parametrize("points", EVERY)
@pytest.mark.parametrize("light", ["any", "dark", "moonless"])
def test_the_best_moment_is_in_its_night_s_windows_and_nothing_there_is_higher(
    points: tuple[Point, ...], light: Light
) -> None:
    found = windows_of(wanted(*points, light=light), HILLS)
    assert found.best_night.tolist() == sorted(set(found.night.tolist()))
    for night, at, best in zip(found.best_night, found.best_at, found.best_altitude, strict=True):
        spans = found.spans[found.night == night]
        assert ((spans[:, 0] <= at) & (at <= spans[:, 1])).any()
        looked = np.concatenate([np.linspace(start, end, 50) for start, end in spans])
        height = directions_at(points[0], TERUEL, looked).altitude_degrees
        assert height.max() <= best + 1e-4


@pytest.mark.parametrize("points", EVERY)
def test_the_best_moment_is_told_as_the_first_point_stands_then(
    points: tuple[Point, ...],
) -> None:
    found = windows_of(wanted(*points), HILLS)
    seen = directions_at(points[0], TERUEL, found.best_at)
    assert found.best_altitude == pytest.approx(seen.altitude_degrees, abs=1e-3)
    assert found.best_altitude_geometric == pytest.approx(seen.altitude_geometric_degrees, abs=1e-3)
    aside = (found.best_azimuth - seen.azimuth_degrees + 180) % 360 - 180
    assert aside * np.cos(np.radians(seen.altitude_degrees)) == pytest.approx(0, abs=1e-3)


def test_a_culmination_behind_a_peak_leaves_the_better_shoulder() -> None:
    """A peak due south over the core's 20.6°: its western side is the steeper one."""
    peak = skyline_of([(0, 0), (170, 0), (180, 25), (184, 0)])
    free, hidden = windows_of(wanted(CORE)), windows_of(wanted(CORE), peak)
    assert free.best_azimuth == pytest.approx(180, abs=0.01)
    assert hidden.best_azimuth == pytest.approx(180.7, abs=0.1)
    assert hidden.best_altitude == pytest.approx(peak.at(hidden.best_azimuth), abs=1e-3)


def test_on_a_tie_the_earliest_is_the_best(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two stretches of one night, in a sky in which everything stands at 30°."""
    monkeypatch.setattr(windows, "standings_at", still)
    longest = windows_of(wanted(MOON)).spans[0]
    two = longest[0] + np.array([[600.0, 1200.0], [1800.0, 2400.0]])
    target = Target("any:any", "any", (MOON,), "any", None, active=lambda *_: as_spans(two))
    (found,) = find_windows([Wanted(target, "any")], TERUEL, LEVEL, table_of())
    assert found.spans == pytest.approx(two, abs=0.001)
    assert len(found.best_at) == 1
    assert two[0, 0] <= found.best_at[0] <= two[0, 1]


def still(_points: list[Point], _place: Place, _which: Ints, unix: Floats) -> Directions:
    level = np.full(len(unix), 30.0)
    return Directions(level, level, level)


def as_spans(spans: Floats) -> Spans:
    return tuple(Span.from_seconds(start, end) for start, end in spans.tolist())


def test_a_higher_least_altitude_gives_less_of_the_same() -> None:
    low, high = (windows_of(wanted(CORE, least=least), HILLS) for least in (8.0, 15.0))
    assert intersect(high.spans, low.spans) == pytest.approx(high.spans, abs=0.001)
    assert 0 < np.diff(high.spans).sum() < np.diff(low.spans).sum()


@pytest.mark.parametrize("point", [CORE, MOON])
def test_at_the_edges_it_stands_at_the_least_altitude(point: Point) -> None:
    found, noons = windows_of(wanted(point, least=12.0)), table_of().noons[0]
    edges = np.setdiff1d(found.spans, noons)
    assert len(edges) > 50
    seen = directions_at(point, TERUEL, edges)
    assert seen.altitude_degrees == pytest.approx(12, abs=0.5 / 3600)


def test_a_least_altitude_below_the_skyline_changes_nothing() -> None:
    ridge = skyline_of([(0, 10), (180, 12)])
    free, limited = (windows_of(wanted(CORE, least=least), ridge) for least in (-90.0, 9.0))
    assert_same(free, limited)


def test_a_least_altitude_above_the_culmination_leaves_nothing() -> None:
    assert len(windows_of(wanted(CORE, least=20.0)).spans)
    assert_empty(windows_of(wanted(CORE, least=21.0)))


@pytest.mark.parametrize("light", LIGHTS)
def test_what_never_rises_has_empty_arrays(light: Light) -> None:
    assert_empty(windows_of(wanted(FAR_SOUTH, light=light)))


def test_what_is_up_only_in_another_light_has_empty_arrays() -> None:
    """Orion by day in June, and never in the dark."""
    orion = FixedPoint(83.82, -5.39)
    assert len(windows_of(wanted(orion)).spans)
    assert_empty(windows_of(wanted(orion, light="dark", least=5.0)))


@pytest.mark.parametrize("light", [light for light in LIGHTS if light != "usable"])
def test_what_never_sets_fills_its_light_night_by_night(light: Light) -> None:
    found = windows_of(wanted(POLARIS, light=light, least=30.0), HILLS)
    assert found.spans == pytest.approx(light_spans(table_of(), 0, light), abs=0.001)
    assert set(found.night) <= set(range(30))


def test_a_target_with_two_points_needs_both_and_tells_the_first() -> None:
    both = windows_of(wanted(MOON, CORE), HILLS)
    moon, core = (windows_of(wanted(point), HILLS) for point in (MOON, CORE))
    assert both.spans == pytest.approx(intersect(moon.spans, core.spans), abs=0.05)
    assert len(both.spans)
    seen = directions_at(MOON, TERUEL, both.best_at)
    assert both.best_azimuth == pytest.approx(seen.azimuth_degrees, abs=1e-3)


def test_two_points_the_other_way_round_have_the_same_windows_and_another_best() -> None:
    one, other = windows_of(wanted(MOON, CORE)), windows_of(wanted(CORE, MOON))
    assert one.spans == pytest.approx(other.spans, abs=0.05)
    assert not np.allclose(one.best_altitude, other.best_altitude, atol=1)


def test_the_skyline_takes_away_and_never_gives() -> None:
    for points in EVERY:
        free, behind = (windows_of(wanted(*points), line) for line in (LEVEL, HILLS))
        assert np.diff(outside_of(behind, free)).sum() < 0.1


def outside_of(found: Windows, other: Windows) -> Floats:
    """Give what of one is not in the other."""
    noons = table_of().noons[0]
    return intersect(found.spans, outside(union(other.spans), noons[0], noons[-1]))


def test_the_arch_knows_no_skyline_and_no_least_altitude() -> None:
    free = windows_of(wanted(ARCH, light="dark"))
    assert_same(free, windows_of(wanted(ARCH, light="dark", least=50.0), HILLS))
    assert len(free.spans)


@pytest.mark.parametrize("points", EVERY)
@pytest.mark.parametrize("light", ["any", "moonless"])
def test_a_season_is_its_parts_one_after_another(points: tuple[Point, ...], light: Light) -> None:
    asked = wanted(*points, light=light, least=6.0)
    whole, starts = windows_of(asked, HILLS), [FIRST, date(2027, 6, 2), date(2027, 6, 13)]
    parts = [
        find_windows([asked], TERUEL, HILLS, table_of(TERUEL, first, after - timedelta(1)))[0]
        for first, after in pairwise([*starts, LAST + timedelta(1)])
    ]
    nights = [(start - FIRST).days for start in starts]
    numbers = [
        (part.night + before, part.best_night + before)
        for part, before in zip(parts, nights, strict=True)
    ]
    together = [np.concatenate(each) for each in zip(*numbers, strict=True)]
    spans = np.concatenate([part.spans for part in parts])
    assert spans == pytest.approx(whole.spans, abs=0.05)
    assert [each.tolist() for each in together] == [whole.night.tolist(), whole.best_night.tolist()]
    best = np.concatenate([part.best_altitude for part in parts])
    assert best == pytest.approx(whole.best_altitude, abs=1e-3)


@pytest.mark.parametrize("points", EVERY)
def test_windows_are_sorted_and_each_is_in_its_night(points: tuple[Point, ...]) -> None:
    found, noons = windows_of(wanted(*points), HILLS), table_of().noons[0]
    assert (np.diff(found.spans.ravel()) >= 0).all()
    assert (found.spans[:, 0] < found.spans[:, 1]).all()
    assert (noons[found.night] <= found.spans[:, 0]).all()
    assert (found.spans[:, 1] <= noons[found.night + 1]).all()


def test_a_spot_beside_its_site_has_the_site_s_nights_and_its_own_sky() -> None:
    """A spot so far away that its own night is another: the light stays the site's."""
    spot = Place(TERUEL.latitude, TERUEL.longitude + 30, 1600, "Asia/Tbilisi")
    asked = [wanted(POLARIS, light="dark", least=30.0), wanted(CORE)]
    dark, core = find_windows(asked, spot, LEVEL, table_of())
    assert dark.spans == pytest.approx(light_spans(table_of(), 0, "dark"), abs=0.001)
    there = find_windows(asked, spot, LEVEL, table_of(spot))[1]
    inside = [union(each.spans)[2:-2] for each in (core, there)]
    assert inside[0] == pytest.approx(inside[1], abs=0.05)
    here = union(windows_of(wanted(CORE)).spans)[2:-2]
    # Thirty degrees to the east it rises two sidereal hours earlier.
    assert here[:, 0] - inside[0][:, 0] == pytest.approx(7180.3, abs=1)


def test_the_site_is_the_one_of_the_number_given() -> None:
    table = compute_season([TEKAPO, TERUEL], FIRST, LAST)
    asked = wanted(CORE, light="moonless", least=8.0)
    (found,) = find_windows([asked], TERUEL, HILLS, table, index=1)
    assert_same(found, windows_of(asked, HILLS), seconds=1)


def test_a_date_that_the_zone_skipped_has_no_window() -> None:
    table = compute_season([APIA], date(2011, 12, 29), date(2011, 12, 31))
    (found,) = find_windows([wanted(MOON)], APIA, LEVEL, table)
    assert set(found.night.tolist()) == {0, 2}


def test_many_are_told_in_the_order_asked_each_as_alone() -> None:
    asked = [
        wanted(MOON, least=5.0), wanted(CORE, light="dark"), wanted(ARCH), wanted(VEGA, least=25.0),
        wanted(CORE, light="twilight"), wanted(FAR_SOUTH), wanted(CORE, light="dark", least=15.0),
    ]  # fmt: skip
    together = find_windows(asked, TERUEL, HILLS, table_of())
    assert len(together) == len(asked)
    for one, found in zip(asked, together, strict=True):
        assert_same(found, windows_of(one, HILLS), seconds=0.001)


def test_nothing_wanted_is_nothing_found() -> None:
    assert find_windows([], TERUEL, HILLS, table_of()) == []


def test_what_happens_for_hours_only_has_its_windows_there() -> None:
    hours = Span(datetime(2027, 6, 10, 21, tzinfo=UTC), datetime(2027, 6, 11, 3, tzinfo=UTC))
    target = Target("any:any", "any", (CORE,), "any", None, active=lambda *_: (hours,))
    (found,) = find_windows([Wanted(target, "any")], TERUEL, LEVEL, table_of())
    assert found.night.tolist() == [9]
    assert found.spans[0, 0] >= hours.start.timestamp()
    assert found.spans[-1, 1] <= hours.end.timestamp()


def test_what_does_not_happen_in_the_season_has_empty_arrays() -> None:
    target = Target("any:any", "any", (MOON,), "any", None, active=lambda *_: ())
    assert_empty(find_windows([Wanted(target, "any")], TERUEL, LEVEL, table_of())[0])


def test_dark_at_minus_12_is_longer_than_dark_at_minus_18() -> None:
    target = Target("any:any", "any", (VEGA,), "dark", None)
    deep, shallow = (
        find_windows([Wanted(target, "dark", dark_level=level)], TERUEL, LEVEL, table_of())[0]
        for level in (-18, -12)
    )
    assert intersect(deep.spans, shallow.spans) == pytest.approx(deep.spans, abs=0.001)
    assert np.diff(shallow.spans).sum() > np.diff(deep.spans).sum() + 30 * 3600


def test_as_usual_is_in_the_light_and_at_the_altitude_of_the_target() -> None:
    core = Target("any:any", "any", (CORE,), "moonless", 8.0)
    pair = Target("any:any", "any", (MOON, MARS), "twilight", None)
    assert Wanted.as_usual(core) == Wanted(core, "moonless", 8.0)
    assert Wanted.as_usual(pair) == Wanted(pair, "twilight", NO_LEAST_DEGREES)


def test_an_unknown_light_and_an_unknown_body_are_refused() -> None:
    with pytest.raises(SkyError) as light:
        windows_of(wanted(CORE, light="candle"))  # type: ignore[arg-type]
    with pytest.raises(SkyError) as body:
        windows_of(wanted(Body("vulcan")))
    assert (light.value.code, body.value.code) == ("light_unknown", "body_unknown")


@given(st.floats(0, 359.9), st.floats(-89, 89), st.sampled_from(LIGHTS), st.floats(-5, 60))
@settings(deadline=None, max_examples=40)
def test_windows_are_inside_their_light_and_best_moments_above_the_least_altitude(
    ra: float, dec: float, light: Light, least: float
) -> None:
    found = windows_of(wanted(FixedPoint(ra, dec), light=light, least=least), HILLS)
    lit = light_spans(table_of(), 0, light)
    assert intersect(found.spans, lit).tolist() == found.spans.tolist()
    assert (found.best_altitude > least - 1e-3).all()
    assert (found.best_altitude > HILLS.at(found.best_azimuth) - 0.01).all()
    assert sorted(set(found.night.tolist())) == found.best_night.tolist()
