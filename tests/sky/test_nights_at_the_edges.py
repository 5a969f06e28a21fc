"""Nights that are odd: clock changes, the date line, skipped dates, polar summers and winters."""

from __future__ import annotations

import itertools
from datetime import UTC, date, datetime, timedelta

import pytest

from sky.errors import SkyError
from sky.night import Night
from sky.nights import compute_season, night_of
from sky.place import Place
from tests.nights import nights_of

MADRID = Place(40.4, -1.1, 1600, "Europe/Madrid")
SVALBARD = Place(78.22, 15.65, 0, "Arctic/Longyearbyen")
TROMSO = Place(69.65, 18.96, 0, "Europe/Oslo")
EDINBURGH = Place(55.9533, -3.1883, 0, "Europe/London")
KIRITIMATI = Place(1.87, -157.43, 3, "Pacific/Kiritimati")
HONOLULU = Place(21.3, -157.86, 5, "Pacific/Honolulu")
APIA = Place(-13.83, -171.77, 2, "Pacific/Apia")


def night(place: Place, day: date) -> Night:
    (found,) = nights_of(place, day, day)
    return found


def test_the_spring_night_is_23_hours_and_the_autumn_night_25() -> None:
    assert night(MADRID, date(2027, 3, 27)).span.hours == 23
    assert night(MADRID, date(2027, 10, 30)).span.hours == 25
    assert night(MADRID, date(2027, 3, 28)).span.hours == 24


def test_a_clock_change_moves_no_event() -> None:
    """In another zone the same sunset has the same instant."""
    same_place = Place(40.4, -1.1, 1600, "UTC")
    for day in (date(2027, 3, 27), date(2027, 3, 28), date(2027, 10, 30)):
        ours, theirs = night(MADRID, day), night(same_place, day)
        assert ours.sunset is not None
        assert ours.sunset == theirs.sunset
        assert ours.sunrise == theirs.sunrise


def test_nights_follow_each_other_without_a_gap() -> None:
    nights = nights_of(MADRID, date(2027, 1, 1), date(2027, 12, 31))
    assert len(nights) == 365
    for tonight, tomorrow in itertools.pairwise(nights):
        assert tonight.span.end == tomorrow.span.start
        assert tomorrow.date - tonight.date == timedelta(days=1)


def test_at_utc_plus_14_the_evening_has_the_date_of_its_own_zone() -> None:
    """On Kiritimati the Sun of 1 March sets about 18:30 local time: 04:30 UTC of 1 March."""
    sunset = night(KIRITIMATI, date(2027, 3, 1)).sunset
    assert sunset is not None
    assert sunset.date() == date(2027, 3, 1)
    assert 4 <= sunset.hour < 5


def test_across_the_date_line_one_evening_has_two_dates() -> None:
    kiritimati = night(KIRITIMATI, date(2027, 3, 2)).sunset
    honolulu = night(HONOLULU, date(2027, 3, 1)).sunset
    assert kiritimati is not None
    assert honolulu is not None
    assert abs(kiritimati - honolulu) < timedelta(hours=1)


def test_a_skipped_date_is_no_night_and_its_neighbours_are() -> None:
    days = [found.date for found in nights_of(APIA, date(2011, 12, 29), date(2011, 12, 31))]
    assert days == [date(2011, 12, 29), date(2011, 12, 31)]


def test_a_skipped_date_is_none_in_the_table() -> None:
    table = compute_season([APIA], date(2011, 12, 29), date(2011, 12, 31))
    assert night_of(table, 0, 1) is None
    assert night_of(table, 0, 0) is not None
    assert table.dark_hours[:, 0, 1].tolist() == [0, 0, 0]


def test_in_the_polar_summer_the_sun_never_sets_and_it_is_never_dark() -> None:
    june = night(TROMSO, date(2027, 6, 21))
    assert june.sunset is None
    assert june.sunrise is None
    assert june.absent["sunset"] == june.absent["sunrise"] == "sun_never_sets"
    assert june.absent["astronomical_dusk"] == "never_that_low"
    assert june.absent["dark"] == june.absent["moonless"] == "never_dark"
    assert june.dark[-12] == ()
    assert june.dark_hours[-12] == 0


def test_in_the_polar_night_the_sun_never_rises_and_it_is_dark_for_hours() -> None:
    december = night(SVALBARD, date(2027, 12, 21))
    assert december.sunset is None
    assert december.absent["sunset"] == "sun_never_rises"
    assert december.absent["civil_dusk"] == "never_that_high"
    assert december.dark_hours[-18] > 12
    assert "dark" not in december.absent


def test_in_the_polar_winter_the_moon_may_never_set_or_never_rise() -> None:
    words = {
        found.absent.get("moonset", "")
        for found in nights_of(SVALBARD, date(2027, 12, 1), date(2027, 12, 31))
    }
    assert {"moon_never_sets", "moon_never_rises"} <= words


def test_a_moon_that_never_sets_leaves_dark_and_nothing_moonless() -> None:
    found = [
        night
        for night in nights_of(SVALBARD, date(2027, 12, 1), date(2027, 12, 31))
        if night.absent.get("moonset") == "moon_never_sets"
    ]
    assert found
    for night in found:
        assert night.dark_hours[-18] > 0
        assert night.moonless_hours[-18] == 0
        assert night.absent["moonless"] == "moon_up_while_dark"


def test_a_june_night_in_scotland_has_sunset_and_no_dark() -> None:
    june = night(EDINBURGH, date(2027, 6, 21))
    assert june.sunset is not None
    assert june.civil_dusk is not None
    assert june.nautical_dusk is None
    assert june.absent["nautical_dusk"] == "never_that_low"
    assert june.absent["dark"] == "never_dark"


@pytest.mark.parametrize(
    ("latitude", "never_18", "never_15"), [(50, 41, 0), (55, 89, 64), (60, 122, 103)]
)
def test_the_nights_of_2027_that_never_get_dark_are_as_many_as_defined(
    latitude: float, never_18: int, never_15: int
) -> None:
    """The project's definitions give these counts for 2027."""
    nights = nights_of(Place(latitude, 0, 0, "UTC"), date(2027, 1, 1), date(2027, 12, 31))
    assert sum(not night.dark[-18] for night in nights) == never_18
    assert sum(not night.dark[-15] for night in nights) == never_15


def test_an_ordinary_night_has_every_event_in_order() -> None:
    march = night(MADRID, date(2027, 3, 1))
    events = [
        march.span.start,
        march.sunset,
        march.civil_dusk,
        march.nautical_dusk,
        march.astronomical_dusk,
        march.astronomical_dawn,
        march.nautical_dawn,
        march.civil_dawn,
        march.sunrise,
        march.span.end,
    ]
    known = [event for event in events if event is not None]
    assert len(known) == 10
    assert known == sorted(known)


def test_the_moon_lights_less_before_new_moon_and_waxes_after() -> None:
    """New Moon of 8 March 2027, 09:29 UTC; full Moon of 22 March."""
    before, after = night(MADRID, date(2027, 3, 6)), night(MADRID, date(2027, 3, 9))
    full = night(MADRID, date(2027, 3, 22))
    assert before.moon_illuminated < 0.05
    assert not before.moon_waxing
    assert after.moon_waxing
    assert full.moon_illuminated > 0.99


@pytest.mark.parametrize("latitude", [90, -90])
def test_at_a_pole_the_sun_sets_once_a_year(latitude: float) -> None:
    nights = nights_of(Place(latitude, 0, 0, "UTC"), date(2027, 1, 1), date(2027, 12, 31))
    assert sum(night.sunset is not None for night in nights) == 1
    assert sum(night.sunrise is not None for night in nights) == 1


def test_a_season_outside_the_kept_years_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        nights_of(MADRID, date(1971, 12, 31), date(1972, 1, 2))
    assert refused.value.code == "season_outside"


@pytest.mark.parametrize("day", [date(1972, 1, 1), date(2050, 12, 31)])
def test_the_first_and_the_last_night_are_not_refused(day: date) -> None:
    found = night(MADRID, day)
    assert found.sunset is not None
    assert found.span.start.astimezone(UTC) <= datetime(
        day.year, day.month, day.day, 13, tzinfo=UTC
    )


def test_a_season_without_a_place_is_refused() -> None:
    with pytest.raises(SkyError) as refused:
        compute_season([], date(2027, 1, 1), date(2027, 1, 2))
    assert refused.value.code == "no_places"


def test_a_place_among_many_is_as_it_is_alone() -> None:
    places = [MADRID, SVALBARD, KIRITIMATI, EDINBURGH]
    first, last = date(2027, 3, 20), date(2027, 4, 2)
    table = compute_season(places, first, last)
    for index, place in enumerate(places):
        together = [night_of(table, index, number) for number in range(table.nights)]
        alone = nights_of(place, first, last)
        assert [n.date for n in together if n] == [n.date for n in alone]
        for ours, theirs in zip(together, alone, strict=True):
            assert ours is not None
            assert ours.dark_hours[-18] == pytest.approx(theirs.dark_hours[-18], abs=1e-6)
            assert ours.absent == theirs.absent
