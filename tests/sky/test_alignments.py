"""Alignments: what counts, what does not, and why a season has none."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from sky.aim import Aim
from sky.alignments import find_alignments, step_sideways_degrees, why_none
from sky.directions import directions_at
from sky.errors import SkyError
from sky.night import SeasonTable
from sky.nights import compute_season
from sky.place import Place
from sky.skyline import LEVEL, skyline_of
from sky.spans import Span, Spans
from sky.targets.kinds import target_of
from sky.targets.target import Arch, Body, FixedPoint, Target

MEADOW = Place(40.4, -1.1, 1600, "Europe/Madrid")
FIRST, LAST = date(2027, 6, 1), date(2027, 6, 20)
CORE = target_of("position:266.41667,-29.00778")
FAR_SOUTH = target_of("position:10.0,-70.0")
ROUND_THE_POLE = target_of("position:165.93,61.75")


@pytest.fixture(scope="module")
def table() -> SeasonTable:
    return compute_season([MEADOW], FIRST, LAST)


def always(_first: date, _last: date) -> Spans:
    return (Span(datetime(2027, 6, 5, tzinfo=UTC), datetime(2027, 6, 8, tzinfo=UTC)),)


def test_a_target_passes_due_south_once_a_sidereal_day(table: SeasonTable) -> None:
    found = find_alignments(CORE, Aim(180.0), table, light="any")
    assert len(found) == 20
    assert np.diff(found.at) == pytest.approx(86_164.1, abs=0.5)
    assert found.azimuth_degrees == pytest.approx(180.0, abs=1e-4)


def test_a_circumpolar_target_passes_an_azimuth_twice_in_both_directions(
    table: SeasonTable,
) -> None:
    found = find_alignments(ROUND_THE_POLE, Aim(20.0), table, light="any")
    assert len(found) == 40
    is_above_the_pole = found.altitude_degrees > MEADOW.latitude
    assert (is_above_the_pole[1:] != is_above_the_pole[:-1]).all()


def test_the_stretch_around_a_passage_holds_it(table: SeasonTable) -> None:
    found = find_alignments(CORE, Aim(180.0), table, light="any")
    assert (found.start < found.at).all()
    assert (found.at < found.end).all()


def test_a_wider_tolerance_makes_a_longer_stretch_of_the_same_moments(table: SeasonTable) -> None:
    narrow, wide = (
        find_alignments(CORE, Aim(175.0, azimuth_tolerance_degrees=each), table, light="any")
        for each in (1.0, 2.0)
    )
    assert narrow.at == pytest.approx(wide.at, abs=1e-6)
    assert (wide.end - wide.start) == pytest.approx(2 * (narrow.end - narrow.start), rel=0.01)


def test_the_azimuth_tolerance_is_measured_on_the_sky(table: SeasonTable) -> None:
    """At 60° of altitude one degree on the sky is two of azimuth."""
    target = target_of("position:200.0,10.4")
    found = find_alignments(target, Aim(180.0, azimuth_tolerance_degrees=1.0), table, light="any")
    minutes = (found.end - found.start) / 60
    assert found.altitude_degrees == pytest.approx(60.0, abs=0.3)
    assert minutes == pytest.approx(2 * 4 / np.cos(np.radians(10.4)), rel=0.02)


def test_only_the_wanted_light_counts(table: SeasonTable) -> None:
    at_dusk = target_of("position:225.0,0.0")
    in_any, dark, moonless = (
        find_alignments(at_dusk, Aim(180.0), table, light=light)
        for light in ("any", "dark", "moonless")
    )
    assert len(in_any) > len(dark) > len(moonless) > 0
    assert set(dark.at) <= set(in_any.at)


def test_a_target_below_the_least_altitude_does_not_count(table: SeasonTable) -> None:
    high = find_alignments(CORE, Aim(180.0, least_altitude_degrees=20.0), table, light="any")
    too_high = find_alignments(CORE, Aim(180.0, least_altitude_degrees=21.0), table, light="any")
    assert (len(high), len(too_high)) == (20, 0)


def test_a_stretch_over_noon_is_one(table: SeasonTable) -> None:
    """The Sun due south at the noon that parts two nights."""
    sun = Target("sun:sun", "Sun", (Body("sun"),), "any", None)
    found = find_alignments(sun, Aim(180.0, 72.0, 20.0, 3.0), table, light="any")
    assert len(found) == 20


def test_nothing_counts_outside_the_time_in_which_a_target_happens(table: SeasonTable) -> None:
    brief = Target("brief:one", "Brief", CORE.points, "any", None, active=always)
    found = find_alignments(brief, Aim(180.0), table)
    assert len(found) == 3


def test_what_is_behind_does_not_count(table: SeasonTable) -> None:
    """Over the zenith and down the other side is not at the azimuth."""
    overhead = target_of("position:200.0,42.0")
    north = find_alignments(overhead, Aim(0.0, 85.0, 10.0, 5.0), table, light="any")
    south = find_alignments(overhead, Aim(180.0, 85.0, 10.0, 5.0), table, light="any")
    assert len(north) == 20
    assert len(south) == 0


def test_a_pole_s_own_observer_has_azimuths_too() -> None:
    table = compute_season([Place(90.0, 0.0)], FIRST, FIRST + timedelta(days=4))
    found = find_alignments(ROUND_THE_POLE, Aim(90.0), table, light="any")
    assert len(found) == 5
    assert found.altitude_degrees == pytest.approx(61.6, abs=0.2)


@pytest.mark.parametrize(
    ("target", "aim", "code"),
    [
        (ROUND_THE_POLE, Aim(180.0), "never_there"),
        (FAR_SOUTH, Aim(180.0), "too_low"),
        (FAR_SOUTH, Aim(180.0, 10.0), "too_low"),
        (CORE, Aim(180.0, least_altitude_degrees=30.0), "too_low"),
        (CORE, Aim(180.0, 40.0), "other_altitude"),
    ],
)
def test_it_says_why_there_is_none(table: SeasonTable, target: Target, aim: Aim, code: str) -> None:
    assert len(find_alignments(target, aim, table, light="any")) == 0
    assert why_none(target, aim, table).code == code


def test_it_says_how_near_and_how_high_a_target_comes(table: SeasonTable) -> None:
    assert why_none(CORE, Aim(180.0, 40.0), table).highest == pytest.approx(20.6, abs=0.1)
    assert why_none(FAR_SOUTH, Aim(180.0), table).highest == pytest.approx(-20.4, abs=0.2)
    nearest = why_none(ROUND_THE_POLE, Aim(90.0), table).nearest_azimuth
    assert nearest == pytest.approx(38.4, abs=0.3)


def test_it_says_how_often_a_target_stands_there_in_another_light(table: SeasonTable) -> None:
    """In June Orion passes the south by day only."""
    orion = target_of("position:83.8,-5.4")
    assert len(find_alignments(orion, Aim(180.0), table, light="dark")) == 0
    why = why_none(orion, Aim(180.0), table)
    assert (why.code, why.count) == ("other_light", 20)


def test_a_step_to_the_side_moves_a_landmark() -> None:
    """The 0.11° at 500 m of the definition."""
    assert step_sideways_degrees(500.0) == pytest.approx(0.1146, abs=0.0001)
    assert step_sideways_degrees(1.0) == pytest.approx(45.0)


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (lambda: Aim(360.1), "azimuth_outside"),
        (lambda: Aim(float("nan")), "azimuth_outside"),
        (lambda: Aim(10.0, 91.0), "altitude_outside"),
        (lambda: Aim(10.0, least_altitude_degrees=-91.0), "altitude_outside"),
        (lambda: Aim(10.0, azimuth_tolerance_degrees=0.0), "tolerance_outside"),
        (lambda: Aim(10.0, 5.0, altitude_tolerance_degrees=31.0), "tolerance_outside"),
    ],
)
def test_an_aim_that_cannot_be_is_refused(make: Callable[[], Aim], code: str) -> None:
    with pytest.raises(SkyError) as refused:
        make()
    assert refused.value.code == code


def test_an_arch_stands_nowhere_and_is_refused(table: SeasonTable) -> None:
    arch = Target("milky-way:arch", "Arch", (Arch(10.0, 60.0),), "any", None)
    with pytest.raises(SkyError, match="target_without_direction"):
        find_alignments(arch, Aim(180.0), table)


def test_a_fixed_point_and_its_antipode_do_not_take_each_other_s_moments(
    table: SeasonTable,
) -> None:
    opposite = Target("p:o", "Opposite", (FixedPoint(86.41667, 29.00778),), "any", None)
    aim = Aim(180.0, least_altitude_degrees=-90.0)
    ours = find_alignments(CORE, aim, table, light="any").at
    theirs = find_alignments(opposite, aim, table, light="any")
    assert len(theirs) in (0, 19, 20, 21)
    assert not set(np.round(ours)) & set(np.round(theirs.at))


RIDGE = skyline_of([(170.0, 0.0), (178.0, 25.0), (182.0, 25.0), (190.0, 0.0)])
HILL = skyline_of([(0.0, 5.0)])


def test_what_stands_behind_the_land_does_not_count_and_is_counted_as_hidden(
    table: SeasonTable,
) -> None:
    hidden = find_alignments(CORE, Aim(180.0), table, light="any", skyline=RIDGE)
    clear = find_alignments(CORE, Aim(180.0), table, light="any", skyline=HILL)
    assert (len(hidden), hidden.hidden) == (0, 20)
    assert (len(clear), clear.hidden) == (20, 0)


def test_the_stretch_around_a_moment_ends_at_the_land(table: SeasonTable) -> None:
    step = skyline_of([(180.0, 0.0), (180.5, 25.0), (185.0, 25.0), (186.0, 0.0)])
    level, cut_short = (
        find_alignments(CORE, Aim(179.0), table, light="any", skyline=each)
        for each in (LEVEL, step)
    )
    assert cut_short.at == pytest.approx(level.at, abs=1e-6)
    assert (cut_short.end < level.end).all()
    assert cut_short.start == pytest.approx(level.start, abs=0.01)


def test_an_altitude_counts_only_above_the_land(table: SeasonTable) -> None:
    """The core sinks through 12° over a hill that hides it below 11.5°, or wholly."""
    aim = Aim(213.0, 12.0, 3.0, 1.0)
    free, halved, hidden = (
        find_alignments(CORE, aim, table, light="any", skyline=skyline_of([(0.0, height)]))
        for height in (0.0, 11.5, 14.0)
    )
    assert len(free) == len(halved) > 0
    assert (halved.altitude_degrees > 11.5).all()
    assert (len(hidden), hidden.hidden) == (0, len(free))


def test_an_altitude_counts_only_above_the_least(table: SeasonTable) -> None:
    low = find_alignments(CORE, Aim(213.0, 12.0, 3.0, 1.0), table, light="any")
    raised = Aim(213.0, 12.0, 3.0, 1.0, least_altitude_degrees=12.5)
    high = find_alignments(CORE, raised, table, light="any")
    assert len(low) > 0
    assert (high.altitude_degrees >= 12.49).all()


def test_it_says_that_the_land_is_in_the_way(table: SeasonTable) -> None:
    why = why_none(CORE, Aim(180.0), table, skyline=RIDGE)
    assert (why.code, why.count, why.land) == ("behind_land", 20, 25.0)
    assert why_none(CORE, Aim(180.0), table, skyline=HILL).code == "other_light"


def test_what_suits_any_light_is_not_looked_for_by_day_unless_any_is_asked(
    table: SeasonTable,
) -> None:
    """The Moon passes the south by day before its first quarter and by night around full."""
    moon, aim = target_of("moon:moon"), Aim(180.0)
    usual = find_alignments(moon, aim, table)
    any_light = find_alignments(moon, aim, table, light="any")
    sun = directions_at("sun", MEADOW, usual.at).altitude_geometric_degrees
    assert 0 < len(usual) < len(any_light)
    assert (sun < -6).all()
