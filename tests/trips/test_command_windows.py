"""`manage.py windows`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io
import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError

from tests.trips.commands import CommandLine
from trips.models import Organisation, Site

HERE = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
NORTH = ("--lat", "65", "--lon", "20", "--zone", "Europe/Stockholm")
JUNE = ("--start", "2027-06-01", "--end", "2027-06-12")
CORE = ("--target", "Galactic core")
COLUMNS = ["night", "spans", "hours", "best", "altitude", "altitude_geometric", "azimuth"]
COMMAND = CommandLine("windows")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def hours(records: list[dict[str, Any]]) -> float:
    return sum(float(one["hours"]) for one in records)


@pytest.fixture
def ridge(tmp_path: Path) -> str:
    """A wall in the south that the core never clears at 40° north; low land elsewhere."""
    path = tmp_path / "ridge.csv"
    path.write_text("azimuth,altitude\n0,2\n60,2\n120,30\n180,30\n240,30\n300,2\n", "utf-8")
    return str(path)


def test_a_record_has_the_spans_of_a_night_and_where_the_target_is_highest() -> None:
    first = as_json(*CORE, *HERE, *JUNE)[0]
    assert list(first) == COLUMNS
    start, end = (datetime.fromisoformat(each) for each in first["spans"][0])
    assert start <= datetime.fromisoformat(first["best"]) <= end
    assert first["hours"] == pytest.approx((end - start).total_seconds() / 3600, abs=0.001)
    assert first["altitude_geometric"] == pytest.approx(20.6, abs=0.1)
    assert first["altitude"] > first["altitude_geometric"]
    assert first["azimuth"] == pytest.approx(180.0, abs=0.01)


def test_a_position_is_taken_instead_of_a_name() -> None:
    core = ("--min-altitude", "8", *HERE, *JUNE)
    by_angles = as_json("--ra", "266.417", "--dec", "-29.008", *core)
    assert [one["night"] for one in by_angles] == [one["night"] for one in as_json(*CORE, *core)]


def test_a_higher_least_altitude_leaves_less() -> None:
    low, high = (as_json(*CORE, *HERE, *JUNE, "--min-altitude", least) for least in ("8", "18"))
    assert 0 < hours(high) < hours(low)


def test_another_light_has_other_hours() -> None:
    dark, moonless = (
        as_json(*CORE, *HERE, *JUNE, "--light", light) for light in ("dark", "moonless")
    )
    assert 0 < hours(moonless) < hours(dark)


def test_nights_without_a_window_are_left_out() -> None:
    around_full_moon = ("--start", "2027-06-01", "--end", "2027-06-30")
    assert 0 < len(as_json(*CORE, *HERE, *around_full_moon)) < 30


def test_a_skyline_takes_away_what_it_hides(ridge: str) -> None:
    m31 = ("--target", "M 31", "--light", "any", *HERE, *JUNE)
    assert 0 < hours(as_json(*m31, "--horizon", ridge)) <= hours(as_json(*m31))
    out, err = printed(*CORE, *HERE, *JUNE, "--horizon", ridge)
    assert out.split() == [*COLUMNS[:5], "geometric", "azimuth"]
    assert "Galactic core is never above the skyline and the least altitude" in err


def test_a_wide_gap_in_a_skyline_is_said(tmp_path: Path) -> None:
    path = tmp_path / "gap.csv"
    path.write_text("azimuth,altitude\n10,3\n20,4\n30,3\n", "utf-8")
    assert "Note: " in printed(*CORE, *HERE, *JUNE, "--horizon", str(path))[1]


def test_with_windows_and_a_whole_skyline_nothing_is_noted() -> None:
    assert printed(*CORE, *HERE, *JUNE)[1] == ""


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--ra", "266.417", "--dec", "-29.008", *NORTH), "never rises here: its highest is 4.0°"),
        ((*CORE, *HERE, "--min-altitude", "30"), "never stands higher than 20.6° here, and 30°"),
        (("--target", "Perseids", *HERE), "Perseids does not happen in these nights."),
        (("--target", "Venus", *HERE, "--light", "moonlit"), "never in the light that is wanted"),
    ],
)
def test_without_any_window_it_says_why(arguments: tuple[str, ...], said: str) -> None:
    out, err = printed(*arguments, *JUNE, "--format", "json")
    assert json.loads(out) == []
    assert said in err


def test_csv_has_a_line_for_each_record() -> None:
    asked = (*CORE, *HERE, *JUNE)
    lines = list(csv.DictReader(io.StringIO(printed(*asked, "--format", "csv")[0])))
    records = as_json(*asked)
    assert [line["best"] for line in lines] == [one["best"] for one in records]
    assert lines[0]["spans"] == " ".join("/".join(span) for span in records[0]["spans"])


def test_csv_without_records_still_has_its_heading() -> None:
    out = printed("--target", "Perseids", *HERE, *JUNE, "--format", "csv")[0]
    assert out.split() == [",".join(COLUMNS)]


@pytest.mark.django_db
def test_a_stored_site_is_found_by_its_name() -> None:
    club = Organisation.objects.create(name="Club")
    Site.objects.create(
        organisation=club, name="Alto", latitude=40.4, longitude=-1.1, elevation_m=1600,
        zone="Europe/Madrid",
    )  # fmt: skip
    assert as_json(*CORE, "--site", "Alto", *JUNE) == as_json(*CORE, *HERE, *JUNE)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--target", "M31x"), "No target is named “M31x”; the nearest names are “M 31”"),
        (("--target", "Nowhere Nebula Q"), "No target is named"),
        ((), "Give a target with --target, or a position with --ra and --dec."),
        (("--ra", "10"), "Give a target with --target"),
        ((*CORE, "--ra", "10", "--dec", "5"), "Give a target with --target"),
        (("--ra", "10", "--dec", "95"), "The declination 95 is outside"),
        (("--ra", "400", "--dec", "5"), "The right ascension 400 is outside"),
        ((*CORE, "--min-altitude", "91"), "The altitude 91 is outside"),
        ((*CORE, "--min-altitude", "nan"), "The altitude nan is outside"),
        ((*CORE, "--min-altitude", "low"), "--min-altitude: “low” is not a number"),
        ((*CORE, "--horizon", "nowhere.csv"), "--horizon: nowhere.csv cannot be read: No such"),
        ((*CORE, "--light", "bright"), "invalid choice: 'bright'"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(arguments: tuple[str, ...], said: str) -> None:
    if "bright" in arguments:
        with pytest.raises(CommandError, match=said):
            printed(*arguments, *HERE, *JUNE)
    else:
        assert said in refusal(*arguments, *HERE, *JUNE)


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("azimuth,altitude\n10,3\n20,95\n", "Line 3: The altitude 95° is outside −90 to 90°."),
        ("azimuth,altitude\n10,3\n10,4\n", "Lines 2 and 3: "),
        ("azimuth,altitude\n10,3\n20,high\n", "Line 3: altitude “high” is not a number."),
        ("10,3\n20,4\n", "Line 1: missing columns: azimuth, altitude."),
        ("", "The file is empty"),
    ],
)
def test_a_skyline_is_refused_with_its_line(table: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "skyline.csv"
    path.write_text(table, "utf-8")
    assert f"--horizon: {path}: {said}" in refusal(*CORE, *HERE, *JUNE, "--horizon", str(path))


def test_more_than_three_years_are_refused() -> None:
    said = refusal(*CORE, *HERE, "--start", "2027-01-01", "--end", "2031-01-01")
    assert "more than three years" in said
