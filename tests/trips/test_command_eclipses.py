"""`manage.py eclipses`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from tests.trips.commands import CommandLine
from trips.models import Organisation, Site

TERUEL = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
TARIFA = ("--lat", "36.01", "--lon", "-5.61", "--zone", "Europe/Madrid")
KAROO = ("--lat", "-32.4", "--lon", "20.8", "--zone", "Africa/Johannesburg")
POLAR = ("--lat", "78.2", "--lon", "15.6", "--zone", "Arctic/Longyearbyen")
YEARS = ("--start", "2026-01-01", "--end", "2028-12-31")
TOTAL_MOON = ("--start", "2028-12-31", "--end", "2028-12-31")
TOTAL_SUN = ("--start", "2027-08-02", "--end", "2027-08-02")
KEYS = ["kind", "type", "greatest", "contacts", "visible"]
COMMAND = CommandLine("eclipses")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def only(*arguments: str) -> dict[str, Any]:
    (record,) = as_json(*arguments)
    return record


def test_a_record_has_these_keys_and_the_magnitude_after_them() -> None:
    for record in as_json(*YEARS, *TERUEL):
        assert list(record) == [*KEYS, "magnitude"]


def test_a_table_has_the_columns_and_a_line_for_each_eclipse() -> None:
    table, _ = printed(*YEARS)
    assert table.splitlines()[0].split() == KEYS
    assert len(table.splitlines()) == 1 + len(as_json(*YEARS))


def test_csv_has_a_column_for_each_contact() -> None:
    (line,) = csv.DictReader(io.StringIO(printed(*TOTAL_MOON, "--format", "csv")[0]))
    assert list(line)[3:9] == ["P1", "U1", "U2", "U3", "U4", "P4"]
    assert {key: line[key] for key in list(line)[3:9]} == only(*TOTAL_MOON)["contacts"]
    assert line["C1"] == ""


def test_moon_and_sun_are_told_together_in_the_order_of_their_greatest() -> None:
    records = as_json(*YEARS)
    assert {record["kind"] for record in records} == {"lunar", "solar"}
    greatest = [record["greatest"] for record in records]
    assert greatest == sorted(greatest)
    assert all(instant.endswith("+00:00") for instant in greatest)


def test_contacts_of_the_moon_are_those_that_happen() -> None:
    total = only(*TOTAL_MOON)
    assert list(total["contacts"]) == ["P1", "U1", "U2", "U3", "U4", "P4"]
    assert all(total["contacts"].values())
    partial = only("--start", "2028-07-06", "--end", "2028-07-06")
    assert partial["type"] == "partial"
    assert partial["contacts"]["U1"]
    assert partial["contacts"]["U2"] is None


def test_contacts_of_the_sun_need_a_place() -> None:
    nowhere, there = only(*TOTAL_SUN), only(*TOTAL_SUN, *TARIFA)
    assert not any(nowhere["contacts"].values())
    assert nowhere["magnitude"] is None
    assert list(there["contacts"]) == ["C1", "C2", "C3", "C4"]
    assert all(there["contacts"].values())
    assert there["magnitude"] > 1


def test_beside_the_path_there_is_no_totality() -> None:
    beside = only(*TOTAL_SUN, *TERUEL)
    assert beside["contacts"]["C1"]
    assert beside["contacts"]["C2"] is None
    assert 0.8 < beside["magnitude"] < 0.95


def test_visible_is_what_stands_above_the_horizon_and_unknown_without_a_place() -> None:
    assert only(*TOTAL_MOON)["visible"] is None
    assert only(*TOTAL_MOON, *TERUEL)["visible"] == ["greatest", "U3", "U4", "P4"]
    assert only(*TOTAL_MOON, *KAROO)["visible"] == ["U4", "P4"]
    assert len(only(*TOTAL_MOON, *POLAR)["visible"]) == 7
    assert only("--start", "2028-07-22", "--end", "2028-07-22", *TERUEL)["visible"] == []


def test_the_caution_of_the_eyes_stands_by_an_eclipse_of_the_sun_that_may_be_seen() -> None:
    never = "Never look at the Sun without a certified solar filter (ISO 12312-2)"
    assert never in printed(*TOTAL_SUN, *TARIFA)[1]
    assert never in printed(*TOTAL_SUN)[1]
    assert never not in printed(*TOTAL_MOON)[1]
    assert never not in printed("--start", "2028-07-22", "--end", "2028-07-22", *TERUEL)[1]


def test_an_eclipse_that_nobody_sees_is_told_with_a_note() -> None:
    told, notes = printed("--start", "2027-07-18", "--end", "2027-07-18")
    assert "penumbral" in told
    assert "nobody can see the eclipse of 2027-07-18" in notes
    assert "nobody" not in printed("--start", "2027-02-20", "--end", "2027-02-20")[1]


@pytest.mark.parametrize(
    ("form", "printed_text"),
    [("json", "[]\n"), ("csv", "kind,type,greatest,contacts,visible\n"), ("table", None)],
)
def test_dates_without_an_eclipse_say_so(form: str, printed_text: str | None) -> None:
    out, err = printed("--start", "2028-11-01", "--end", "2028-11-30", "--format", form)
    assert "Note: no eclipse falls on these dates." in err
    assert out.split() == KEYS if printed_text is None else out == printed_text


@pytest.mark.parametrize("year", ["1972", "2050"])
def test_the_first_and_the_last_year_have_their_eclipses(year: str) -> None:
    for place in (TERUEL, KAROO, POLAR):
        records = as_json("--start", f"{year}-01-01", "--end", f"{year}-12-31", *place)
        assert len([record for record in records if record["kind"] == "solar"]) >= 2


@pytest.mark.django_db
def test_a_stored_site_is_found_by_its_name() -> None:
    club = Organisation.objects.create(name="Club")
    Site.objects.create(
        organisation=club, name="Alto", latitude=40.4, longitude=-1.1, elevation_m=1600,
        zone="Europe/Madrid",
    )  # fmt: skip
    assert as_json(*YEARS, "--site", "Alto") == as_json(*YEARS, *TERUEL)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--start", "2028-12-31", "--end", "2027-12-31"), "is before the first, 2028-12-31."),
        (("--start", "31.12.2028", "--end", "2028-12-31"), "--start: “31.12.2028” is not a date"),
        (("--start", "2028-12-31", "--end", "2028-13-01"), "--end: “2028-13-01” is not a date"),
        (("--start", "1971-12-31", "--end", "1972-12-31"), "1971-12-31 is outside the years"),
        (("--start", "2050-12-31", "--end", "2051-01-01"), "2051-01-01 is outside the years"),
        ((*TOTAL_MOON, "--lon", "4"), "Give a position with --lat and --lon"),
        ((*TOTAL_MOON, "--lat", "north", "--lon", "4"), "--lat: “north” is not a number"),
        ((*TOTAL_MOON, "--lat", "nan", "--lon", "4"), "nan"),
        ((*TOTAL_MOON, "--site", "Alto", "--zone", "UTC"), "Give --site alone"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(arguments: tuple[str, ...], said: str) -> None:
    assert said in refusal(*arguments)
