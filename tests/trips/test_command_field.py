"""`manage.py field`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io

import pytest

from tests.trips.commands import CommandLine

KEYS = ["horizontal", "vertical", "diagonal", "is_circle", "pixel_scale"]
COMMAND = CommandLine("field")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def test_a_record_has_the_degrees_of_the_textbook() -> None:
    (found,) = as_json("--focal", "24", "--sensor", "36x24")
    assert list(found) == KEYS
    assert [found[key] for key in KEYS] == [73.740, 53.130, 84.062, False, None]


def test_pixels_have_a_scale_where_they_are_given() -> None:
    (found,) = as_json("--focal", "20", "--pixel", "5.94")
    assert found["pixel_scale"] == 61.261


def test_a_sensor_held_upright_sees_as_far_up_as_it_saw_aside() -> None:
    (wide,), (high,) = (as_json("--focal", "24", "--sensor", size) for size in ("36x24", "24 × 36"))
    assert (high["horizontal"], high["vertical"]) == (wide["vertical"], wide["horizontal"])


def test_a_fisheye_that_fills_the_frame_sees_wider_and_has_no_note() -> None:
    out, err = printed("--focal", "15", "--projection", "equisolid", "--format", "csv")
    (line,) = csv.DictReader(io.StringIO(out))
    assert line["diagonal"] == "184.585"
    assert err == ""


def test_a_fisheye_that_draws_a_circle_says_so() -> None:
    out, err = printed("--focal", "8", "--projection", "equisolid")
    assert out.split()[4:7] == ["180.00", "180.00", "180.00"]
    assert "Note: the picture is a circle, and the corners stay black." in err


def test_a_lens_as_short_as_a_phones_is_doubted_and_another_is_not() -> None:
    assert "only a phone's second camera" in printed("--focal", "3")[1]
    assert printed("--focal", "4.2")[1] == ""


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--focal", "0"), "No lens has a focal length of 0 mm"),
        (("--focal", "1"), "No lens has a focal length of 1 mm"),
        (("--focal", "-24"), "No lens has a focal length of −24 mm"),
        (("--focal", "wide"), "--focal: “wide” is not a number"),
        (("--focal", "24", "--sensor", "36x0"), "No sensor has a side of 0 mm"),
        (("--focal", "24", "--sensor", "36-24"), "--sensor: “36-24” is no width and height"),
        (("--focal", "24", "--pixel", "0"), "No pixel is 0 µm wide"),
        (("--focal", "24", "--sensor", "0.001x24"), "No sensor has a side of 0 pixels"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(arguments: tuple[str, ...], said: str) -> None:
    assert said in refusal(*arguments)
