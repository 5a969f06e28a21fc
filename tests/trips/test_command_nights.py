"""`manage.py nights`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io
import subprocess
import sys
from datetime import UTC, datetime
from itertools import pairwise
from pathlib import Path

import pytest

from tests.trips.commands import CommandLine
from trips.management.commands.nights import Command
from trips.models import Organisation, Site

ROOT = Path(__file__).resolve().parents[2]
HERE = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
MARCH = ("--start", "2027-03-01", "--end", "2027-03-31")
KEYS = [
    "night",
    "sunset",
    "civil_dusk",
    "nautical_dusk",
    "astronomical_dusk",
    "astronomical_dawn",
    "nautical_dawn",
    "civil_dawn",
    "sunrise",
    "moonrise",
    "moonset",
    "moon_illuminated",
    "dark",
    "moonless",
    "dark_hours",
    "moonless_hours",
    "usable_dark",
    "usable_dark_hours",
    "note",
]
COMMAND = CommandLine("nights")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def seconds(text: str) -> float:
    return datetime.fromisoformat(text).timestamp()


def test_json_has_a_record_a_night_with_every_key_in_order() -> None:
    records = as_json(*HERE, *MARCH)
    assert len(records) == 31
    assert all(list(record) == KEYS for record in records)


def test_events_of_a_night_are_in_the_order_of_the_evening_and_morning() -> None:
    for record in as_json(*HERE, *MARCH):
        times = [seconds(record[key]) for key in KEYS[1:9]]
        assert all(earlier < later for earlier, later in pairwise(times))


def test_times_carry_the_offset_of_their_instant_when_clocks_change() -> None:
    (record,) = as_json(*HERE, "--start", "2027-03-27", "--end", "2027-03-27")
    assert record["sunset"].endswith("+01:00")
    assert record["sunrise"].endswith("+02:00")


def test_hours_are_the_sum_of_their_spans() -> None:
    for record in as_json(*HERE, *MARCH):
        for spans, hours in (("dark", "dark_hours"), ("moonless", "moonless_hours")):
            total = sum(seconds(end) - seconds(start) for start, end in record[spans]) / 3600
            assert record[hours] == pytest.approx(total, abs=1e-3)


def test_a_lighter_level_gives_more_dark_and_the_same_sunsets() -> None:
    deep, light = as_json(*HERE, *MARCH), as_json(*HERE, *MARCH, "--dark-level", "-15")
    assert all(a["dark_hours"] < b["dark_hours"] for a, b in zip(deep, light, strict=True))
    assert [a["sunset"] for a in deep] == [b["sunset"] for b in light]


def test_what_does_not_happen_is_null_or_empty_with_the_words_why() -> None:
    (record,) = as_json(
        "--lat", "69.6", "--lon", "18.9", "--start", "2027-06-10", "--end", "2027-06-10"
    )
    assert record["sunset"] is None
    assert record["dark"] == record["moonless"] == []
    assert record["note"].split(", ")[0] == "sun_never_sets"
    assert "never_dark" in record["note"].split(", ")


def test_a_night_on_which_all_happens_has_no_note() -> None:
    (record,) = as_json(*HERE, "--start", "2027-03-03", "--end", "2027-03-03")
    assert record["note"] is None


def test_csv_holds_the_same_figures_in_columns_of_the_same_names() -> None:
    text, _ = printed(*HERE, *MARCH, "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(text)))
    records = as_json(*HERE, *MARCH)
    assert list(rows[0]) == KEYS
    assert [row["sunset"] for row in rows] == [record["sunset"] for record in records]
    assert [row["moonless"] for row in rows] == [
        " ".join("/".join(span) for span in record["moonless"]) for record in records
    ]


def test_the_table_has_a_line_a_night_under_a_heading() -> None:
    text, _ = printed(*HERE, *MARCH)
    lines = text.splitlines()
    assert len(lines) == 32
    assert lines[0].split()[:3] == ["night", "sunset", "sunrise"]
    assert lines[1].startswith("2027-03-01  2027-03-01T")


def test_without_a_zone_the_one_at_the_position_is_used() -> None:
    position = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600")
    assert as_json(*position, *MARCH) == as_json(*HERE, *MARCH)


def test_a_season_across_the_new_year_is_complete_and_in_order() -> None:
    nights = [r["night"] for r in as_json(*HERE, "--start", "2027-12-30", "--end", "2028-01-02")]
    assert nights == ["2027-12-30", "2027-12-31", "2028-01-01", "2028-01-02"]


@pytest.mark.django_db
def test_a_stored_site_gives_the_same_as_its_position() -> None:
    club = Organisation.objects.create(name="Meadow Night Club")
    Site.objects.create(
        organisation=club,
        name="Broom Hill",
        latitude=40.4,
        longitude=-1.1,
        elevation_m=1600,
        zone="Europe/Madrid",
    )
    assert as_json("--site", "Broom Hill", *MARCH) == as_json(*HERE, *MARCH)


@pytest.mark.django_db
def test_an_archived_site_is_not_found() -> None:
    club = Organisation.objects.create(name="Meadow Night Club")
    Site.objects.create(
        organisation=club, name="Old", latitude=40, longitude=-1, zone="Europe/Madrid",
        archived_at=datetime(2026, 1, 1, tzinfo=UTC),
    )  # fmt: skip
    assert refusal("--site", "Old", *MARCH) == "--site: there is no site called “Old”."


@pytest.mark.django_db
def test_a_name_that_two_organisations_use_is_refused() -> None:
    for name in ("Meadow Night Club", "Harbour Night Club"):
        club = Organisation.objects.create(name=name)
        Site.objects.create(
            organisation=club, name="Hill", latitude=40, longitude=-1, zone="Europe/Madrid"
        )
    assert refusal("--site", "Hill", *MARCH).startswith("--site: several organisations have")


def test_a_zone_that_does_not_fit_is_noted_and_not_refused() -> None:
    text, note = printed("--lat", "40.4", "--lon", "-1.1", "--zone", "Asia/Tokyo", *MARCH)
    assert note == "Note: Europe/Madrid is kept at this position, not Asia/Tokyo.\n"
    assert len(text.splitlines()) == 32


def test_a_swapped_position_is_noted() -> None:
    swapped = ("--lat", "36.8", "--lon", "-1.3", "--zone", "Africa/Nairobi")
    assert printed(*swapped, *MARCH)[1].endswith("Latitude and longitude may be swapped.\n")


def test_a_zone_that_fits_is_not_noted() -> None:
    assert printed(*HERE, *MARCH)[1] == ""


JUNE_AT_52_NORTH = ("--lat", "52", "--lon", "10", "--start", "2027-06-10", "--end", "2027-06-30")


def test_no_dark_at_all_comes_with_what_the_next_levels_give() -> None:
    note = printed(*JUNE_AT_52_NORTH)[1]
    assert note == (
        "Note: no night gets dark at -18°; at -15° 0 of them do, at -12° 21 of them do.\n"
    )


def test_other_levels_are_not_spoken_of_where_it_gets_dark() -> None:
    assert printed(*JUNE_AT_52_NORTH, "--dark-level", "-12")[1] == ""


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("--lat", "91", "--lon", "0", *MARCH), "Latitude 91 is outside −90 to 90 degrees; "),
        (("--lat", "0", "--lon", "361", *MARCH), "Longitude 361 is outside −180 to 360 degrees."),
        (("--lat", "north", "--lon", "0", *MARCH), "--lat: “north” is not a number; "),
        (("--lat", "40,4", "--lon", "0", *MARCH), "--lat: “40,4” is not a number; "),
        (("--lat", "nan", "--lon", "0", *MARCH), "The latitude nan is not a finite number."),
        (("--lat", "0", *MARCH), "Give a position with --lat and --lon, or a stored site"),
        ((*HERE, "--site", "Hill", *MARCH), "Give --site alone, or a position"),
        ((*HERE, "--start", "2027-03-31", "--end", "2027-03-01"), "The last night, 2027-03-01, is"),
        ((*HERE, "--start", "2027-13-01", "--end", "2027-03-01"), "--start: “2027-13-01” is not a"),
        (
            (*HERE, "--start", "1971-01-01", "--end", "1971-03-01"),
            "1971-01-01 is outside the years",
        ),
        (
            (*HERE, "--start", "2050-01-01", "--end", "2051-01-01"),
            "2051-01-01 is outside the years",
        ),
        (
            (*HERE, "--start", "2027-01-01", "--end", "2030-01-01"),
            "2027-01-01 to 2030-01-01 is more",
        ),
        ((*HERE, *MARCH, "--dark-level", "-16"), "--dark-level: “-16” is none of -18, -15, -12."),
        ((*HERE, "--zone", "Europe/Madird", *MARCH), "“Europe/Madird” is not a time zone; "),
        (
            (*HERE, "--elevation", "99999", *MARCH),
            "Elevation 99999 is outside −450 to 9000 metres.",
        ),
    ],
)
def test_bad_input_is_refused_in_one_sentence(arguments: tuple[str, ...], sentence: str) -> None:
    said = refusal(*arguments)
    assert said.startswith(sentence)
    assert said.endswith(".")
    assert "\n" not in said


def test_help_shows_an_example() -> None:
    text = Command().create_parser("manage.py", "nights").format_help()
    assert "manage.py nights --lat 40.4 --lon -1.1" in text


def test_in_a_shell_a_refusal_is_the_sentence_alone_and_exit_code_2() -> None:
    run = subprocess.run(
        [sys.executable, "manage.py", "nights", "--lat", "91", "--lon", "0", *MARCH],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 2
    assert run.stdout == ""
    assert run.stderr.startswith("Latitude 91 is outside")
    assert len(run.stderr.splitlines()) == 1
