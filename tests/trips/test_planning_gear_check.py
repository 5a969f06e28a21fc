"""The gear check: each habit with its reason, and what nobody said is no fault."""

from __future__ import annotations

import pytest

from trips.planning.gear import (
    Batteries,
    Camera,
    DewHeater,
    Gear,
    Lens,
    Piece,
    RedLight,
    Release,
    Support,
    Tracker,
)
from trips.planning.gear_check import Finding, Plan, Verdict, check, short
from trips.templatetags.gear import finding_words, is_practice

CAMERA = Camera(
    sensor_width_mm=36, sensor_height_mm=24, pixels_wide=6000, pixels_high=4000, weight_kg=0.8
)
LENS = Lens(focal_mm=24, widest_f_number=1.8, weight_kg=0.5)
FIRM = Support(
    leg_mm=28, sections=3, centre_column="none", leg_lock="twist", has_level=True, turns=True,
    folded_cm=54, height_cm=150, load_kg=8, weight_kg=1.9,
)  # fmt: skip
SMALL = (Batteries(number=3), RedLight(), Release())
FIT = Gear((CAMERA, LENS, FIRM, *SMALL))


def found(gear: Gear, plan: Plan = Plan()) -> dict[str, Finding]:  # noqa: B008  # frozen
    findings = check(gear, plan)
    for one in findings:
        assert not {"%(", "None"} & set(finding_words(one).split())  # each has its sentence
    return {one.code: one for one in findings}


def without(*gone: Piece) -> Gear:
    return Gear(tuple(piece for piece in FIT.own if piece not in gone))


def with_support(**figures: object) -> Gear:
    return Gear((CAMERA, LENS, Support(**figures), *SMALL))  # type: ignore[arg-type]  # as typed


def test_gear_that_is_fit_has_nothing_against_it() -> None:
    plan = Plan(has_panorama=True, coldest_c=-3, cabin_length_cm=55, cabin_weight_kg=8)
    assert {one.verdict for one in check(FIT, plan)} == {Verdict.GOOD}
    assert short(check(FIT, plan)) == ()


def test_who_has_nothing_lacks_what_stars_need_and_no_more() -> None:
    assert short(check(Gear(), Plan())) == ("camera", "lens", "support", "red_light")


@pytest.mark.parametrize(
    ("figures", "code", "verdict"),
    [
        ({"leg_mm": 24.9}, "legs_thin", Verdict.WEAK),
        ({"leg_mm": 25.0}, "legs", Verdict.GOOD),
        ({}, "legs_unknown", Verdict.UNKNOWN),
        ({"sections": 2}, "sections_few", Verdict.WEAK),
        ({"sections": 3}, "sections", Verdict.GOOD),
        ({"sections": 4}, "sections", Verdict.GOOD),
        ({"sections": 5}, "sections_many", Verdict.WEAK),
        ({"centre_column": "raised"}, "column_raised", Verdict.WEAK),
        ({"centre_column": "lowered"}, "column", Verdict.GOOD),
        ({"is_travel": True}, "support_travel", Verdict.LACKING),
        ({"height_cm": 139.0}, "height_low", Verdict.WEAK),
        ({"height_cm": 140.0}, "height", Verdict.GOOD),
        ({"load_kg": 1.2}, "load_over", Verdict.LACKING),
    ],
)
def test_a_tripod_is_judged_by_habit(figures: dict, code: str, verdict: Verdict) -> None:  # type: ignore[type-arg]
    assert found(with_support(**figures))[code].verdict is verdict


def test_a_load_that_just_holds_camera_and_lens_is_no_fault() -> None:
    assert "load_over" not in found(with_support(load_kg=1.3))


def test_a_level_base_matters_where_a_tracker_or_a_panorama_is_planned_and_else_not() -> None:
    plain = with_support(leg_mm=28.0)
    tracked = Gear((*plain.own, Tracker(payload_kg=5)))
    assert not {"no_level", "no_turning_base"} & set(found(plain))
    assert {"no_level", "no_turning_base"} <= set(found(plain, Plan(has_panorama=True)))
    assert "no_level" in found(tracked)
    assert "no_turning_base" not in found(tracked)


def test_locks_matter_with_gloves_and_else_not() -> None:
    flip = with_support(leg_lock="flip")
    assert "flip_locks" not in found(flip)
    assert "flip_locks" not in found(flip, Plan(coldest_c=12))
    assert "flip_locks" in found(flip, Plan(coldest_c=5))
    assert "twist_locks" in found(with_support(leg_lock="twist"), Plan(coldest_c=-4))


def test_the_better_of_two_tripods_is_the_one_that_is_judged() -> None:
    assert "support_travel" not in found(Gear((*FIT.own, Support(is_travel=True))))


def test_a_tracker_is_wanted_past_seventy_millimetres_as_on_full_frame() -> None:
    def lacks(mm: float) -> bool:
        return "tracker_wanted" in found(Gear((*FIT.own, Lens(focal_mm=mm, widest_f_number=2.8))))

    assert (lacks(70), lacks(71)) == (False, True)
    small = Camera(sensor_width_mm=23.5, sensor_height_mm=15.6, pixels_wide=6000, pixels_high=3983)
    fifty = Lens(focal_mm=50, widest_f_number=1.8)  # sees as 77 mm on full frame
    assert "tracker_wanted" in found(Gear((small, fifty)))
    zoom = Lens(focal_mm=24, longest_mm=120, widest_f_number=4)
    assert found(Gear((*FIT.own, zoom)))["tracker_wanted"].figures["longest"] == 120
    assert "tracker_wanted" not in found(Gear((*FIT.own, zoom, Tracker(payload_kg=5))))


def test_a_phone_wants_no_tracker_however_long_its_lens_is() -> None:
    phone = Camera(sensor_width_mm=9.8, sensor_height_mm=7.3, pixels_wide=4032, pixels_high=3003)
    assert "tracker_wanted" not in found(Gear((phone, Lens(focal_mm=9, widest_f_number=1.8))))


@pytest.mark.parametrize(
    ("payload", "code"), [(1.3, "payload"), (1.2, "payload_over")], ids=["carries", "slips"]
)
def test_a_tracker_carries_camera_and_lens_or_does_not(payload: float, code: str) -> None:
    assert code in found(Gear((*FIT.own, Tracker(payload_kg=payload))))


def test_weights_that_nobody_said_are_asked_for() -> None:
    light = Lens(focal_mm=35, widest_f_number=2)
    gear = Gear((CAMERA, light, FIRM, *SMALL, Tracker(payload_kg=5)))
    assert found(gear)["payload_unknown"].verdict is Verdict.UNKNOWN


def test_a_cold_night_wants_one_battery_more() -> None:
    two = Gear((*without(*SMALL).own, Batteries(number=2)))
    assert found(two)["batteries"].verdict is Verdict.GOOD
    assert found(two, Plan(coldest_c=6))["batteries"].verdict is Verdict.GOOD
    assert found(two, Plan(coldest_c=5))["batteries_few_cold"].verdict is Verdict.LACKING
    assert found(without(*SMALL))["batteries_unknown"].verdict is Verdict.UNKNOWN


def test_a_lamp_that_starts_white_is_weak_and_none_is_lacking() -> None:
    white = Gear((*without(*SMALL).own, RedLight(starts_red=False)))
    assert found(white)["red_light_white_first"].verdict is Verdict.WEAK
    assert "no_red_light" in short_codes(without(*SMALL))


def short_codes(gear: Gear) -> set[str]:
    return {one.code for one in check(gear, Plan()) if one.is_short}


def test_a_dew_heater_is_lacking_only_where_dew_is_likely() -> None:
    assert "no_dew_heater" not in found(FIT)
    assert "no_dew_heater" not in found(FIT, Plan(is_dewy=False))
    assert found(FIT, Plan(is_dewy=True))["no_dew_heater"].is_short
    heated = Gear((*FIT.own, DewHeater(hours=6)))
    assert "no_dew_heater" not in found(heated, Plan(is_dewy=True))


def test_the_cabin_is_as_long_and_carries_as_much_as_the_organiser_typed() -> None:
    assert not {"folded", "folded_long"} & set(found(FIT))
    assert "folded" in found(FIT, Plan(cabin_length_cm=54))
    assert found(FIT, Plan(cabin_length_cm=53))["folded_long"].is_short
    assert "folded_unknown" in found(with_support(leg_mm=28.0), Plan(cabin_length_cm=55))
    assert "too_heavy" in found(FIT, Plan(cabin_weight_kg=1.5))
    assert "too_heavy" not in found(FIT, Plan(cabin_weight_kg=1.9))


def test_a_finding_is_one_sentence_with_figures_and_says_what_it_rests_on() -> None:
    gear = Gear((CAMERA, Support(leg_mm=22.5, folded_cm=61), Tracker(payload_kg=0.5), LENS))
    told = found(gear, Plan(True, -3.5, True, 55, 1.0))
    assert finding_words(told["legs_thin"]).startswith(
        "Legs of 22.5 mm tremble in wind; 25 mm or more stand still."
    )
    assert [one.code for one in told.values() if not is_practice(one)] == ["folded_long"]
