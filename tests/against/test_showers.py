"""Showers of meteors against the calendar they come from, and the Sun's longitude by Skyfield.

F rows: Rendtel J. (ed.), IMO Meteor Shower Calendar 2025. F-HR: Koschack & Rendtel 1990.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from skyfield.framelib import ecliptic_J2000_frame

from sky.ephemeris import timescale
from sky.showers import hourly_rate, peaks, radiant_at, showers
from sky.solar_longitude import instants_of
from tests.against import skyfield_search as referee
from tests.against.published import row, rows

IN_TABLE = [case for case in rows("showers") if "code" in case["inputs"]]


def of_each_shower(test: Any) -> Any:
    return pytest.mark.parametrize("case", IN_TABLE, ids=lambda case: str(case["id"]))(test)


def minutes_off(instant: datetime, written: str) -> float:
    return abs((instant - datetime.fromisoformat(written + "+00:00")) / timedelta(minutes=1))


def peak_at(longitude: float, year: int) -> datetime:
    return datetime.fromtimestamp(instants_of([longitude], year)[0], UTC)


def test_there_are_as_many_showers_as_rows() -> None:
    assert [case["inputs"]["code"] for case in IN_TABLE] == list(showers())


@of_each_shower
def test_a_shower_has_the_figures_of_its_row(case: dict[str, Any]) -> None:
    shower, expected = showers()[case["inputs"]["code"]], case["expected"]
    assert [f"{month:02}-{day:02}" for month, day in shower.active] == expected["active"]
    assert shower.solar_longitude == expected["solar_longitude"]
    assert shower.radiant.ra_degrees == expected["ra"]
    assert shower.radiant.dec_degrees == expected["dec"]
    assert shower.speed_km_s == expected["speed"]
    assert shower.population_index == expected["population_index"]
    assert shower.zhr == expected["zhr"]


@of_each_shower
def test_a_peak_falls_on_the_printed_date(case: dict[str, Any]) -> None:
    found = {peak.code: peak.instant for peak in peaks(date(2025, 1, 1), date(2025, 12, 31))}
    assert f"{found[case['inputs']['code']]:%m-%d}" == case["expected"]["maximum_2025"]


@of_each_shower
def test_a_radiant_drifts_through_the_places_of_its_row(case: dict[str, Any]) -> None:
    shower, expected = showers()[case["inputs"]["code"]], case["expected"]
    for written, ra, dec in expected["drift"]:
        at = radiant_at(shower, datetime.fromisoformat(f"2025-{written}T00:00:00+00:00"))
        assert (at.ra_degrees, at.dec_degrees) == pytest.approx((ra, dec))
    if not expected["drift"]:
        somewhen = datetime(2025, 7, 1, tzinfo=UTC)
        assert radiant_at(shower, somewhen) == shower.radiant


@of_each_shower
def test_the_radiant_of_the_peak_lies_on_its_own_drift(case: dict[str, Any]) -> None:
    """Table 5 and table 6 are rounded to a degree each, so that they differ by one or two."""
    shower = showers()[case["inputs"]["code"]]
    drifted = radiant_at(shower, peak_at(shower.solar_longitude, 2025))
    assert drifted.ra_degrees == pytest.approx(shower.radiant.ra_degrees, abs=2)
    assert drifted.dec_degrees == pytest.approx(shower.radiant.dec_degrees, abs=2)


def test_peaks_are_when_the_calendar_prints_them() -> None:
    for longitude, written, allowed in row("showers", "F-time")["expected"]:
        assert minutes_off(peak_at(longitude, 2025), written) <= allowed, longitude


def test_longitudes_are_reached_when_they_were_recomputed() -> None:
    case = row("showers", "F-time-recomputed")
    for longitude, written in case["expected"]:
        assert minutes_off(peak_at(longitude, 2025), written) <= case["tolerance"], longitude


@pytest.mark.parametrize("year", [1972, 1999, 2027, 2050])
def test_at_a_peak_the_sun_has_its_geometric_longitude_by_skyfield(year: int) -> None:
    found = peaks(date(year, 1, 1), date(year, 12, 31))
    assert len(found) == len(showers())
    with referee.kernel() as kernel:
        for peak in found:
            seen = kernel["earth"].at(timescale().from_datetime(peak.instant))
            _, longitude, _ = seen.observe(kernel["sun"]).frame_latlon(ecliptic_J2000_frame)
            # The Sun moves 0.0007° in a minute.
            assert longitude.degrees == pytest.approx(peak.solar_longitude, abs=0.0001)


def test_a_rate_is_that_of_the_definition() -> None:
    case = row("showers", "F-HR")
    ours = [
        float(hourly_rate(zhr, r, np.array(altitude), limiting_magnitude=limit, obstruction=cover))
        for zhr, altitude, r, limit, cover in case["inputs"]["cases"]
    ]
    assert ours == pytest.approx(case["expected"], abs=case["tolerance"])
