"""`manage.py showers`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io
from datetime import datetime
from typing import Any

import pytest

from tests.trips.commands import CommandLine
from trips.models import Organisation, Site

HERE = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
SOUTH = ("--lat", "-32.4", "--lon", "20.8", "--zone", "Africa/Johannesburg")
POLAR = ("--lat", "78.2", "--lon", "15.6", "--zone", "Arctic/Longyearbyen")
KEYS = ["code", "name", "peak", "night", "rate"]
COMMAND = CommandLine("showers")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def by_code(*arguments: str) -> dict[str, dict[str, Any]]:
    return {record["code"]: record for record in as_json(*arguments)}


def test_a_record_has_these_columns_in_this_order() -> None:
    for record in as_json("--year", "2027"):
        assert list(record) == KEYS


def test_a_table_and_csv_have_the_same_columns() -> None:
    table, _ = printed("--year", "2027", *HERE)
    assert table.splitlines()[0].split() == KEYS
    lines = list(csv.DictReader(io.StringIO(printed("--year", "2027", "--format", "csv")[0])))
    assert [line["code"] for line in lines] == [one["code"] for one in as_json("--year", "2027")]
    assert list(lines[0]) == KEYS


def test_peaks_are_in_utc_in_the_order_of_the_year() -> None:
    peaks = [datetime.fromisoformat(record["peak"]) for record in as_json("--year", "2027")]
    assert peaks == sorted(peaks)
    assert all(peak.utcoffset() is not None and peak.year == 2027 for peak in peaks)


def test_without_a_place_it_is_the_date_in_utc_and_the_zenithal_rate() -> None:
    perseids = by_code("--year", "2027")["PER"]
    assert perseids["peak"].startswith("2027-08-13T08:")
    assert (perseids["night"], perseids["rate"]) == ("2027-08-13", 100)


def test_with_a_place_it_is_the_night_of_the_evening_and_the_rate_there() -> None:
    perseids = by_code("--year", "2027", *HERE)["PER"]
    assert perseids["night"] == "2027-08-12"
    assert perseids["rate"] == pytest.approx(87, abs=2)


def test_a_southern_place_sees_southern_showers_better_and_northern_ones_not() -> None:
    south, north = by_code("--year", "2027", *SOUTH), by_code("--year", "2027", *HERE)
    assert south["ETA"]["rate"] > 2 * north["ETA"]["rate"]
    assert south["URS"]["rate"] is None
    assert north["URS"]["rate"] > 5


def test_a_polar_place_has_no_rate_in_summer_and_one_in_winter() -> None:
    polar = by_code("--year", "2027", *POLAR)
    assert polar["PER"]["rate"] is None
    assert polar["GEM"]["rate"] > 90


def test_a_shower_by_day_has_no_rate_at_a_place_and_is_named() -> None:
    assert by_code("--year", "2027", *HERE)["ARI"]["rate"] is None
    assert "by day, not seen at night: Daytime Arietids." in printed("--year", "2027")[1]


def test_what_the_moon_spoils_is_named_and_what_it_does_not_is_not() -> None:
    notes = printed("--year", "2027", *HERE)[1]
    (spoilt,) = [line for line in notes.splitlines() if "spoilt" in line]
    assert "Geminids" in spoilt
    assert "Perseids" not in spoilt  # the Moon is down while the radiant is highest


@pytest.mark.parametrize("year", ["1972", "2050"])
@pytest.mark.parametrize("zone", ["Pacific/Kiritimati", "Pacific/Pago_Pago"])
def test_the_first_and_the_last_year_have_every_shower(year: str, zone: str) -> None:
    longitude = {"Pacific/Kiritimati": "-157.4", "Pacific/Pago_Pago": "-170.7"}[zone]
    place = ("--lat", "0", "--lon", longitude, "--zone", zone)
    assert len(as_json("--year", year, *place)) == len(as_json("--year", "2027"))


@pytest.mark.django_db
def test_a_stored_site_is_found_by_its_name() -> None:
    club = Organisation.objects.create(name="Club")
    Site.objects.create(
        organisation=club, name="Alto", latitude=40.4, longitude=-1.1, elevation_m=1600,
        zone="Europe/Madrid",
    )  # fmt: skip
    assert as_json("--year", "2027", "--site", "Alto") == as_json("--year", "2027", *HERE)


def test_a_zone_that_does_not_fit_is_doubted() -> None:
    assert (
        "Note: Europe/Madrid is kept"
        in printed("--year", "2027", "--lat", "40.4", "--lon", "-1.1", "--zone", "Asia/Tokyo")[1]
    )


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--year", "27"), "--year: “27” is not a year; write it as 2027."),
        (("--year", "next"), "--year: “next” is not a year"),
        (("--year", "2027.5"), "is not a year"),
        (("--year", "１２３４"), "is not a year"),
        (("--year", "1971"), "is outside the years that can be computed"),
        (("--year", "2051"), "is outside the years that can be computed"),
        (("--year", "2027", "--lat", "40"), "Give a position with --lat and --lon"),
        (("--year", "2027", "--zone", "Europe/Madrid"), "Give a position with --lat and --lon"),
        (("--year", "2027", "--lat", "x", "--lon", "1"), "--lat: “x” is not a number"),
        (("--year", "2027", "--lat", "91", "--lon", "1"), "91"),
        (("--year", "2027", "--lat", "4", "--lon", "1", "--zone", "Mars/Base"), "Mars/Base"),
        (("--year", "2027", "--site", "Alto", "--lat", "4"), "Give --site alone"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(arguments: tuple[str, ...], said: str) -> None:
    assert said in refusal(*arguments)


@pytest.mark.django_db
def test_a_site_that_is_not_there_is_refused() -> None:
    assert refusal("--year", "2027", "--site", "Nowhere") == (
        "--site: there is no site called “Nowhere”."
    )
