"""`manage.py brightness`: what it prints, and what it refuses in one sentence."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from tests.trips.commands import CommandLine
from trips.models import Organisation, Site

HERE = ("--lat", "40.4", "--lon", "-1.1", "--elevation", "1600", "--zone", "Europe/Madrid")
SOUTH = ("--altitude", "45", "--azimuth", "180")
UP = ("--altitude", "90", "--azimuth", "0")
# A Moon of 97 % is up; it sets before the second, and at the third the Sun is 8° below.
MOONLIT, MOONLESS, DUSK = "2027-03-20T23:30", "2027-03-08T23:30", "2027-03-08T19:42"
COMMAND = CommandLine("brightness")
printed = COMMAND.printed
as_json = COMMAND.as_json
refusal = COMMAND.refusal


def only(at: str, *arguments: str) -> dict[str, Any]:
    (record,) = as_json("--at", at, *arguments)
    return record


def test_a_record_has_the_direction_its_light_and_what_the_moon_takes() -> None:
    record = only(MOONLIT, *SOUTH, "--natural", "22.0", *HERE)
    assert list(record) == [
        "at", "altitude", "azimuth", "moonlight_nl", "sky_mag", "natural_nl", "glow_nl",
        "twilight_nl", "loss_mag", "naked_eye_limit",
    ]  # fmt: skip
    assert record["at"] == "2027-03-20T23:30:00+01:00"
    assert record["moonlight_nl"] > 1000
    assert record["glow_nl"] == 0
    assert 17 < record["sky_mag"] < 18
    assert record["loss_mag"] > 2.5


def test_without_moon_and_twilight_the_zenith_is_the_natural_sky() -> None:
    record = only(MOONLESS, *UP, "--natural", "21.4", *HERE)
    assert record["moonlight_nl"] == 0
    assert record["sky_mag"] == pytest.approx(21.4, abs=0.01)
    assert record["loss_mag"] == pytest.approx(0, abs=0.01)
    assert record["naked_eye_limit"] == pytest.approx(6.33, abs=0.02)


def test_at_dusk_there_is_twilight_and_later_there_is_not() -> None:
    assert only(DUSK, *SOUTH, *HERE)["twilight_nl"] > 1000
    assert only(MOONLESS, *SOUTH, *HERE)["twilight_nl"] < 1


def test_a_moment_is_on_the_clock_of_the_place_or_has_its_own_offset() -> None:
    local = only(MOONLIT, *SOUTH, *HERE)
    assert only("2027-03-20T22:30Z", *SOUTH, *HERE) == local
    assert only("2027-03-21T00:30+02:00", *SOUTH, *HERE) == local
    assert only("2027-03-20T22:30", *SOUTH, *HERE) != local


def test_the_extinction_asked_for_changes_the_moonlight() -> None:
    assert (
        only(MOONLIT, *SOUTH, "--extinction", "0.3", *HERE)["moonlight_nl"]
        > only(MOONLIT, *SOUTH, "--extinction", "0.12", *HERE)["moonlight_nl"]
    )


def test_a_table_and_csv_have_one_line() -> None:
    asked = ("--at", MOONLIT, *SOUTH, *HERE)
    table, _ = printed(*asked)
    assert len(table.splitlines()) == 2
    assert "sky_mag" in table
    (line,) = csv.DictReader(io.StringIO(printed(*asked, "--format", "csv")[0]))
    assert float(line["sky_mag"]) == only(MOONLIT, *SOUTH, *HERE)["sky_mag"]


@pytest.mark.django_db
def test_a_stored_site_has_the_sky_that_was_measured_there() -> None:
    Site.objects.create(
        organisation=Organisation.objects.create(name="Club"), name="Alto", latitude=40.4,
        longitude=-1.1, elevation_m=1600, zone="Europe/Madrid", sky_brightness=20.5,
        sky_by_azimuth=[[90, 19.0], [270, 20.2]], extinction=0.3,
    )  # fmt: skip
    overhead = only(MOONLESS, *UP, "--site", "Alto")
    assert overhead["sky_mag"] == pytest.approx(20.5, abs=0.01)
    assert overhead["glow_nl"] > 100
    toward_town = only(MOONLESS, "--altitude", "30", "--azimuth", "90", "--site", "Alto")
    assert toward_town["sky_mag"] == pytest.approx(19.0, abs=0.01)


@pytest.mark.django_db
@pytest.mark.parametrize("measured", [None, 21.5])
def test_an_estimate_from_towns_is_called_so_and_a_measurement_is_not(
    measured: float | None,
) -> None:
    Site.objects.create(
        organisation=Organisation.objects.create(name="Club"), name="Alto", latitude=40.4,
        longitude=-1.1, elevation_m=1600, zone="Europe/Madrid", sky_brightness=measured,
    )  # fmt: skip
    _, said = printed("--at", MOONLESS, *UP, "--site", "Alto")
    assert ("nobody has measured the sky of Alto" in said) == (measured is None)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--natural", "9.9"), "A sky of 9.9 mag/arcsec² is outside 10 to 23"),
        (("--natural", "nan"), "A sky of nan mag/arcsec² is outside"),
        (("--natural", "dark"), "--natural: “dark” is not a number"),
        (("--extinction=-0.1",), "The extinction −0.1 is outside 0 to 1 mag per airmass"),
        (("--extinction", "1.5"), "The extinction 1.5 is outside"),
        (("--altitude=-1",), "The altitude −1 is outside 0 to 90 degrees."),
        (("--altitude", "91"), "The altitude 91 is outside"),
        (("--azimuth", "361"), "The azimuth 361 is outside 0 to 360 degrees."),
        (("--azimuth", "south"), "--azimuth: “south” is not a number"),
        (("--at", "2027-03-20"), "--at: “2027-03-20” is not a moment"),
        (("--at", "tonight at nine"), "--at: “tonight at nine” is not a moment"),
        (("--at", "2027-03-20T14:00"), "The Sun is up, at 48.0°"),
        (("--at", "1960-03-20T23:00"), "1960-03-20 is outside the years"),
        (("--site", "Alto"), "Give --site alone"),
        (("--lat", "95"), "Latitude 95 is outside"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(arguments: tuple[str, ...], said: str) -> None:
    assert said in refusal("--at", MOONLIT, *SOUTH, *HERE, *arguments)


def test_toward_the_moon_itself_it_says_so_and_beside_it_not() -> None:
    """It stands 54.70° high toward 168.89° then (the engine's own directions)."""
    said = refusal("--at", MOONLIT, "--altitude", "54.7", "--azimuth", "168.9", *HERE)
    assert "The Moon itself stands there, 0.01° away" in said
    assert only(MOONLIT, "--altitude", "55.3", "--azimuth", "168.9", *HERE)["sky_mag"] < 16
