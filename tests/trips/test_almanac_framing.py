"""Which lens of a bag suits a target: held against fields that anybody can work out."""

from __future__ import annotations

import pytest

from trips.almanac.camera import Lens, sensor_by_name
from trips.almanac.framing import (
    LensForTarget,
    Wanted,
    declination_of,
    lenses_for,
    size_of,
    usual_field,
    wanted_of,
)
from trips.almanac.framing_words import (
    answer_words,
    fit_words,
    picture_words,
    practice_words,
    share_words,
    tracker_words,
)
from trips.almanac.targets import target_of

FULL_FRAME = sensor_by_name("full-frame")
BAG = [Lens(14, 2.8), Lens(24, 1.4), Lens(50, 1.8), Lens(135, 2.0), Lens(300, 4.0)]
ANDROMEDA = target_of("deep-sky:NGC0224")
ARCH = target_of("milky-way:arch")


def wanted(width: float, key: str = "deep-sky:NGC0224") -> Wanted:
    return wanted_of(target_of(key), width, FULL_FRAME)


def found(width: float, bag: list[Lens] | None = None) -> list[LensForTarget]:
    return lenses_for(bag or BAG, FULL_FRAME, wanted(width), declination=41.3)


def by_focal(width: float) -> dict[float, LensForTarget]:
    return {one.lens.focal_mm: one for one in found(width)}


def test_a_galaxy_has_its_size_and_its_declination() -> None:
    """Axes in OpenNGC, its V-band ellipse: 178′ × 70′."""
    size = size_of(ANDROMEDA)
    assert size is not None
    assert size.long == pytest.approx(2.96, abs=0.01)
    assert size.short == pytest.approx(1.16, abs=0.01)
    assert declination_of(ANDROMEDA) == pytest.approx(41.27, abs=0.01)


@pytest.mark.parametrize("key", ["planet:jupiter", "star:vega", "shower:GEM", "milky-way:core"])
def test_what_has_no_size_has_none(key: str) -> None:
    assert size_of(target_of(key)) is None


def test_the_moon_wants_three_times_its_width_unless_somebody_says() -> None:
    moon = target_of("moon:moon")
    assert usual_field(moon, None) == pytest.approx(1.6, abs=0.05)
    assert usual_field(moon, 5.0) == 5.0
    assert usual_field(target_of("planet:jupiter"), None) is None


def test_a_field_is_the_pictures_long_side_and_an_arch_is_as_high_as_its_top() -> None:
    assert wanted(9.0).height == pytest.approx(6.0)
    arch = wanted_of(ARCH, 180.0, FULL_FRAME)
    assert (arch.height, arch.is_arch) == (60.0, True)
    assert wanted_of(ARCH, 40.0, FULL_FRAME).height == 40.0


def test_the_lens_that_frames_a_field_most_closely_comes_first() -> None:
    """Rectilinear, 36 mm wide: 15.2° at 135 mm, 6.9° at 300 mm, 39.6° at 50 mm."""
    order = [one.lens.focal_mm for one in found(8.9)]
    assert order == [135, 50, 24, 14, 300]
    fits = [one.framing.fit for one in found(8.9) if one.framing]
    assert fits == ["frames", "too-loose", "too-loose", "too-loose", "too-tight"]


def test_only_what_is_too_tight_becomes_a_panorama() -> None:
    lenses = by_focal(8.9)
    assert lenses[300].frames == 3
    assert lenses[135].panorama is None


def test_a_share_is_of_the_frames_width() -> None:
    """2.96° of 15.19° is a fifth."""
    assert by_focal(8.9)[135].share == pytest.approx(0.195, abs=0.001)


def test_long_lenses_want_a_tracker_and_short_ones_do_not() -> None:
    assert [one.wants_tracker for one in lenses_for(BAG, FULL_FRAME, None, declination=0)] == [
        False, False, False, True, True
    ]  # fmt: skip


def test_without_a_declination_drift_is_that_of_the_equator() -> None:
    moving, fixed = (
        lenses_for(BAG, FULL_FRAME, None, declination=declination)[0] for declination in (None, 60)
    )
    assert fixed.limit_seconds == pytest.approx(2 * moving.limit_seconds)


# Words


def test_the_answer_names_the_lens_and_how_much_it_sees() -> None:
    said = answer_words(found(8.9)[0], wanted(8.9))
    assert said.startswith("135 mm f/2 frames it: it sees 15° × 10°, 1.7 times the 8.9°")


@pytest.mark.parametrize(
    ("width", "said"),
    [
        (15.0, "135 mm f/2 just frames it: it sees 15° × 10°, and 15° are wanted."),
        (1.0, "300 mm f/4 comes nearest and sees 6.9 times the 1.0° that are wanted"),
        (150.0, "No lens of the bag takes in 150°: with 14 mm f/2.8 it is a panorama of"),
    ],
)
def test_a_bag_without_the_lens_says_what_comes_nearest(width: float, said: str) -> None:
    assert answer_words(found(width)[0], wanted(width)).startswith(said)


def test_a_field_that_no_panorama_reaches_says_to_bring_another_lens() -> None:
    long_lens = [Lens(500, 4.0)]
    assert "bring a shorter one" in answer_words(found(90.0, long_lens)[0], wanted(90.0))
    assert fit_words(found(90.0, long_lens)[0]) == "too tight by far"


def test_every_lens_says_how_it_fits() -> None:
    said = {focal: (fit_words(one), share_words(one)) for focal, one in by_focal(8.9).items()}
    assert said[135] == (
        "frames it, 1.7 times the field",
        "the target takes 20 % of the width",
    )
    assert said[50][0] == "loose: 4.4 times the field"
    assert said[300][0] == "too tight: a panorama of 3 frames"


def test_a_target_wider_than_the_frame_is_told_in_frames() -> None:
    (one,) = found(8.9, [Lens(1000, 8.0)])
    assert share_words(one) == "the target is 1.4 frames wide"


def test_a_speck_is_less_than_one_percent() -> None:
    """NGC 1 is 1.6′ wide: 0.4 % of 6.9°."""
    speck = wanted(2.7, "deep-sky:NGC0001")
    (one,) = lenses_for([Lens(300, 4.0)], FULL_FRAME, speck, declination=27.7)
    assert share_words(one) == "the target takes less than 1 % of the width"


def test_habit_is_told_by_kind_and_only_where_there_is_one() -> None:
    assert "circular fisheye takes the whole" in practice_words("milky-way:arch")
    assert "work-horse" in practice_words("milky-way:core")
    assert "the radiant" in practice_words("shower:GEM")
    assert practice_words("moon:moon") == ""


def test_what_is_drawn_is_said() -> None:
    said = picture_words(found(8.9), wanted(8.9))
    assert said.startswith("The target is 3.0° × 1.2°, a field of 8.9° is wanted.")
    assert "135 mm f/2 sees 15° × 10°" in said
    assert picture_words(found(8.9), wanted(8.9, "planet:jupiter")).startswith("A field of 8.9°")


def test_support_is_told() -> None:
    lenses = by_focal(8.9)
    assert tracker_words(lenses[135]) == "wants a tracker"
    assert tracker_words(lenses[14]) == "a tripod will do"
