"""Which lens frames a field, what lenses are used for, and from where on all is sharp."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.camera.framing import FITS, best_framing, framing
from sky.camera.lens import Lens
from sky.camera.practice import uses_of, wants_tracker
from sky.camera.sensor import COMMON_SENSORS
from sky.camera.sharpness import hyperfocal
from sky.errors import SkyError

FULL_FRAME = COMMON_SENSORS["full-frame"]
BAG = [Lens(focal) for focal in (14, 24, 50, 135, 400)]


def refused(code: str) -> pytest.RaisesExc[SkyError]:
    return pytest.raises(SkyError, check=lambda error: error.code == code)


def test_the_longest_lens_that_holds_the_field_is_best() -> None:
    found = best_framing(BAG, FULL_FRAME, 9.0)
    assert [one.lens.focal_mm for one in found] == [135, 50, 24, 14, 400]
    assert [one.fit for one in found] == ["frames", *["too-loose"] * 3, "too-tight"]
    assert found[0].margin == pytest.approx(10.159 / 9, rel=1e-4)


def test_a_field_wider_than_any_lens_leaves_the_widest_first() -> None:
    found = best_framing(BAG, FULL_FRAME, 180.0)
    assert {one.fit for one in found} == {"too-tight"}
    assert found[0].lens.focal_mm == 14


@given(st.lists(st.floats(5, 800), max_size=6), st.floats(0.1, 180))
def test_a_bag_is_sorted_by_how_well_each_lens_fits(focals: list[float], wanted: float) -> None:
    found = best_framing([Lens(focal) for focal in focals], FULL_FRAME, wanted)
    assert sorted(one.lens.focal_mm for one in found) == sorted(focals)
    assert [FITS.index(one.fit) for one in found] == sorted(FITS.index(one.fit) for one in found)


def test_an_empty_bag_frames_nothing() -> None:
    assert best_framing([], FULL_FRAME, 9.0) == []


def test_the_camera_is_turned_for_what_is_high_and_not_for_what_is_wide() -> None:
    high, wide = framing(Lens(24), FULL_FRAME, 40, 70), framing(Lens(24), FULL_FRAME, 70, 40)
    assert (high.is_portrait, wide.is_portrait) == (True, False)
    assert high.margin == wide.margin == pytest.approx(73.74 / 70, rel=1e-4)
    assert not framing(Lens(24), FULL_FRAME, 50).is_portrait


@pytest.mark.parametrize("wanted", [0, -5, 361])
def test_what_is_no_field_is_refused(wanted: float) -> None:
    with refused("wanted_field_outside"):
        framing(Lens(24), FULL_FRAME, wanted)


@pytest.mark.parametrize(
    ("focal", "uses"),
    [
        (12, ()),
        (20, ("wide-field",)),
        (24, ("wide-field", "constellations")),
        (50, ("constellations",)),
        (135, ("large-nebulae",)),
        (400, ("small-galaxies",)),
        (600, ()),
    ],
)
def test_a_lens_is_used_for_what_its_focal_length_is_usual_for(
    focal: float, uses: tuple[str, ...]
) -> None:
    assert uses_of(Lens(focal), FULL_FRAME) == uses
    four_thirds = COMMON_SENSORS["four-thirds"]
    assert uses_of(Lens(focal / four_thirds.crop_factor), four_thirds) == uses


def test_a_fisheye_that_draws_a_circle_is_for_the_whole_sky_and_another_is_not() -> None:
    assert uses_of(Lens(8, projection="equisolid"), FULL_FRAME) == ("all-sky",)
    assert uses_of(Lens(15, projection="equisolid"), FULL_FRAME) == ("wide-field",)


def test_past_seventy_millimetres_a_tracker_is_wanted() -> None:
    assert not wants_tracker(Lens(70), FULL_FRAME)
    assert wants_tracker(Lens(85), FULL_FRAME)
    assert wants_tracker(Lens(50), COMMON_SENSORS["four-thirds"])


def test_a_smaller_opening_is_sharp_from_nearer_on() -> None:
    wide, closed = (hyperfocal(Lens(24), FULL_FRAME, f_number=n) for n in (2.0, 8.0))
    assert closed.usual_m < wide.usual_m / 3.5
    assert closed.strict_m > closed.usual_m


def test_no_opening_at_all_is_refused() -> None:
    with refused("f_number_outside"):
        hyperfocal(Lens(24), FULL_FRAME, f_number=0)
