"""Panoramas: that their frames leave no hole, how far to turn, and how far the sky turns on."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sky.camera.frame import Frame, Pointing
from sky.camera.lens import Lens
from sky.camera.panorama import Panorama, plan_panorama
from sky.camera.sensor import COMMON_SENSORS, Sensor
from sky.errors import SkyError

FULL_FRAME = COMMON_SENSORS["full-frame"]
UPRIGHT = FULL_FRAME.turned()


def refused(code: str) -> pytest.RaisesExc[SkyError]:
    return pytest.raises(SkyError, check=lambda error: error.code == code)


def planned(lens: Lens, sensor: Sensor, **asked: float) -> Panorama:
    usual = {"width_degrees": 180.0, "lowest": -5.0, "highest": 60.0, "seconds": 15.0}
    return plan_panorama(lens, sensor, **{**usual, **asked})


lenses = st.builds(
    Lens, st.floats(12, 60), projection=st.sampled_from(["rectilinear", "equisolid"])
)
heights = st.tuples(st.floats(-90, 89), st.floats(1, 90)).map(lambda b: (b[0], min(sum(b), 90)))


# Lens, width, lowest, highest, overlap at which a row does with one frame less when it is tilted
# a little further, and so shows less than before.
AT_A_JUMP = [
    (Lens(42.5), 320, 24, 72, 0.6),
    (Lens(56), 320, -36, 47, 0.3),
    (Lens(31, projection="equisolid"), 80, -49, 12, 0.5),
    (Lens(39, projection="equisolid"), 140, 31, 81, 0.4),
]


@pytest.mark.parametrize(("lens", "width", "lowest", "highest", "overlap"), AT_A_JUMP)
def test_a_row_that_does_with_a_frame_less_leaves_no_hole(
    lens: Lens, width: float, lowest: float, highest: float, overlap: float
) -> None:
    assert holds_all(lens, FULL_FRAME, width, (lowest, highest), overlap)


@settings(deadline=None, max_examples=40)
@given(
    lenses, st.sampled_from([FULL_FRAME, UPRIGHT]), st.floats(5, 360), heights, st.floats(0.01, 0.6)
)
def test_every_direction_that_is_wanted_is_in_a_frame(
    lens: Lens, sensor: Sensor, width: float, heights: tuple[float, float], overlap: float
) -> None:
    assert holds_all(lens, sensor, width, heights, overlap)


def holds_all(
    lens: Lens, sensor: Sensor, width: float, heights: tuple[float, float], overlap: float
) -> bool:
    """Tell whether each direction of a fine grid over the wanted field is in a frame."""
    lowest, highest = heights
    found = planned(
        lens, sensor, width_degrees=width, lowest=lowest, highest=highest, overlap=overlap
    )
    inside = 0.02  # degrees: edges are straight between the samples that are taken of them
    altitudes = np.linspace(lowest + inside, highest - inside, 41)[:, None]
    azimuths = np.linspace(inside - width / 2, width / 2 - inside, 181)
    held = np.zeros((41, 181), dtype=bool)
    for row in found.rows:
        for azimuth in row.azimuths:
            frame = Frame(Pointing(azimuth, row.altitude_degrees), lens, sensor)
            held |= frame.holds(altitudes, azimuths)
    return bool(held.all())


def test_neighbours_overlap_as_asked_where_they_overlap_least() -> None:
    found = planned(Lens(24), FULL_FRAME, overlap=0.3)
    row, field = found.rows[0], 73.74
    assert row.turn_degrees <= 0.7 * field
    assert row.turn_degrees == int(row.turn_degrees)
    assert len(found.rows) > 1


def test_the_higher_a_row_the_wider_its_turns() -> None:
    rows = planned(Lens(35), FULL_FRAME, lowest=0, highest=80).rows
    turns = [row.turn_degrees for row in rows]
    assert len(turns) >= 3
    assert turns == sorted(turns)
    assert turns[-1] > turns[0] * 1.15


def test_all_around_closes_and_begins_nowhere_twice() -> None:
    row = planned(Lens(24), UPRIGHT, width_degrees=360).rows[0]
    assert row.frames * row.turn_degrees >= 360
    assert (row.frames - 1) * row.turn_degrees < 360


def test_azimuths_lie_around_the_middle() -> None:
    for row in planned(Lens(24), UPRIGHT).rows:
        assert sum(row.azimuths) == pytest.approx(0)
        assert len(row.azimuths) == row.frames


def test_what_one_frame_holds_takes_one_and_no_sky_turns_meanwhile() -> None:
    found = planned(Lens(24), FULL_FRAME, width_degrees=20, lowest=10, highest=25)
    assert (found.frames, len(found.rows)) == (1, 1)
    assert found.rows[0].altitude_degrees == pytest.approx(17.5, abs=0.5)
    assert (found.seconds, found.sky_turn_degrees) == (15.0, 0.0)


def test_the_sky_turns_on_from_the_first_frame_to_the_last() -> None:
    """Six frames of 15 s with 5 s between them: the last begins after 100 s, 0.418° or 29 px."""
    found = planned(Lens(24), UPRIGHT, pause_seconds=5)
    assert found.frames == 6
    assert found.seconds == 115
    assert found.sky_turn_degrees == pytest.approx(15.041 * 100 / 3600, rel=1e-4)
    assert found.sky_turn_px == pytest.approx(29.17, abs=0.01)


def test_more_overlap_takes_more_frames_and_a_longer_lens_too() -> None:
    usual = planned(Lens(24), UPRIGHT).frames
    assert planned(Lens(24), UPRIGHT, overlap=0.6).frames > usual
    assert planned(Lens(50), UPRIGHT).frames > 3 * usual


@pytest.mark.parametrize(
    ("wrong", "code"),
    [
        ({"width_degrees": 0}, "wanted_field_outside"),
        ({"width_degrees": 361}, "wanted_field_outside"),
        ({"lowest": -91}, "altitude_outside"),
        ({"highest": 91}, "altitude_outside"),
        ({"lowest": 60}, "panorama_upside_down"),
        ({"seconds": 0}, "exposure_time_outside"),
        ({"overlap": 0.95}, "overlap_outside"),
        ({"pause_seconds": -1}, "pause_outside"),
        ({"highest": float("nan")}, "not_a_number"),
    ],
)
def test_what_cannot_be_planned_is_refused(wrong: dict[str, float], code: str) -> None:
    with refused(code):
        planned(Lens(24), UPRIGHT, **wrong)
