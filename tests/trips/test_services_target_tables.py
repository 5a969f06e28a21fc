"""Entries as a table: read all or nothing with the line of each mistake, and written alike."""

from __future__ import annotations

import io
from typing import Any

import pytest
from django.core.exceptions import ValidationError

from tests.conftest import WHEN, Cast
from trips.services.target_lists import save_list
from trips.services.target_tables import COLUMNS, MOST_BYTES, entries_from_table, rows_of
from trips.tabular import write_table

HEADING = "target,light,least_altitude,field,weight,name\n"


def refusals(text: str | bytes) -> list[str]:
    with pytest.raises(ValidationError) as error:
        entries_from_table(text.encode() if isinstance(text, str) else text)
    return error.value.messages


def values(text: str) -> list[tuple[Any, ...]]:
    return [
        (one.target, one.light, one.least_altitude_degrees, one.field_degrees, one.weight, one.name)
        for one in entries_from_table(text.encode())
    ]


def test_a_table_gives_its_entries() -> None:
    table = HEADING + "M 31,dark,30,9,0.5,Big one\nJupiter,,,,,\n"
    assert values(table) == [
        ("deep-sky:NGC0224", "dark", 30.0, 9.0, 0.5, "Big one"),
        ("planet:jupiter", "", None, None, 1.0, "Jupiter"),
    ]


def test_the_target_alone_is_enough() -> None:
    assert values("target\nM 31\n")[0][0] == "deep-sky:NGC0224"


def test_semicolons_go_with_decimal_commas() -> None:
    table = HEADING.replace(",", ";") + "M 31;DARK;22,5;;0,5;\n"
    assert values(table)[0][:5] == ("deep-sky:NGC0224", "dark", 22.5, None, 0.5)


def test_every_line_that_cannot_be_is_named_with_its_number() -> None:
    said = refusals(HEADING + "M 31,,,,1,\nnowhere,,,,,\nM 33,disco,,,2,\nM 42,,high,,,\n")
    assert [words.split(":")[0] for words in said] == ["Line 3", "Line 4", "Line 4", "Line 5"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "The file is empty"),
        ("target\n", "no lines under it"),
        ("name,weight\nx,1\n", "missing columns: target"),
        ("target,target\nM 31,M 31\n", "repeated columns"),
        ("target,weight\nM 31,1,2,3\n", "Line 2 has 4 cells"),
        ('target\n"M 31\n', "quotation mark"),
        (b"target\n\xff\xfe\n", "not UTF-8"),
        (b"target\n\0\n", "binary data"),
        ("target,weight\nM 31,nan\n", "must be from 0 to 1"),
        ("target,least_altitude\nM 31,inf\n", "must be from −5 to 90"),
        ("target\nM 31\nNGC 224\n", "twice in the same light"),
        ("target\n" + "M 31\n" * 201, "at most 200"),
        ("target,name\nM 31," + "x" * 121 + "\n", "at most 120 characters"),
        (b"target\n" + b"x" * MOST_BYTES, "at most 200"),
    ],
)
def test_a_table_that_cannot_be_is_refused_in_a_sentence(text: str | bytes, said: str) -> None:
    assert said in " ".join(refusals(text))


def test_of_many_mistakes_the_first_are_told_and_the_rest_counted() -> None:
    said = refusals("target\n" + "nowhere\n" * 150)
    assert len(said) == 21
    assert said[-1] == "… and 130 more."


def test_what_is_written_is_read_again_as_it_was(cast: Cast) -> None:
    wanted = cast.target_list
    written = io.StringIO()
    write_table(written, COLUMNS, rows_of(wanted))
    before = list(rows_of(wanted))
    save_list(wanted, entries_from_table(written.getvalue().encode()), by=None, now=WHEN)
    assert list(rows_of(wanted)) == before
