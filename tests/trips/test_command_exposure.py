"""`manage.py exposure`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io

import pytest
from django.core.management import CommandError

from tests.trips.commands import CommandLine

LENS = ("--focal", "24", "--aperture", "2.8", "--pixel", "4.3")
CORE = ("--declination", "-29", "--sky", "21.5")
COLUMNS = [
    "drift_limit_s", "drift_limit_corner_s", "rule_500_s", "rule_300_s", "suggested_time_s", "iso",
]  # fmt: skip
KEYS = [*COLUMNS, "iso_step", "trail_px", "trail_corner_px"]
COMMAND = CommandLine("exposure")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def test_a_record_has_these_columns_in_this_order() -> None:
    (found,) = as_json(*LENS, *CORE, "--trail", "5")
    assert list(found) == KEYS


def test_times_are_those_of_the_pixel_the_lens_and_the_declination() -> None:
    (found,) = as_json(*LENS, *CORE)
    # 5 px of 36.956″ at 15.041068″ · cos 29° a second.
    assert found["drift_limit_s"] == pytest.approx(14.046, abs=0.002)
    assert found["drift_limit_corner_s"] < found["drift_limit_s"] * 0.6
    assert found["rule_500_s"] == pytest.approx(20.833, abs=0.001)
    assert found["rule_300_s"] == 12.5
    assert found["suggested_time_s"] == 13.0


def test_the_iso_is_that_of_the_suggested_time_unless_another_is_given() -> None:
    (suggested,), (asked,) = as_json(*LENS, *CORE), as_json(*LENS, *CORE, "--time", "26")
    assert suggested["iso"] == pytest.approx(2 * asked["iso"], abs=1)
    assert asked["trail_px"] > 5 > suggested["trail_px"]


@pytest.mark.parametrize(
    ("sky", "time", "iso", "step"),
    [("18.0", "10", 508, 500), ("20.0", "20", 1604, 1600), ("21.8", "20", 8418, 8000)],
)
def test_worked_exposures_have_their_iso(sky: str, time: str, iso: int, step: int) -> None:
    (found,) = as_json(*LENS, "--declination", "0", "--sky", sky, "--time", time)
    assert (found["iso"], found["iso_step"]) == (iso, step)


def test_a_background_a_stop_brighter_wants_twice_the_iso() -> None:
    (usual,), (brighter,) = as_json(*LENS, *CORE), as_json(*LENS, *CORE, "--background", "0.5")
    assert brighter["iso"] == pytest.approx(2 * usual["iso"], abs=1)


def test_sensor_and_projection_change_the_corner_and_the_rule_and_not_the_centre() -> None:
    full = as_json(*LENS, *CORE)[0]
    small = as_json(*LENS, *CORE, "--sensor", "17.3x13")[0]
    fisheye = as_json(*LENS, *CORE, "--projection", "equisolid")[0]
    assert small["drift_limit_s"] == fisheye["drift_limit_s"] == full["drift_limit_s"]
    assert small["drift_limit_corner_s"] > full["drift_limit_corner_s"]
    assert fisheye["drift_limit_corner_s"] > full["drift_limit_corner_s"]
    assert small["rule_500_s"] == pytest.approx(10.4, abs=0.05)


def test_a_table_and_csv_have_the_same_times() -> None:
    table, said = printed(*LENS, *CORE)
    assert table.splitlines()[0].split() == COLUMNS
    assert said == ""
    (line,) = csv.DictReader(io.StringIO(printed(*LENS, *CORE, "--format", "csv")[0]))
    assert list(line) == KEYS
    assert line["drift_limit_s"] == "14.046"


def test_where_the_highest_iso_is_too_low_it_is_said_and_else_not() -> None:
    short = printed(*LENS, *CORE, "--top-iso", "3200")[1]
    assert "Note: ISO 3200 is the highest, and leaves the sky 1.6 stops too dark." in short
    assert printed(*LENS, *CORE, "--top-iso", "12800")[1] == ""


def test_where_the_lowest_iso_is_too_high_it_is_said() -> None:
    bright = ("--declination", "0", "--sky", "14")
    assert "ISO 100 is the lowest" in printed(*LENS, *bright)[1]


def test_a_lens_as_short_as_a_phones_is_doubted() -> None:
    phone = ("--focal", "2.2", "--aperture", "2.2", "--pixel", "1.4", "--sensor", "5.6×4.2")
    assert "only a phone's second camera" in printed(*phone, *CORE)[1]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--aperture", "0"), "No lens has f/0: write the number after f/ or 1:"),
        (("--focal", "0"), "No lens has a focal length of 0 mm: write the number written on it"),
        (("--focal", "1"), "No lens has a focal length of 1 mm"),
        (("--focal", "nan"), "The focal length nan is not a finite number."),
        (("--pixel", "0"), "No pixel is 0 µm wide"),
        (("--sensor", "0x24"), "No sensor has a side of 0 mm"),
        (("--sensor", "36"), "--sensor: “36” is no width and height; write them in mm, as 36x24."),
        (("--sensor", "wide x high"), "--sensor: “wide ” is not a number"),
        (("--sky", "9"), "A sky of 9 mag/arcsec² is outside 10 to 23"),
        (("--sky", "24"), "A sky of 24 mag/arcsec² is outside 10 to 23"),
        (("--time", "-20"), "An exposure of −20 s cannot be"),
        (("--time", "0"), "An exposure of 0 s cannot be"),
        (("--declination", "95"), "The declination 95 is outside −90 to 90°."),
        (("--trail", "0"), "Stars cannot be allowed to trail by 0 pixels"),
        (("--background", "20"), "A sky 20 stops below mid-grey is outside −4 to 8"),
        (("--top-iso", "0"), "ISO 0 cannot be"),
        (("--sky", "dark"), "--sky: “dark” is not a number"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(arguments: tuple[str, ...], said: str) -> None:
    assert said in refusal(*LENS, *CORE, *arguments)


def test_a_projection_that_is_not_known_is_refused() -> None:
    with pytest.raises(CommandError, match="invalid choice: 'panini'"):
        printed(*LENS, *CORE, "--projection", "panini")
