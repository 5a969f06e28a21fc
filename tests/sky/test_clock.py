"""Civil time: noons, clock changes, the date line, dates that a zone skipped."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from importlib.metadata import version

import numpy as np
import pytest

from sky.clock import (
    check_season,
    local_noons,
    night_exists,
    zone_data_version,
    zone_names,
    zone_of,
)
from sky.errors import SkyError


def lengths(zone: str, first: date, last: date) -> list[float]:
    return [float(hours) for hours in np.diff(local_noons(zone, first, last)) / 3600]


def test_a_night_lasts_24_hours_where_no_clock_changes() -> None:
    assert lengths("Europe/Madrid", date(2027, 3, 1), date(2027, 3, 3)) == [24, 24, 24]


def test_the_night_in_which_clocks_go_forward_lasts_23_hours() -> None:
    """Madrid, 28 March 2027: the night named by the evening of the 27th."""
    assert lengths("Europe/Madrid", date(2027, 3, 26), date(2027, 3, 28)) == [24, 23, 24]


def test_the_night_in_which_clocks_go_back_lasts_25_hours() -> None:
    """Madrid, 31 October 2027: the night named by the evening of the 30th."""
    assert lengths("Europe/Madrid", date(2027, 10, 29), date(2027, 10, 31)) == [24, 25, 24]


def test_a_clock_that_changes_by_half_an_hour_changes_the_night_by_half_an_hour() -> None:
    """Lord Howe Island, 4 April 2027: 30 minutes back."""
    assert lengths("Australia/Lord_Howe", date(2027, 4, 3), date(2027, 4, 3)) == [24.5]


def test_noon_is_that_of_the_zone_at_utc_plus_14() -> None:
    """On Kiritimati noon of 1 March is 22:00 UTC of 28 February."""
    noon = local_noons("Pacific/Kiritimati", date(2027, 3, 1), date(2027, 3, 1))[0]
    assert datetime.fromtimestamp(noon, UTC) == datetime(2027, 2, 28, 22, tzinfo=UTC)


def test_two_sides_of_the_date_line_begin_the_same_date_a_day_apart() -> None:
    day = date(2027, 3, 1)
    west = local_noons("Pacific/Kiritimati", day, day)[0]
    east = local_noons("Pacific/Honolulu", day, day)[0]
    assert east - west == 24 * 3600


def test_a_date_that_the_zone_skipped_is_no_night() -> None:
    """Apia went from 29 to 31 December 2011."""
    noons = local_noons("Pacific/Apia", date(2011, 12, 28), date(2012, 1, 1))
    assert list(night_exists(noons)) == [True, True, False, True, True]


def test_the_nights_around_a_skipped_date_lose_no_time() -> None:
    hours = lengths("Pacific/Apia", date(2011, 12, 28), date(2012, 1, 1))
    assert hours == [24, 24, 0, 24, 24]


def test_the_noons_of_a_season_cannot_be_changed_by_a_caller() -> None:
    noons = local_noons("Europe/Madrid", date(2027, 3, 1), date(2027, 3, 1))
    with pytest.raises(ValueError, match="read-only"):
        noons[0] = 0


def test_an_unknown_zone_is_refused_and_a_known_one_is_not() -> None:
    assert zone_of("Atlantic/Canary").key == "Atlantic/Canary"
    with pytest.raises(SkyError) as refused:
        zone_of("Atlantic/Atlantis")
    assert refused.value.code == "zone_unknown"
    assert refused.value.fields == {"zone": "Atlantic/Atlantis"}


def test_zones_come_from_the_package_whose_version_is_told() -> None:
    assert "Pacific/Kiritimati" in zone_names()
    assert zone_data_version() == version("tzdata")


@pytest.mark.parametrize(
    ("first", "last"),
    [(date(1972, 1, 1), date(1972, 1, 1)), (date(2050, 1, 1), date(2050, 12, 31))],
)
def test_a_season_from_1972_to_2050_is_not_refused(first: date, last: date) -> None:
    check_season(first, last)


@pytest.mark.parametrize(
    ("first", "last", "outside"),
    [
        (date(1971, 12, 31), date(1972, 1, 1), date(1971, 12, 31)),
        (date(2050, 12, 31), date(2051, 1, 1), date(2051, 1, 1)),
    ],
)
def test_a_season_outside_1972_to_2050_is_refused(first: date, last: date, outside: date) -> None:
    with pytest.raises(SkyError) as refused:
        check_season(first, last)
    assert refused.value.code == "season_outside"
    assert refused.value.fields["date"] == outside


def test_a_reversed_season_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        check_season(date(2027, 3, 2), date(2027, 3, 2) - timedelta(days=1))
    assert refused.value.code == "season_reversed"
