"""Tables in and out: what is accepted, what is refused and in which words, and no formulas."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trips.tabular import NUMBER, Line, TableError, read_table, write_table

REQUIRED = ("name", "latitude", "longitude")


def read(text: str | bytes) -> list[Line]:
    data = text.encode() if isinstance(text, str) else text
    return read_table(data, required=REQUIRED, optional=("zone",))


def refusal(text: str | bytes) -> str:
    with pytest.raises(TableError) as refused:
        read(text)
    return str(refused.value)


def written(*rows: tuple[str | float | None, ...]) -> str:
    stream = io.StringIO()
    write_table(stream, ("name",), rows)
    return stream.getvalue().removeprefix("name\n")


def test_a_table_is_read_by_the_names_of_its_columns_and_not_by_their_order() -> None:
    (line,) = read("longitude,name,latitude\n-1.1,Alto,40.4\n")
    assert (line.text("name"), line.decimal("latitude"), line.decimal("longitude")) == (
        "Alto",
        40.4,
        -1.1,
    )


def test_an_optional_column_may_be_absent() -> None:
    (line,) = read("name,latitude,longitude\nAlto,40.4,-1.1\n")
    assert line.text("zone") == ""


def test_a_column_that_nobody_asked_for_is_left_out() -> None:
    (line,) = read("name,latitude,longitude,remark\nAlto,40.4,-1.1,windy\n")
    assert "remark" not in line.cells


def test_a_byte_order_mark_is_no_part_of_the_first_name() -> None:
    (line,) = read(b"\xef\xbb\xbfname,latitude,longitude\nAlto,40.4,-1.1\n")
    assert line.text("name") == "Alto"


@pytest.mark.parametrize("between", [";", "\t"])
def test_semicolons_and_tabs_bring_decimal_commas(between: str) -> None:
    (line,) = read("name;latitude;longitude\nAlto;40,4;-1,1\n".replace(";", between))
    assert (line.decimal("latitude"), line.decimal("longitude")) == (40.4, -1.1)


def test_semicolons_allow_decimal_points_too() -> None:
    (line,) = read("name;latitude;longitude\nAlto;40.4;-1.1\n")
    assert line.decimal("latitude") == 40.4


def test_a_decimal_comma_between_commas_is_refused_by_its_line() -> None:
    assert refusal("name,latitude,longitude\nAlto,40,4,-1,1\n") == (
        "Line 2 has 5 cells; the heading has 3."
    )


def test_blank_lines_are_passed_over_and_still_counted() -> None:
    lines = read("name,latitude,longitude\r\n\r\nAlto,40.4,-1.1\r\n,,\r\nBajo,40,1\r\n")
    assert [line.number for line in lines] == [3, 5]


def test_a_cell_of_two_lines_does_not_shift_the_numbers_after_it() -> None:
    lines = read('name,latitude,longitude\n"Alto\nde arriba",40.4,-1.1\nBajo,40,1\n')
    assert [line.number for line in lines] == [2, 4]


@pytest.mark.parametrize("empty", ["", "\n\n", " ", "\ufeff"])
def test_an_empty_file_is_refused(empty: str) -> None:
    assert refusal(empty) == "The file is empty; its first line must name the columns."


def test_a_heading_alone_is_refused() -> None:
    assert refusal("name,latitude,longitude\n") == "The file has a heading but no lines under it."


def test_a_binary_file_is_refused() -> None:
    assert refusal(b"\x89PNG\r\n\x1a\n\0\0\0") == (
        "The file is not a text table: line 3 holds binary data."
    )


def test_another_encoding_is_refused_by_its_line() -> None:
    assert refusal("name,latitude,longitude\nAlto,40,1\nPeñón,40,1\n".encode("latin-1")) == (
        "Line 3 holds characters that are not UTF-8; save the table as CSV in UTF-8."
    )


def test_missing_columns_are_named() -> None:
    assert refusal("name,lat\nAlto,40.4\n") == (
        "Line 1: missing columns: latitude, longitude. "
        "The columns must be name, latitude, longitude."
    )


def test_repeated_columns_are_named() -> None:
    assert refusal("name,latitude,longitude,Latitude\nAlto,40.4,-1.1,41\n") == (
        "Line 1: repeated columns: latitude; each may be there once."
    )


def test_a_short_line_is_refused_by_its_number() -> None:
    assert refusal("name,latitude,longitude\nAlto,40.4,-1.1\nBajo,40\n") == (
        "Line 3 has 2 cells; the heading has 3."
    )


def test_an_open_quotation_mark_is_refused_by_its_line() -> None:
    assert refusal('name,latitude,longitude\nAlto,40.4,-1.1\n"Bajo,40,1\n').startswith("Line 3 ")


def test_what_is_no_number_is_named_with_line_and_column() -> None:
    (line,) = read("name,latitude,longitude\nAlto,north,-1.1\n")
    with pytest.raises(TableError, match=r"^Line 2: latitude “north” is not a number\.$"):
        line.decimal("latitude")


def test_an_empty_cell_that_is_needed_is_named() -> None:
    (line,) = read("name,latitude,longitude\n,40.4,-1.1\n")
    with pytest.raises(TableError, match=r"^Line 2: name is empty\.$"):
        line.required("name")


@pytest.mark.parametrize(
    "cell", ["=1+1", "+SUM(A1)", "-1+2", "@now", "\tx", "\r=1", "-", "=HYPERLINK('x')"]
)
def test_a_formula_is_made_harmless(cell: str) -> None:
    assert written((cell,)).strip('"\n').startswith("'")


@pytest.mark.parametrize("cell", ["-1.1", "+2", "-1,1", "-.5", "+1e-3", "-12"])
def test_a_number_in_a_text_is_left_alone(cell: str) -> None:
    assert written((cell,)).strip('"\n') == cell


def test_numbers_are_written_with_a_point_and_nothing_as_nothing() -> None:
    assert written((-1.1, 3, None)) == "-1.1,3,\n"


@given(st.text(st.characters(codec="utf-8", exclude_characters="\0")))
def test_no_cell_starts_a_formula_and_our_own_tables_read_back(text: str) -> None:
    stream = io.StringIO()
    write_table(stream, ("name", "kept"), [(text, "x")])
    (line,) = read_table(stream.getvalue().encode(), required=("name", "kept"))
    lines = text.replace("\r\n", "\n").replace("\r", "\n")
    assert line.text("name") == lines.strip()
    (_, (cell, _kept)) = csv.reader(io.StringIO(stream.getvalue(), newline=""))
    assert cell[:1] == "" or cell[:1] not in "=+-@\t\r\n" or NUMBER.fullmatch(text)
