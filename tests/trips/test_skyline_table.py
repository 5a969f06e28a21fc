"""Skylines as people bring them: read whole, or refused with the line that is wrong."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trips.almanac.skylines import MOST_POINTS, Skyline
from trips.skyline_table import read_skyline_table, read_skyline_text, write_skyline_text
from trips.tabular import TableError

ROUND = "0 2\n90 4\n180 3\n270 5\n315 1\n45 6\n135 6\n225 6"


def table(text: str | bytes) -> Skyline:
    return read_skyline_table(text.encode() if isinstance(text, str) else text).skyline


def text(typed: str) -> Skyline:
    return read_skyline_text(typed).skyline


def refusal(typed: str) -> str:
    with pytest.raises(TableError) as refused:
        read_skyline_text(typed)
    return str(refused.value)


def table_refusal(typed: str | bytes) -> str:
    with pytest.raises(TableError) as refused:
        table(typed)
    return str(refused.value)


def test_a_table_is_read_by_the_names_of_its_columns() -> None:
    assert table("altitude,azimuth\n4,90\n3.5,10\n").points == ((10, 3.5), (90, 4))


def test_a_table_with_semicolons_has_decimal_commas() -> None:
    assert table("azimuth;altitude\n10,5;3,25\n").points == ((10.5, 3.25),)


def test_a_table_without_its_heading_is_refused() -> None:
    assert table_refusal("10,3\n20,4\n") == (
        "Line 1: missing columns: azimuth, altitude. The columns must be azimuth, altitude."
    )


def test_a_table_says_which_line_is_no_number() -> None:
    said = table_refusal("azimuth,altitude\n10,3\n20,high\n")
    assert said == "Line 3: altitude “high” is not a number."


@pytest.mark.parametrize("number", ["nan", "inf", "-inf"])
def test_what_is_not_finite_is_no_number_of_degrees(number: str) -> None:
    said = table_refusal(f"azimuth,altitude\n10,3\n20,{number}\n")
    assert said == "Line 3: That is not a number of degrees."


def test_a_picture_is_no_table() -> None:
    assert "binary data" in table_refusal(b"\x89PNG\r\n\0\0")


def test_a_file_of_megabytes_is_refused_unread() -> None:
    assert "too large" in table_refusal(b"azimuth,altitude\n" + b"1,1\n" * 600_000)


@pytest.mark.parametrize(
    "typed",
    ["120 3.5", "120 3,5", "120\t3.5", "120;3.5", "120 ; 3,5", "120, 3.5", "120,3.5", "120° 3.5°"],
)
def test_a_line_is_an_azimuth_and_an_altitude(typed: str) -> None:
    assert text(typed).points == ((120, 3.5),)


def test_a_minus_may_be_the_one_of_print() -> None:
    assert text("120 −1.5").points == ((120, -1.5),)


def test_nothing_is_a_level_skyline() -> None:
    assert text(" \n\n").is_level


def test_a_pasted_table_is_read_as_one() -> None:
    assert text("azimuth\taltitude\n10\t3\n").points == ((10, 3),)
    assert text("Azimuth,Altitude\n10,3\n").points == ((10, 3),)


def test_whole_numbers_with_a_comma_may_be_one_number_and_are_refused() -> None:
    assert refusal("10 3\n120,3") == (
        "Line 2: “120,3” may be one number or two; part azimuth and altitude by a space."
    )


@pytest.mark.parametrize("typed", ["north 5", "120", "1 2 3", "120 3_0", "1,2,3", "–"])
def test_a_line_that_is_none_is_named(typed: str) -> None:
    assert refusal(f"10 3\n\n{typed}") == (
        f"Line 3: “{typed}” is not an azimuth and an altitude; write them like 120 3.5."
    )


def test_azimuths_that_are_not_in_order_are_sorted() -> None:
    assert text("90 4\n10 3").points == ((10, 3), (90, 4))


def test_north_may_be_360() -> None:
    assert text("360 4\n90 3").points == ((0, 4), (90, 3))


def test_the_same_point_twice_counts_once_and_is_said() -> None:
    read = read_skyline_text(ROUND + "\n0 2")
    assert len(read.skyline.points) == 8
    assert read.notices == ("1 line said the same again and counts once.",)


def test_two_altitudes_at_one_azimuth_are_refused_with_both_lines() -> None:
    assert refusal("10 3\n0 5\n20 4\n360 6") == (
        "Lines 2 and 4: The azimuth 360° has two altitudes, 5° and 6°; keep one."
    )


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("10 91", "Line 2: The altitude 91° is outside −90 to 90°."),
        ("10 -90.5", "Line 2: The altitude −90.5° is outside −90 to 90°."),
        ("361 3", "Line 2: The azimuth 361° is outside 0 to 360°, from north through east."),
        ("-1 3", "Line 2: The azimuth −1° is outside 0 to 360°, from north through east."),
        ("9" * 400 + " 3", "Line 2: That is not a number of degrees."),
    ],
)
def test_what_is_outside_the_sky_is_refused_with_its_line(typed: str, said: str) -> None:
    assert refusal(f"90 3\n{typed}") == said


def test_every_line_that_is_wrong_is_named_in_one_message() -> None:
    assert refusal("400 99\nfoo bar\n10") == (
        "Line 1: The azimuth 400° is outside 0 to 360°, from north through east. "
        "Line 2: “foo bar” is not an azimuth and an altitude; write them like 120 3.5. "
        "Line 3: “10” is not an azimuth and an altitude; write them like 120 3.5."
    )


def test_lines_that_are_right_are_not_named_among_those_that_are_wrong() -> None:
    assert refusal("0 1\n10 95\n20 3\n360 4\n20 5\n30 2") == (
        "Line 2: The altitude 95° is outside −90 to 90°. "
        "Lines 1 and 4: The azimuth 360° has two altitudes, 1° and 4°; keep one. "
        "Lines 3 and 5: The azimuth 20° has two altitudes, 3° and 5°; keep one."
    )


def test_a_refused_point_contradicts_no_later_one() -> None:
    assert refusal("10 95\n10 3\n20 -95") == (
        "Line 1: The altitude 95° is outside −90 to 90°. "
        "Line 3: The altitude −95° is outside −90 to 90°."
    )


@pytest.mark.parametrize(
    ("count", "end"), [(5, "like 120 3.5."), (6, "And 1 more line."), (9, "And 4 more lines.")]
)
def test_more_than_five_lines_are_counted(count: int, end: str) -> None:
    said = refusal("x\n" * count)
    assert said.count("Line ") == 5
    assert said.endswith(end)


def test_every_row_of_a_table_that_is_wrong_is_named() -> None:
    assert table_refusal("azimuth,altitude\n10,high\n20,3\n,4\n400,3\n") == (
        "Line 2: altitude “high” is not a number. Line 4: azimuth is empty. "
        "Line 5: The azimuth 400° is outside 0 to 360°, from north through east."
    )


def test_one_point_is_a_level_ring_and_that_is_said() -> None:
    read = read_skyline_text("77 4.5")
    assert read.skyline.points == ((77, 4.5),)
    assert read.notices == ("One point is taken for a level ring: 4.5° high all around.",)


def test_a_wide_gap_is_accepted_and_said() -> None:
    read = read_skyline_text("0 1\n45 1\n90 1\n135 1\n180 1\n225 1\n330 1")
    assert read.notices == (
        "Nothing was measured between 225° and 330°: the skyline is straight there.",
    )


def test_a_wide_gap_across_north_is_said_as_it_lies() -> None:
    read = read_skyline_text("30 1\n80 1\n130 1\n180 1\n230 1\n280 1\n320 1")
    assert read.notices[0].startswith("Nothing was measured between 320° and 30°")


def test_two_gaps_that_are_equally_wide_are_both_said() -> None:
    read = read_skyline_text("0 1\n90 1\n150 1\n180 1\n210 1\n270 1")
    assert read.notices == (
        "Nothing was measured between 0° and 90° and between 270° and 0°: the skyline is straight "
        "there.",
    )


def test_a_gap_of_sixty_degrees_is_not_mentioned() -> None:
    assert read_skyline_text("0 1\n60 1\n120 1\n180 1\n240 1\n300 1").notices == ()


def test_more_points_than_a_skyline_has_are_refused_and_not_thinned() -> None:
    lines = "\n".join(f"{n * 0.036:.4f} 1" for n in range(10_000))
    assert refusal(lines) == (
        "10000 points are too many for a skyline: at most 3600, one every 0.1°."
    )


def test_as_many_points_as_a_skyline_has_are_read() -> None:
    assert len(text("\n".join(f"{n / 10} 1" for n in range(MOST_POINTS))).points) == MOST_POINTS


@given(st.dictionaries(st.floats(0, 359.99), st.floats(-90, 90), min_size=1, max_size=50))
def test_what_is_written_is_read_the_same(points: dict[float, float]) -> None:
    rounded = {round(azimuth, 5): round(height, 5) for azimuth, height in points.items()}
    written = write_skyline_text(list(rounded.items()))
    assert dict(text(written).points) == rounded
