"""Eclipses against the catalogues of Espenak & Meeus, Meeus' examples, and Skyfield.

B-LE rows: contacts; the catalogues hold all eclipses of 2025 to 2040.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from skyfield.api import load

from sky.constants import AU_KM, WGS84_RADIUS_KM
from sky.eclipses.discs import MOON_MEAN_RADIUS, MOON_RADIUS, SUN_RADIUS_RADIANS
from sky.eclipses.local import LocalEclipse, local_circumstances
from sky.eclipses.lunar import LunarEclipse, lunar_eclipses, seen_from
from sky.eclipses.solar import SolarEclipse, solar_eclipses
from sky.ephemeris import timescale
from sky.place import Place
from tests.against import skyfield_search as referee
from tests.against.published import row, rows
from tests.against.random_places import random_place_years

SCALE = load.timescale(builtin=True)
WITH_CONTACTS = [case for case in rows("eclipses") if case["id"].startswith(("B-LE-2", "B-LE-w"))]
BY_MEEUS = [case for case in rows("eclipses") if case["id"].startswith("B-LE-54")]
GRAZING = date(2027, 7, 18)
PHASES = (("P1", "P4"), ("U1", "U4"), ("U2", "U3"))


def named(case: dict[str, Any]) -> str:
    return str(case["id"])


def lunar_on(written: str) -> LunarEclipse:
    day = date.fromisoformat(written)
    (eclipse,) = lunar_eclipses(day, day)
    return eclipse


def solar_on(written: str) -> SolarEclipse:
    day = date.fromisoformat(written)
    (eclipse,) = solar_eclipses(day, day)
    return eclipse


def seconds_from(instant: datetime, written: str) -> float:
    return abs((instant - datetime.fromisoformat(written + "+00:00")).total_seconds())


def seconds_from_td(instant: datetime, written: str) -> float:
    at = datetime.fromisoformat(written)
    theirs = SCALE.tt(at.year, at.month, at.day, at.hour, at.minute, at.second)
    return abs(float(SCALE.from_datetime(instant).tt - theirs.tt)) * 86_400


def minutes(eclipse: LunarEclipse, begin: str, end: str) -> float | None:
    if begin not in eclipse.contacts:
        return None
    return (eclipse.contacts[end] - eclipse.contacts[begin]) / timedelta(minutes=1)


@pytest.mark.parametrize("case", WITH_CONTACTS, ids=named)
def test_the_moon_meets_the_shadow_when_the_row_says(case: dict[str, Any]) -> None:
    eclipse = lunar_on(case["inputs"]["date"])
    moments = {**eclipse.contacts, "greatest": eclipse.greatest}
    checked = case["expected"]
    for name, written in checked.items():
        assert seconds_from(moments[name], written) <= case["tolerance"], name
    assert eclipse.is_negligible or moments.keys() == checked.keys()


@pytest.mark.parametrize("case", BY_MEEUS, ids=named)
def test_an_eclipse_of_the_moon_is_that_of_the_book(case: dict[str, Any]) -> None:
    eclipse, expected = lunar_on(case["inputs"]["date"]), dict(case["expected"])
    allowed = case["tolerance"]
    off_by = abs(float(SCALE.from_datetime(eclipse.greatest).tt) - expected["jde"]) * 86_400
    assert off_by <= allowed["seconds"]
    assert eclipse.type == expected["type"]
    assert eclipse.gamma == pytest.approx(expected["gamma"], abs=allowed["gamma"])
    magnitude = (
        eclipse.penumbral_magnitude if eclipse.type == "penumbral" else eclipse.umbral_magnitude
    )
    assert magnitude == pytest.approx(expected["magnitude"], abs=allowed["magnitude"])
    assert [minutes(eclipse, *ends) for ends in PHASES] == [
        half and pytest.approx(2 * half, abs=2 * allowed["minutes"])
        for half in expected["half_minutes"]
    ]


def test_the_eclipses_of_the_moon_are_those_of_the_catalogue() -> None:
    case = row("eclipses", "lunar-catalogue")
    allowed = case["tolerance"]
    ours = lunar_eclipses(*(date.fromisoformat(case["inputs"][end]) for end in ("first", "last")))
    assert len(ours) == len(case["expected"])
    for eclipse, printed in zip(ours, case["expected"], strict=True):
        written, kind, gamma, penumbral, umbral, *lasting = printed
        assert seconds_from_td(eclipse.greatest, written) <= allowed["seconds"], written
        assert eclipse.type == kind
        assert eclipse.gamma == pytest.approx(gamma, abs=allowed["gamma"])
        assert eclipse.penumbral_magnitude == pytest.approx(penumbral, abs=allowed["magnitude"])
        if eclipse.greatest.date() == GRAZING:
            continue
        assert eclipse.umbral_magnitude == pytest.approx(umbral, abs=allowed["magnitude"])
        assert [minutes(eclipse, *ends) for ends in PHASES] == [
            length and pytest.approx(length, abs=allowed["minutes"]) for length in lasting
        ], written


def test_the_eclipse_that_nobody_sees_is_negligible_and_alone_in_it() -> None:
    found = lunar_eclipses(date(2025, 1, 1), date(2040, 12, 31))
    assert [one.greatest.date() for one in found if one.is_negligible] == [GRAZING]


def test_the_eclipses_of_the_sun_are_those_of_the_catalogue() -> None:
    case = row("eclipses", "solar-catalogue")
    allowed = case["tolerance"]
    ours = solar_eclipses(*(date.fromisoformat(case["inputs"][end]) for end in ("first", "last")))
    assert len(ours) == len(case["expected"])
    for eclipse, (written, kind, gamma, *_) in zip(ours, case["expected"], strict=True):
        assert seconds_from_td(eclipse.greatest, written) <= allowed["seconds"], written
        assert eclipse.type == kind, written
        assert eclipse.gamma == pytest.approx(gamma, abs=allowed["gamma"]), written


def where_it_is_greatest() -> Iterator[tuple[list[Any], LocalEclipse | None]]:
    for printed in row("eclipses", "solar-catalogue")["expected"]:
        written, *_, latitude, longitude, _ = printed
        place = Place(latitude, longitude)
        yield printed, local_circumstances(solar_on(written[:10]), place)


def test_totality_and_annularity_last_as_long_as_the_catalogue_says() -> None:
    allowed = row("eclipses", "solar-catalogue")["tolerance"]["duration"]
    checked = 0
    for (written, *_, lasting), seen in where_it_is_greatest():
        if lasting is None:
            continue
        assert seen is not None, written
        at = {one.name: one.instant for one in seen.contacts}
        ours = (at["C3"] - at["C2"]).total_seconds()
        assert ours == pytest.approx(lasting, abs=allowed), written
        checked += 1
    assert checked == 22


def test_a_partial_eclipse_covers_as_much_as_the_catalogue_says() -> None:
    allowed = row("eclipses", "solar-catalogue")["tolerance"]["magnitude"]
    for (written, kind, _, magnitude, *_), seen in where_it_is_greatest():
        if kind == "partial":
            assert seen is not None, written
            assert seen.type == "partial"
            assert seen.magnitude == pytest.approx(magnitude, abs=allowed), written


def test_totality_in_spain_lasts_as_long_as_its_institute_says() -> None:
    case = row("eclipses", "solar-totality-spain")
    eclipse = solar_on(case["inputs"]["date"])
    for name, latitude, longitude, lasting in case["expected"]:
        seen = local_circumstances(eclipse, Place(latitude, longitude))
        assert seen is not None
        assert seen.type == "total"
        at = {one.name: one.instant for one in seen.contacts}
        ours = (at["C3"] - at["C2"]).total_seconds()
        assert ours == pytest.approx(lasting, abs=case["tolerance"]), name


def beside_each_other(
    kernel: Any, place: Place, instants: list[datetime]
) -> tuple[Any, Any, Any, Any]:
    """Give Skyfield's angle between Sun and Moon, both radii (mean limb), the Sun's altitude."""
    time = timescale().from_datetimes(instants)
    here = referee.observer(kernel, place).at(time)
    sun, moon = (here.observe(kernel[body]).apparent() for body in ("sun", "moon"))
    away = np.asarray(sun.distance().km), np.asarray(moon.distance().km)
    sun_radius = np.degrees(np.arcsin(np.sin(SUN_RADIUS_RADIANS) * AU_KM / away[0]))
    moon_radius = np.degrees(np.arcsin(MOON_MEAN_RADIUS * WGS84_RADIUS_KM / away[1]))
    altitude = sun.altaz()[0].degrees
    return np.asarray(sun.separation_from(moon).degrees), sun_radius, moon_radius, altitude


@pytest.mark.parametrize("written", ["2026-08-12", "2027-08-02", "2028-01-26", "2028-07-22"])
def test_discs_touch_at_the_contacts_of_random_places_by_skyfield(written: str) -> None:
    """And where ours tells of no eclipse, Skyfield's discs never meet while the Sun is up."""
    eclipse, second = solar_on(written), 1 / 3600
    every = [eclipse.greatest + timedelta(minutes=at) for at in range(-200, 201, 2)]
    with referee.kernel() as kernel:
        for place, _ in random_place_years(12, seed=7):
            seen = local_circumstances(eclipse, place)
            if seen is None:
                apart, sun, moon, altitude = beside_each_other(kernel, place, every)
                assert not ((apart < sun + moon) & (altitude > -0.8)).any()
                continue
            at = {one.name: one.instant for one in seen.contacts}
            apart, sun, moon, _ = beside_each_other(kernel, place, [at["C1"], at["C4"]])
            assert apart == pytest.approx(sun + moon, abs=second)
            if "C2" in at:
                apart, sun, moon, _ = beside_each_other(kernel, place, [at["C2"], at["C3"]])
                inner = np.abs(sun - moon * MOON_RADIUS / MOON_MEAN_RADIUS)
                assert apart == pytest.approx(inner, abs=second)


def test_the_eclipsed_moon_stands_as_high_as_skyfield_has_it() -> None:
    eclipse = lunar_on("2028-12-31")
    with referee.kernel() as kernel:
        for place, _ in random_place_years(12, seed=8):
            contacts = seen_from(eclipse, place)
            time = timescale().from_datetimes([one.instant.astimezone(UTC) for one in contacts])
            seen = referee.observer(kernel, place).at(time).observe(kernel["moon"]).apparent()
            theirs = np.asarray(seen.altaz()[0].degrees)
            for one, geometric in zip(contacts, theirs, strict=True):
                if geometric > 15:  # refraction is within 4′ of nothing
                    assert one.altitude_degrees == pytest.approx(geometric + 0.03, abs=0.04)
                elif geometric < -1:
                    assert not one.is_visible
