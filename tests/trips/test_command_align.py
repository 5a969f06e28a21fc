"""`manage.py align`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.trips.commands import CommandLine
from trips.models import Organisation, Site

HERE = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
JUNE = ("--start", "2027-06-01", "--end", "2027-06-12")
CORE = ("--target", "Galactic core")
SOUTH = ("--azimuth", "180")
COLUMNS = (
    "night", "at", "from", "to", "altitude", "altitude_geometric", "azimuth", "sun_altitude",
    "moon_altitude", "moon_illuminated",
)  # fmt: skip
COMMAND = CommandLine("align")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def test_a_record_has_the_moment_its_stretch_and_where_the_target_stands() -> None:
    records = as_json(*CORE, *SOUTH, "--light", "any", *HERE, *JUNE)
    first = records[0]
    assert list(first)[:4] == ["night", "at", "from", "to"]
    assert first["azimuth"] == pytest.approx(180.0, abs=0.01)
    assert first["altitude"] == pytest.approx(20.6, abs=0.1)
    start, at, end = (datetime.fromisoformat(first[key]) for key in ("from", "at", "to"))
    assert start < at < end
    assert at.utcoffset() is not None


def test_a_position_is_taken_instead_of_a_name() -> None:
    by_name = as_json(*CORE, *SOUTH, *HERE, *JUNE)
    by_angles = as_json("--ra", "17h45m40s", "--dec=-29d00m28s", *SOUTH, *HERE, *JUNE)
    assert [one["night"] for one in by_name] == [one["night"] for one in by_angles]


def test_an_altitude_keeps_only_what_comes_near_it() -> None:
    wanted = ("--azimuth", "172", "--altitude", "19.5")
    assert len(as_json(*CORE, *wanted, "--light", "any", *HERE, *JUNE)) == 12
    assert as_json(*CORE, "--azimuth", "172", "--altitude", "50", *HERE, *JUNE) == []


def test_without_any_it_says_why_and_still_prints_a_table() -> None:
    out, err = printed("--target", "M 31", *SOUTH, *HERE, *JUNE)
    assert out.split() == ["at", "from", "to", "altitude", "azimuth"]
    assert "never comes to south (180°)" in err


def test_it_says_when_only_the_light_is_missing() -> None:
    err = printed("--target", "M 31", "--azimuth", "74", *HERE, *JUNE)[1]
    assert "stands there 24 times" in err


def test_it_says_that_a_target_never_rises_there() -> None:
    far_south = ("--ra", "10", "--dec=-70", *SOUTH, *HERE, *JUNE)
    for asked in (far_south, (*far_south, "--altitude", "10")):
        assert (
            "never rises at south (180°): it passes there below the horizon" in printed(*asked)[1]
        )


def test_it_says_nothing_of_rising_where_the_target_does_rise() -> None:
    assert printed(*CORE, *SOUTH, *HERE, *JUNE)[1] == ""


def test_a_tolerance_in_altitude_changes_nothing_without_an_altitude() -> None:
    asked = (*CORE, *SOUTH, *HERE, *JUNE)
    assert as_json(*asked, "--altitude-tolerance", "0.1") == as_json(*asked)


def test_a_tolerance_in_altitude_counts_with_an_altitude() -> None:
    asked = (*CORE, *SOUTH, "--altitude", "20", *HERE, *JUNE)
    assert len(as_json(*asked, "--altitude-tolerance", "1")) > 0
    assert as_json(*asked, "--altitude-tolerance", "0.1") == []


def test_json_and_csv_have_the_same_columns() -> None:
    asked = (*CORE, *SOUTH, *HERE, *JUNE)
    heading = printed(*asked, "--format", "csv")[0].splitlines()[0]
    assert heading == ",".join(COLUMNS)
    assert {tuple(record) for record in as_json(*asked)} == {COLUMNS}


def test_without_any_json_is_an_empty_list_and_csv_a_heading() -> None:
    asked = ("--target", "M 31", *SOUTH, *HERE, *JUNE)
    assert printed(*asked, "--format", "json")[0] == "[]\n"
    assert len(printed(*asked, "--format", "csv")[0].splitlines()) == 1


def test_times_are_those_of_the_place_to_the_second_and_angles_plain_numbers() -> None:
    record = as_json(*CORE, *SOUTH, *HERE, *JUNE)[0]
    times = [datetime.fromisoformat(record[key]) for key in ("at", "from", "to")]
    assert [at.utcoffset() for at in times] == [timedelta(hours=2)] * 3
    assert [at.microsecond for at in times] == [0] * 3
    assert {type(record[key]) for key in COLUMNS[4:]} == {float}


def test_csv_has_a_line_for_each_record() -> None:
    asked = (*CORE, *SOUTH, *HERE, *JUNE)
    lines = list(csv.DictReader(io.StringIO(printed(*asked, "--format", "csv")[0])))
    assert [line["at"] for line in lines] == [one["at"] for one in as_json(*asked)]


@pytest.mark.django_db
def test_a_stored_site_is_found_by_its_name() -> None:
    club = Organisation.objects.create(name="Club")
    Site.objects.create(
        organisation=club, name="Alto", latitude=40.4, longitude=-1.1, elevation_m=1600,
        zone="Europe/Madrid",
    )  # fmt: skip
    by_site = as_json(*CORE, *SOUTH, "--site", "Alto", *JUNE)
    assert by_site == as_json(*CORE, *SOUTH, *HERE, *JUNE)


def test_a_skyline_from_a_file_hides_what_stands_behind_it(tmp_path: Path) -> None:
    low, high = tmp_path / "low.csv", tmp_path / "high.csv"
    low.write_text("azimuth,altitude\n170,5\n190,5\n", encoding="utf-8")
    high.write_text("azimuth,altitude\n170,25\n190,25\n", encoding="utf-8")
    asked = (*CORE, *SOUTH, "--light", "any", *HERE, *JUNE)
    assert len(as_json(*asked, "--horizon", str(low))) == 12
    out, err = printed(*asked, "--horizon", str(high))
    assert out.split() == ["at", "from", "to", "altitude", "azimuth"]
    assert "12 times, always behind the land, which is 25.0° high at south (180°)" in err


def test_a_skyline_that_cannot_be_read_is_refused(tmp_path: Path) -> None:
    missing = str(tmp_path / "none.csv")
    said = refusal(*CORE, *SOUTH, *HERE, *JUNE, "--horizon", missing)
    assert f"--horizon: {missing} cannot be read" in said


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((*CORE, "--azimuth", "361"), "The azimuth 361 is outside 0 to 360 degrees."),
        ((*CORE, "--azimuth", "400"), "The azimuth 400 is outside 0 to 360 degrees."),
        ((*CORE, "--azimuth=-1"), "The azimuth −1 is outside 0 to 360 degrees."),
        ((*CORE, "--azimuth", "nan"), "The azimuth nan is outside 0 to 360 degrees."),
        ((*CORE, "--azimuth", "south"), "--azimuth: “south” is not a number"),
        ((*CORE, *SOUTH, "--altitude", "91"), "The altitude 91 is outside"),
        ((*CORE, *SOUTH, "--least-altitude", "95"), "The altitude 95 is outside"),
        ((*CORE, *SOUTH, "--azimuth-tolerance", "0"), "The tolerance 0 is outside"),
        ((*CORE, *SOUTH, "--azimuth-tolerance=-2"), "The tolerance −2 is outside 0.05 to 30"),
        ((*CORE, *SOUTH, "--azimuth-tolerance", "181"), "The tolerance 181 is outside 0.05 to 30"),
        ((*CORE, *SOUTH, "--altitude-tolerance", "99"), "The tolerance 99 is outside 0.05 to 30"),
        ((*CORE, *SOUTH, "--altitude", "5", "--altitude-tolerance", "x"), "is not a number"),
        (("--target", "Nowhere Nebula Q", *SOUTH), "No target is named"),
        (("--target", "", *SOUTH), "No target is named; write one like M 31, Jupiter"),
        (("--target", "M 300", *SOUTH), "the nearest names are “M 30”, “M 100”."),
        (("--target", "Milky Way arch", *SOUTH), "spans the sky and stands at no one place"),
        (SOUTH, "Give a target with --target"),
        (("--ra", "10", *SOUTH), "Give a target with --target"),
        (("--ra", "10", "--dec", "95", *SOUTH), "The declination 95 is outside"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(arguments: tuple[str, ...], said: str) -> None:
    assert said in refusal(*arguments, *HERE, *JUNE)


def test_more_than_three_years_are_refused() -> None:
    said = refusal(*CORE, *SOUTH, *HERE, "--start", "2027-01-01", "--end", "2031-01-01")
    assert "more than three years" in said
