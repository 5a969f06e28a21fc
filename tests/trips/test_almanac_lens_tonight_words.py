"""What a lens can do tonight, in words: toward what, and what a tracker adds."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from tests.trips.test_almanac_lens_tonight import CORE, LONG, WIDE
from trips.almanac.camera import Tracker
from trips.almanac.lens_tonight import Rig, lens_tonight
from trips.almanac.lens_tonight_words import LensAnswer, answer_words
from trips.almanac.tonight import TargetTonight, Tonight

MOUNT = Tracker(0.0, 5.0)


def answer(rig: Rig, *targets: TargetTonight) -> LensAnswer:
    night = Tonight(
        evening=date(2027, 6, 5), targets=targets, at_other_hours=(), absent=(),
        overhead_mag=21.5, is_measured=True,
    )  # fmt: skip
    return answer_words(lens_tonight(rig, targets), night)


def test_what_a_lens_sees_a_part_of_is_called_so_and_what_it_frames_is_not() -> None:
    wider = replace(CORE, field_degrees=120.0)
    assert answer(WIDE, CORE).head == "Toward Core"
    assert answer(WIDE, wider).head == "Toward a part of Core"


def test_a_tracker_that_comes_along_is_worth_a_line_and_one_at_home_is_not() -> None:
    assert "On the tracker" not in " ".join(answer(WIDE, CORE).lines)
    with_it = answer(replace(WIDE, tracker=MOUNT), CORE)
    assert with_it.head == "Toward Core"
    assert with_it.settings.startswith("15 s")
    assert "On the tracker: 2 min, f/1.8, ISO" in " ".join(with_it.lines)


def test_where_only_the_tracker_works_it_stands_in_the_head_alone() -> None:
    one = answer(replace(LONG, tracker=MOUNT), replace(CORE, field_degrees=20.0))
    assert one.head == "On the tracker, toward Core"
    assert "On the tracker:" not in " ".join(one.lines)
