"""The compass: which model holds when, and where a needle is not to be trusted."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from sky.compass import FIRST_DAY, LAST_DAY, declination_at
from sky.errors import SkyError
from sky.place import Place

MEADOW = Place(40.4, -1.1, 1600)
ONE_DAY = timedelta(days=1)


@pytest.mark.parametrize(
    ("day", "model"),
    [
        (date(2010, 1, 1), "WMM2010"),
        (date(2014, 12, 31), "WMM2010"),
        (date(2015, 1, 1), "WMM2015v2"),
        (date(2024, 12, 31), "WMM2020"),
        (date(2025, 1, 1), "WMM2025"),
        (date(2029, 12, 31), "WMM2025"),
    ],
)
def test_each_day_has_the_model_made_for_it(day: date, model: str) -> None:
    found = declination_at(MEADOW, day)
    assert found.model == model
    assert found.first_day <= day <= found.last_day


def test_past_the_last_model_the_sky_says_until_when_it_held() -> None:
    with pytest.raises(SkyError) as refused:
        declination_at(MEADOW, LAST_DAY + ONE_DAY)
    assert refused.value.code == "magnetic_model_expired"
    assert refused.value.fields["model"] == "WMM2025"
    assert refused.value.fields["last_day"] == date(2029, 12, 31)


def test_before_the_first_model_it_says_from_when_there_is_one() -> None:
    with pytest.raises(SkyError) as refused:
        declination_at(MEADOW, FIRST_DAY - ONE_DAY)
    assert refused.value.code == "magnetic_model_missing"
    assert refused.value.fields["first_day"] == date(2010, 1, 1)


def test_at_the_magnetic_pole_a_needle_is_worth_nothing() -> None:
    assert declination_at(Place(86, 140), date(2027, 3, 1)).trust == "blackout"


def test_around_the_magnetic_pole_a_needle_is_slow() -> None:
    assert declination_at(Place(80, -80), date(2027, 3, 1)).trust == "caution"


def test_elsewhere_a_needle_is_as_good_as_ever() -> None:
    assert declination_at(MEADOW, date(2027, 3, 1)).trust == "usual"


def test_a_needle_is_less_sure_where_the_field_pulls_less() -> None:
    sure = declination_at(Place(0, 120), date(2027, 3, 1)).uncertainty_degrees
    unsure = declination_at(Place(80, -80), date(2027, 3, 1)).uncertainty_degrees
    assert sure is not None
    assert unsure is not None
    assert sure < 0.5 < unsure


def test_the_oldest_model_states_no_uncertainty() -> None:
    assert declination_at(MEADOW, date(2012, 1, 1)).uncertainty_degrees is None


def test_two_days_across_new_year_agree_but_for_the_change_of_models() -> None:
    before, after = (declination_at(MEADOW, date(2024, 12, 31) + ONE_DAY * n) for n in (0, 1))
    assert after.degrees == pytest.approx(before.degrees, abs=0.3)
