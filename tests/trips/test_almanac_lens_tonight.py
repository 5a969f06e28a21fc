"""What a lens can do tonight: the settings of the G rows, the night's sky, and what it cannot."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from sky.dome import Standing
from tests.trips.making import make_site
from trips.almanac.camera import Lens, Sensor, Tracker
from trips.almanac.lens_tonight import Rig, best_takes, lens_tonight, standing_shot, take
from trips.almanac.targets import target_of
from trips.almanac.tonight import TargetTonight, tonight
from trips.models import TargetEntry

FULL_FRAME = Sensor(36.0, 24.0, 6000, 4000)
WIDE = Rig(Lens(24, 1.8), 1.8, FULL_FRAME, 6400)
LONG = Rig(Lens(85, 2.8), 2.8, FULL_FRAME, 6400)
CORE = TargetTonight(
    name="Core", target=target_of("milky-way:core"), at=0.0, spans=((0.0, 3600.0),),
    standing=Standing(20.0, 180.0), sky_mag=21.0, declination=-29.0,
    field_degrees=60.0, weight=1.0,
)  # fmt: skip


def test_a_wide_lens_frames_the_core_and_stays_within_its_iso() -> None:
    one = lens_tonight(WIDE, [CORE])
    assert one.best is not None
    assert one.best.is_possible
    assert one.best.shot.seconds == 15
    assert one.best.shot.iso is not None
    assert one.best.shot.iso.step <= 6400


def test_a_long_lens_cannot_gather_enough_before_stars_trail_but_a_tracker_can() -> None:
    standing = take(LONG, CORE)
    assert standing.shot.stops_short > 1
    assert not standing.shot.is_possible
    tracked = take(replace(LONG, tracker=Tracker(0.0, 5.0)), replace(CORE, field_degrees=20.0))
    assert tracked.shot.is_tracked
    assert tracked.shot.seconds > 30
    assert tracked.is_possible


def test_a_bright_sky_shortens_the_time_to_the_lowest_iso() -> None:
    shot = standing_shot(WIDE, 0.0, 13.0)
    assert shot.iso is not None
    assert shot.iso.step == 100
    assert shot.seconds < 1 < shot.limit_seconds


def test_a_twilight_has_a_time_and_no_iso() -> None:
    shot = standing_shot(WIDE, None, None)
    assert (shot.iso, shot.seconds, shot.is_possible) == (None, 15, True)


def test_what_is_wider_than_the_lens_sees_is_not_framed_and_what_is_far_smaller_neither() -> None:
    wider, smaller = replace(CORE, field_degrees=120.0), replace(CORE, field_degrees=6.0)
    assert [take(WIDE, one).frames for one in (CORE, wider, smaller)] == [True, False, False]
    assert take(WIDE, replace(CORE, field_degrees=None)).frames


def test_the_best_of_several_lenses_is_the_one_that_frames_and_can() -> None:
    assert [one.frames for one in best_takes([LONG, WIDE], CORE)] == [True, False]


@pytest.mark.django_db
def test_a_night_says_how_bright_the_sky_is_toward_each_target_what_counts_most_first() -> None:
    site = make_site(sky_brightness=21.5)
    entries = [
        TargetEntry(target="deep-sky:NGC7000", name="Nebula", weight=0.5, field_degrees=6.0),
        TargetEntry(target="milky-way:core", name="Core", weight=1.0, field_degrees=60.0),
        TargetEntry(target="moon:moon", name="Moon", weight=0.1, light="any"),
        TargetEntry(target="planet:venus", name="Venus", weight=0.1, light="twilight"),
    ]
    found = tonight(entries, site, None, date(2027, 6, 5), dark_level=-18)
    told = {one.name: one for one in found.targets}
    assert [one.name for one in found.targets[:2]] == ["Core", "Nebula"]
    assert 20 < (told["Core"].sky_mag or 0) < 21.5  # low down, through more air
    assert (told["Core"].sky_mag or 0) < (told["Nebula"].sky_mag or 0) < 21.6
    assert all(told[name].sky_mag is None for name in ("Moon", "Venus") if name in told)
    assert found.is_measured
    assert found.overhead_mag == pytest.approx(21.5)
