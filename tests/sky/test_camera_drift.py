"""How far stars trail: what makes it longer, what bounds it, what is refused."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sky.camera.drift import LONGEST_SECONDS, longest_exposure, reciprocal_rule, trail_px
from sky.camera.lens import Lens
from sky.camera.projection import PROJECTIONS, Projection
from sky.camera.sensor import COMMON_SENSORS
from sky.camera.tracking import tracker_limit
from sky.errors import SkyError

FULL_FRAME = COMMON_SENSORS["full-frame"]

lenses = st.builds(Lens, st.floats(5, 1000), st.just(2.8), projection=st.sampled_from(PROJECTIONS))
declinations = st.floats(-90, 90)


def refused(code: str) -> pytest.RaisesExc[SkyError]:
    return pytest.raises(SkyError, check=lambda error: error.code == code)


@given(lenses, declinations)
def test_the_limit_is_where_the_trail_has_its_length(lens: Lens, declination: float) -> None:
    seconds = longest_exposure(lens, FULL_FRAME, declination, 5.0, "corner")
    trail = trail_px(lens, FULL_FRAME, declination, seconds, "corner")
    assert trail == pytest.approx(5.0) or (seconds == LONGEST_SECONDS and trail <= 5.0)


@given(lenses, declinations)
def test_no_place_of_a_frame_allows_more_than_its_centre(lens: Lens, declination: float) -> None:
    centre = longest_exposure(lens, FULL_FRAME, declination)
    corner = longest_exposure(lens, FULL_FRAME, declination, at="corner")
    assert corner <= centre * (1 + 1e-12)


@given(lenses, declinations)
def test_north_and_south_trail_alike(lens: Lens, declination: float) -> None:
    for at in ("centre", "corner"):
        north, south = (trail_px(lens, FULL_FRAME, side * declination, 10, at) for side in (1, -1))
        assert north == pytest.approx(south)


def test_the_strict_limit_is_shorter() -> None:
    usual, strict = (longest_exposure(Lens(24), FULL_FRAME, 0, px) for px in (5.0, 2.0))
    assert strict == pytest.approx(usual * 2 / 5)


def test_a_wide_rectilinear_frame_trails_far_more_in_its_corners_than_a_fisheyes() -> None:
    def ratio(projection: Projection) -> float:
        lens = Lens(15, projection=projection)
        centre, corner = (trail_px(lens, FULL_FRAME, 0, 10, at) for at in ("centre", "corner"))
        return corner / centre

    assert ratio("rectilinear") > 3
    assert ratio("equisolid") == pytest.approx(1.0)


def test_a_corner_has_its_own_declination() -> None:
    """Centred on the pole nothing moves in the middle, and in the corners much does."""
    assert trail_px(Lens(14), FULL_FRAME, 90, 30) < 1e-9
    assert trail_px(Lens(14), FULL_FRAME, 90, 30, "corner") > 5


@pytest.mark.parametrize("declination", [90.0, -90.0, 89.9])
def test_at_the_pole_the_limit_is_an_hour_and_not_for_ever(declination: float) -> None:
    assert longest_exposure(Lens(24), FULL_FRAME, declination) == LONGEST_SECONDS


def test_the_rule_knows_no_declination_and_scales_with_the_sensor() -> None:
    four_thirds = COMMON_SENSORS["four-thirds"]
    assert reciprocal_rule(Lens(12), four_thirds) == pytest.approx(20.8, abs=0.1)
    assert reciprocal_rule(Lens(24), FULL_FRAME, 300) == 12.5


@pytest.mark.parametrize(
    ("declination", "allowed", "code"),
    [
        (95, 5, "dec_outside"),
        (-90.1, 5, "dec_outside"),
        (float("nan"), 5, "not_a_number"),
        (0, 0, "trail_outside"),
        (0, -1, "trail_outside"),
        (0, float("inf"), "not_a_number"),
    ],
)
def test_what_cannot_trail_is_refused(declination: float, allowed: float, code: str) -> None:
    with refused(code):
        longest_exposure(Lens(24), FULL_FRAME, declination, allowed)


@pytest.mark.parametrize("seconds", [0, -20, 90_000])
def test_what_is_no_exposure_is_refused(seconds: float) -> None:
    with refused("exposure_time_outside"):
        trail_px(Lens(24), FULL_FRAME, 0, seconds)


# Trackers


def test_the_worse_error_of_a_tracker_counts_and_not_the_sum() -> None:
    def limit(axis: float, stated: float) -> float:
        return tracker_limit(
            Lens(135),
            FULL_FRAME,
            polar_error_arcminutes=axis,
            stated_arcseconds_per_minute=stated,
        )

    # 5 px of 9.167″ are 45.8″; 10′ beside the pole stray by 2.625″ a minute.
    assert limit(10, 0) == pytest.approx(45.84 / 2.625 * 60, rel=1e-3)
    assert limit(10, 2) == limit(10, 0)
    assert limit(10, 6) == pytest.approx(45.84 / 6 * 60, rel=1e-3)


def test_without_any_error_a_tracker_holds_for_an_hour_and_no_longer_is_said() -> None:
    assert tracker_limit(Lens(14), FULL_FRAME, polar_error_arcminutes=0) == LONGEST_SECONDS


@pytest.mark.parametrize(
    ("axis", "stated", "code"),
    [
        (-1, 0, "polar_error_outside"),
        (700, 0, "polar_error_outside"),
        (1, -1, "tracking_error_outside"),
    ],
)
def test_what_no_tracker_does_is_refused(axis: float, stated: float, code: str) -> None:
    with refused(code):
        tracker_limit(
            Lens(50),
            FULL_FRAME,
            polar_error_arcminutes=axis,
            stated_arcseconds_per_minute=stated,
        )
