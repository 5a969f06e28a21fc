"""Showers of meteors: their radiants through the year, rates, and the nights of their peaks.

The figures themselves are held against their calendar in tests/against/test_showers.py.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import numpy as np
import pytest

from sky.directions import directions_at
from sky.errors import SkyError
from sky.place import Place
from sky.shower_nights import ShowerNight, nights_of_peaks
from sky.showers import hourly_rate, peaks, radiant_at, showers

TERUEL = Place(40.4, -1.1, 1600, "Europe/Madrid")
KAROO = Place(-32.4, 20.8, 1700, "Africa/Johannesburg")
SVALBARD = Place(78.2, 15.6, 0, "Arctic/Longyearbyen")


def nights(place: Place, year: int = 2027) -> dict[str, ShowerNight]:
    found = nights_of_peaks(peaks(date(year, 1, 1), date(year, 12, 31)), place)
    return {seen.peak.code: seen for seen in found}


def test_a_radiant_moves_straight_between_the_dates_of_its_drift() -> None:
    half_way = radiant_at(showers()["GEM"], datetime(2027, 12, 12, 12, tzinfo=UTC))
    assert (half_way.ra_degrees, half_way.dec_degrees) == (110.5, 33.0)


def test_a_radiant_stands_still_before_and_after_its_drift() -> None:
    quadrantids = showers()["QUA"]
    before = radiant_at(quadrantids, datetime(2026, 12, 1, tzinfo=UTC))
    after = radiant_at(quadrantids, datetime(2027, 2, 1, tzinfo=UTC))
    assert (before.ra_degrees, after.ra_degrees) == (226, 234)


def test_a_radiant_drifts_over_the_turn_of_the_year() -> None:
    turn = radiant_at(showers()["QUA"], datetime(2027, 1, 2, tzinfo=UTC))
    assert turn.ra_degrees == pytest.approx(226 + 5 * 3 / 6)


def test_a_radiant_asked_for_without_a_zone_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        radiant_at(showers()["GEM"], datetime(2027, 12, 12))  # noqa: DTZ001
    assert refused.value.code == "naive_datetime"


def test_peaks_stand_in_order_and_inside_their_dates() -> None:
    found = peaks(date(2027, 12, 1), date(2027, 12, 20))
    assert [peak.code for peak in found] == ["GEM"]
    every = peaks(date(2026, 7, 1), date(2028, 6, 30))
    assert len(every) == 2 * len(showers())
    assert [peak.instant for peak in every] == sorted(peak.instant for peak in every)


@pytest.mark.parametrize("year", [1972, 2050])
def test_the_first_and_the_last_year_have_all_their_peaks(year: int) -> None:
    assert nights(TERUEL, year).keys() == showers().keys()


@pytest.mark.parametrize("year", [1971, 2051])
def test_peaks_of_other_years_are_refused(year: int) -> None:
    with pytest.raises(SkyError) as refused:
        peaks(date(year, 1, 1), date(year, 12, 31))
    assert refused.value.code == "season_outside"


def test_a_peak_is_told_of_for_a_day_and_no_longer() -> None:
    (geminids,) = peaks(date(2027, 12, 1), date(2027, 12, 20))
    assert geminids.span.end - geminids.span.start == timedelta(hours=24)
    assert geminids.span.start + timedelta(hours=12) == geminids.instant


def test_nobody_sees_meteors_of_a_radiant_below_the_horizon() -> None:
    assert hourly_rate(100, 2.2, np.array([-30.0, -0.1, 0.0])).tolist() == [0, 0, 0]


def test_a_perfect_sky_and_a_radiant_overhead_give_the_zenithal_rate() -> None:
    assert float(hourly_rate(100, 2.2, np.array(90.0))) == 100


def test_a_peak_before_noon_belongs_to_the_night_that_ends() -> None:
    seen = nights(TERUEL)
    assert f"{seen['PER'].peak.instant:%d %H}" == "13 08"
    assert seen["PER"].night == date(2027, 8, 12)
    assert f"{seen['ETA'].peak.instant:%d %H}" == "06 15"
    assert seen["ETA"].night == date(2027, 5, 6)


@pytest.mark.parametrize("place", [TERUEL, KAROO, SVALBARD])
def test_the_best_moment_is_dark_and_the_radiant_nowhere_higher_in_it(place: Place) -> None:
    for seen in nights(place).values():
        if seen.best is None:
            continue
        assert seen.dark_level is not None
        sun = directions_at("sun", place, np.array([seen.best.timestamp()]))
        assert sun.altitude_geometric_degrees[0] < seen.dark_level
        assert seen.radiant_altitude_degrees is not None
        assert seen.radiant_altitude_degrees > 0
        assert seen.rate == pytest.approx(
            float(hourly_rate(seen.peak.zhr, 2.0, np.array(seen.radiant_altitude_degrees)))
        )


def test_a_northern_radiant_is_not_seen_from_the_south_and_a_southern_one_is() -> None:
    seen = nights(KAROO)
    assert seen["PER"].rate is None
    assert seen["URS"].rate is None
    north, south = nights(TERUEL)["ETA"].rate, seen["ETA"].rate
    assert north is not None
    assert south is not None
    assert south > 2 * north


def test_where_it_does_not_get_dark_no_moment_is_best() -> None:
    seen = nights(SVALBARD)
    assert seen["PER"].dark_level is None
    assert seen["PER"].rate is None
    assert seen["GEM"].rate is not None


def test_the_deepest_dark_that_a_night_reaches_is_used() -> None:
    # At 54° N a night of late July reaches −15° and no more.
    seen = nights(Place(54.0, 10.0, 0, "Europe/Berlin"))["SDA"]
    assert seen.dark_level == -15
    assert nights(TERUEL)["SDA"].dark_level == -18


def test_a_bright_moon_spoils_a_peak_only_while_it_is_up() -> None:
    seen = nights(TERUEL)
    assert seen["GEM"].peak.has_bright_moon
    assert seen["GEM"].is_spoilt
    perseids = seen["PER"]
    assert perseids.peak.has_bright_moon
    assert perseids.moon_altitude_degrees is not None
    assert perseids.moon_altitude_degrees < 0
    assert not perseids.is_spoilt


def test_a_dark_moon_spoils_nothing() -> None:
    seen = nights(TERUEL)["ETA"]
    assert not seen.peak.has_bright_moon
    assert not seen.is_spoilt
