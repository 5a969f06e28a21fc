"""`manage.py compare`: a table of places in, a season's figures out, all or nothing.

Nothing here asks for a database, and a test that asks for none may not touch one.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from trips.almanac.comparison import BLOCK
from trips.management.commands.compare import Command
from trips.management.plain import progress

SEASON = ("--start", "2027-01-01", "--end", "2027-03-31")
HEADING = "name,latitude,longitude,elevation_m,zone\n"
HIGH = "High Meadow,40.4,-1.1,1600,Europe/Madrid\n"
NORTH = "Snow Cape,69.6,18.9,100,Europe/Oslo\n"

Writer = Callable[[str | bytes], str]


@pytest.fixture
def table(tmp_path: Path) -> Writer:
    """Write a file of places and give its path."""

    def write(text: str | bytes) -> str:
        path = tmp_path / "places.csv"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return str(path)

    return write


def printed(path: str, *arguments: str) -> tuple[str, str]:
    out, err = io.StringIO(), io.StringIO()
    call_command("compare", "--sites", path, *SEASON, *arguments, stdout=out, stderr=err)
    return out.getvalue(), err.getvalue()


def as_json(path: str, *arguments: str) -> list[dict[str, Any]]:
    records: list[dict[str, Any]] = json.loads(printed(path, "--format", "json", *arguments)[0])
    return records


def refusal(path: str, *arguments: str) -> str:
    out = io.StringIO()
    with pytest.raises(CommandError) as refused:
        call_command("compare", "--sites", path, *SEASON, *arguments, stdout=out)
    assert refused.value.returncode == 2
    assert out.getvalue() == ""
    return str(refused.value)


def test_each_place_has_its_figures_in_the_order_of_the_file(table: Writer) -> None:
    high, north = as_json(table(HEADING + HIGH + NORTH))
    assert (high["name"], north["name"]) == ("High Meadow", "Snow Cape")
    assert list(high) == [
        "name",
        "latitude",
        "longitude",
        "elevation_m",
        "zone",
        "nights",
        "candidate_nights",
        "dark_hours",
        "moonless_hours",
        "moonless_hours_by_month",
        "longest_run",
    ]
    assert high["longitude"] == -1.1
    assert high["nights"] == 90
    assert 0 < high["longest_run"] < high["candidate_nights"] < 90
    assert 0 < high["moonless_hours"] < high["dark_hours"]


def test_months_sum_to_the_season(table: Writer) -> None:
    (high,) = as_json(table(HEADING + HIGH))
    assert list(high["moonless_hours_by_month"]) == ["2027-01", "2027-02", "2027-03"]
    assert sum(high["moonless_hours_by_month"].values()) == pytest.approx(
        high["moonless_hours"], abs=0.01
    )


def test_it_agrees_with_the_nights_command(table: Writer) -> None:
    (high,) = as_json(table(HEADING + HIGH))
    out = io.StringIO()
    place = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
    call_command("nights", *place, *SEASON, "--format", "json", stdout=out)
    nights = json.loads(out.getvalue())
    assert high["dark_hours"] == pytest.approx(sum(n["dark_hours"] for n in nights), abs=0.01)
    assert high["moonless_hours"] == pytest.approx(
        sum(n["moonless_hours"] for n in nights), abs=0.01
    )


def test_usable_dark_is_told_where_it_is_asked_for_and_agrees_with_the_nights_command(
    table: Writer,
) -> None:
    (without,) = as_json(table(HEADING + HIGH))
    assert "usable_dark_hours" not in without
    (found,) = as_json(table(HEADING + HIGH), "--usable-dark")
    out = io.StringIO()
    where = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
    call_command("nights", *where, *SEASON, "--format", "json", stdout=out)
    hours = sum(night["usable_dark_hours"] for night in json.loads(out.getvalue()))
    assert found["usable_dark_hours"] == pytest.approx(hours, abs=0.05)
    assert found["usable_dark_hours"] > found["moonless_hours"]
    assert "usable dark h" in printed(table(HEADING + HIGH), "--usable-dark")[0]


def test_asking_for_more_hours_leaves_fewer_candidates(table: Writer) -> None:
    path = table(HEADING + HIGH)
    (two,), (five,) = as_json(path), as_json(path, "--least-hours", "5")
    assert five["candidate_nights"] < two["candidate_nights"]
    assert five["moonless_hours"] == two["moonless_hours"]


def test_staying_out_longer_leaves_more_candidates(table: Writer) -> None:
    path = table(HEADING + HIGH)
    (until_two,), (until_six,) = as_json(path), as_json(path, "--out-until", "06:00")
    assert until_six["candidate_nights"] > until_two["candidate_nights"]


def test_csv_gives_each_month_a_column_and_runs_no_formula(table: Writer) -> None:
    text, _ = printed(table(HEADING + HIGH.replace("High", "=High")), "--format", "csv")
    (row,) = csv.DictReader(io.StringIO(text))
    assert row["name"] == "'=High Meadow"
    assert row["longitude"] == "-1.1"
    assert float(row["moonless_hours_2027-02"]) > 0


def test_the_table_has_a_line_a_place_under_a_heading(table: Writer) -> None:
    lines = printed(table(HEADING + HIGH + NORTH))[0].splitlines()
    assert [line.split("  ")[0] for line in lines] == ["name", "High Meadow", "Snow Cape"]
    assert lines[0].split()[-3:] == ["2027-01", "2027-02", "2027-03"]


def test_an_empty_zone_is_found_from_the_position(table: Writer) -> None:
    (high,) = as_json(table("name,latitude,longitude,elevation_m\nHigh,40.4,-1.1,1600\n"))
    assert high["zone"] == "Europe/Madrid"


def test_semicolons_decimal_commas_a_mark_and_another_order_change_nothing(table: Writer) -> None:
    plain = as_json(table(HEADING + HIGH))
    european = (
        "zone;elevation_m;longitude;latitude;name\nEurope/Madrid;1600;-1,1;40,4;High Meadow\n"
    )
    assert as_json(table(b"\xef\xbb\xbf" + european.encode())) == plain


def test_a_zone_that_does_not_fit_is_noted_and_not_refused(table: Writer) -> None:
    text, notes = printed(table(HEADING + HIGH.replace("Europe/Madrid", "Africa/Abidjan")))
    assert notes == "Note, line 2: Europe/Madrid is kept at High Meadow, not Africa/Abidjan.\n"
    assert len(text.splitlines()) == 2


def test_many_notes_are_cut_short(table: Writer) -> None:
    odd = HIGH.replace("Europe/Madrid", "Africa/Abidjan")
    notes = printed(table(HEADING + odd * 8))[1].splitlines()
    assert len(notes) == 6
    assert notes[-1] == "… and 3 more like these."


def test_more_places_than_a_block_are_computed_in_two_processes_and_in_order(table: Writer) -> None:
    lines = [f"Place {n},{-60 + n},10,0,UTC\n" for n in range(BLOCK + 6)]
    records = as_json(table(HEADING + "".join(lines)))
    assert [record["name"] for record in records] == [f"Place {n}" for n in range(BLOCK + 6)]
    assert records[0]["dark_hours"] != records[-1]["dark_hours"]


def test_no_candidates_come_with_what_the_next_levels_give(table: Writer) -> None:
    path = table(HEADING + "Green Isle,53,10,0,Europe/Berlin\n" + HIGH)
    june = ("--start", "2027-06-01", "--end", "2027-06-30", "--out-until", "04:00")
    out, err = io.StringIO(), io.StringIO()
    options = ("--least-hours", "0.5", "--format", "json")
    call_command("compare", "--sites", path, *june, *options, stdout=out, stderr=err)
    lightest = io.StringIO()
    call_command(
        "compare", "--sites", path, *june, *options, "--dark-level", "-12", stdout=lightest
    )
    count = json.loads(lightest.getvalue())[0]["candidate_nights"]
    assert count > 0
    assert json.loads(out.getvalue())[1]["candidate_nights"] > 0
    assert err.getvalue() == (
        "Note, Green Isle has no candidate night at -18°; "
        f"at -15° it has 0, at -12° it has {count}.\n"
    )


@pytest.mark.parametrize(
    ("bad", "sentence"),
    [
        ("High,140,-1.1,0,\n", "Line 2: Latitude 140 is outside −90 to 90 degrees; "),
        ("High,40,-200,0,\n", "Line 2: Longitude −200 is outside −180 to 360 degrees."),
        ("High,forty,-1.1,0,\n", "Line 2: latitude “forty” is not a number."),
        ("High,nan,-1.1,0,\n", "Line 2: The latitude nan is not a finite number."),
        ("High,40,-1.1,,\n", "Line 2: elevation_m is empty."),
        (",40,-1.1,0,\n", "Line 2: name is empty."),
        ("High,40,-1.1,99999,\n", "Line 2: Elevation 99999 is outside −450 to 9000 metres."),
        ("High,40,-1.1,0,Europe/Madird\n", "Line 2: “Europe/Madird” is not a time zone; "),
        ("High,40,-1.1\n", "Line 2 has 3 cells; the heading has 5."),
    ],
)
def test_a_bad_line_is_refused_by_number_field_and_value(
    table: Writer, bad: str, sentence: str
) -> None:
    said = refusal(table(HEADING + bad))
    assert said.startswith(sentence)
    assert "\n" not in said


def test_one_bad_line_among_ten_thousand_refuses_all_and_is_named(table: Writer) -> None:
    lines = [f"Place {n},40,-1,0,Europe/Madrid\n" for n in range(10_000)]
    lines[7_654] = "Place 7654,940,-1,0,Europe/Madrid\n"
    assert refusal(table(HEADING + "".join(lines))).startswith("Line 7656: Latitude 940 is")


def test_a_file_without_a_needed_column_is_refused(table: Writer) -> None:
    assert refusal(table("name,lat,longitude,elevation_m\nHigh,40,-1,0\n")).startswith(
        "Line 1: missing columns: latitude."
    )


@pytest.mark.parametrize("data", [b"", b"\x7fELF\0\0", b"\xff\xfe\xfa"])
def test_an_empty_or_binary_file_is_refused(table: Writer, data: bytes) -> None:
    assert refusal(table(data)).endswith(".")


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    missing = tmp_path / "none.csv"
    assert refusal(str(missing)) == f"--sites: {missing} cannot be read: No such file or directory."


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--least-hours", "two"), "--least-hours: “two” is not a number; "),
        (("--least-hours", "25"), "--least-hours: 25 is outside 0 to 24 hours."),
        (("--out-until", "26:00"), "--out-until: “26:00” is not an hour; write it as 02:00."),
        (("--dark-level", "18"), "--dark-level: “18” is none of -18, -15, -12."),
        (("--processes", "0"), "--processes: 0 is fewer than one."),
    ],
)
def test_a_bad_option_is_refused(table: Writer, arguments: tuple[str, ...], sentence: str) -> None:
    assert refusal(table(HEADING + HIGH), *arguments).startswith(sentence)


def test_help_shows_an_example() -> None:
    text = Command().create_parser("manage.py", "compare").format_help()
    assert "manage.py compare --sites sites.csv" in text


def test_progress_is_silent_for_work_that_is_done_at_once(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with progress(3, "site") as bar:
        bar.update(3)
    assert capsys.readouterr().err == ""
    assert bar.delay == 1
