"""Frames of lenses around a target, one in another and to one scale."""

from __future__ import annotations

from itertools import pairwise

import pytest

from trips.charts.frames_nested import (
    HEIGHT,
    LEAST_RADIUS,
    WIDTH,
    DrawnFrame,
    NestedPicture,
    SeenFrame,
    nested_picture,
)

FRAMES = [
    SeenFrame("24 mm", 73.7, 53.1),
    SeenFrame("50 mm", 39.6, 27.0),
    SeenFrame("135 mm", 15.2, 10.2, is_best=True),
    SeenFrame("300 mm", 6.9, 4.6),
]


def picture(
    frames: list[SeenFrame] | None = None,
    *,
    wanted: tuple[float, float] = (8.9, 5.9),
    target: tuple[float, float] | None = (3.0, 1.2),
) -> NestedPicture:
    return nested_picture(
        FRAMES if frames is None else frames,
        wanted=wanted,
        target=target,
        title="t",
        description="d",
    )


def box(frame: DrawnFrame) -> tuple[float, float, float, float]:
    return float(frame.x), float(frame.y), float(frame.width), float(frame.height)


def test_everything_is_drawn_to_one_scale() -> None:
    drawn = picture()
    by_name = {frame.name: box(frame) for frame in drawn.frames}
    scale = by_name["50 mm"][2] / 39.6
    assert by_name["135 mm"][2] / 15.2 == pytest.approx(scale, rel=0.01)
    assert by_name["300 mm"][3] / 4.6 == pytest.approx(scale, rel=0.01)
    assert drawn.target is not None
    assert 2 * float(drawn.target[0]) / 3.0 == pytest.approx(scale, rel=0.01)


def test_frames_lie_in_one_another_and_inside_the_picture() -> None:
    boxes = [box(frame) for frame in picture().frames]
    for (x, y, width, height), (inner_x, inner_y, *_) in pairwise(boxes):
        assert 0 <= x < inner_x
        assert 0 <= y < inner_y
        assert x + width <= WIDTH
        assert y + height <= HEIGHT


def test_what_is_far_wider_than_the_wanted_field_is_named_and_not_drawn() -> None:
    drawn = picture()
    assert drawn.wider == ("24 mm",)
    assert "24 mm" not in [frame.name for frame in drawn.frames]
    assert picture(wanted=(30.0, 20.0)).wider == ()


def test_a_speck_is_named_and_not_drawn() -> None:
    frames = [SeenFrame("14 mm", 104.0, 81.0, is_best=True), SeenFrame("500 mm", 4.1, 2.7)]
    drawn = picture(frames, wanted=(60.0, 40.0))
    assert drawn.narrower == ("500 mm",)
    assert [frame.name for frame in drawn.frames] == ["14 mm"]


def test_the_best_is_drawn_however_wide_it_is() -> None:
    drawn = picture([SeenFrame("14 mm", 104.0, 81.0, is_best=True)], wanted=(3.0, 2.0))
    assert [frame.is_best for frame in drawn.frames] == [True]
    assert drawn.wider == ()


def test_a_circle_is_round_and_a_frame_is_not() -> None:
    circle = SeenFrame("8 mm", 180.0, 180.0, is_circle=True)
    round_one, frame = picture([circle, SeenFrame("14 mm", 104, 81)], wanted=(180, 60)).frames
    assert float(round_one.round) == pytest.approx(float(round_one.width) / 2, abs=0.06)
    assert frame.round == "0"


def test_a_tiny_target_can_still_be_seen_and_one_without_a_size_has_no_ellipse() -> None:
    drawn = picture(target=(0.01, 0.01))
    assert drawn.target == (f"{LEAST_RADIUS:g}", f"{LEAST_RADIUS:g}")
    assert picture(target=None).target is None


def test_neighbours_have_their_names_at_different_corners() -> None:
    places = [(frame.name_x, frame.name_y) for frame in picture().frames]
    assert len(set(places)) == len(places)
    tops = [float(frame.name_y) < HEIGHT / 2 for frame in picture().frames]
    assert all(one != next_one for one, next_one in pairwise(tops))


def test_the_bar_says_its_degrees() -> None:
    drawn = picture()
    assert drawn.bar_degrees == "10°"
    assert drawn.bar.startswith("M16 252H")
    assert picture(wanted=(0.5, 0.3), frames=[SeenFrame("x", 0.6, 0.4)]).bar_degrees == "0.1°"


def test_without_a_frame_the_wanted_field_is_still_drawn() -> None:
    assert picture([]).frames == ()
    assert picture([]).wanted is not None
