"""Showers, eclipses and close pairs in the words that a night is told in."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from django.utils import translation

from sky.close_pairs import close_approaches
from sky.place import Place
from trips.almanac.events import events_between, night_events
from trips.almanac.happenings import Event
from trips.almanac.sky_events import sky_happenings
from trips.models import Site

TERUEL = Site(latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
TARIFA = Site(latitude=36.01, longitude=-5.61, elevation_m=20, zone="Europe/Madrid")
KAROO = Site(latitude=-32.4, longitude=20.8, elevation_m=1700, zone="Africa/Johannesburg")
SVALBARD = Site(latitude=78.2, longitude=15.6, elevation_m=0, zone="Arctic/Longyearbyen")
HERE = Place(40.4, -1.1, 1600, "Europe/Madrid")
YEAR = date(2027, 1, 1), date(2027, 12, 31)
TOTAL_SUN, VENUS_AND_MARS = date(2027, 8, 2), date(2027, 11, 24)


def told(site: Site, night: date, code: str) -> Event | None:
    found = [event for event in night_events(site, night) if event.code == code]
    assert len(found) <= 1
    return found[0] if found else None


def some(site: Site, night: date, code: str) -> Event:
    event = told(site, night, code)
    assert event is not None
    return event


def in_a_calendar(site_place: Place | None, night: date) -> tuple[str, ...]:
    return events_between(*YEAR, "Europe/Madrid", place=site_place).get(night, ())


def test_a_peak_is_told_on_the_night_nearest_to_it_with_its_own_date() -> None:
    perseids = some(TERUEL, date(2027, 8, 12), "shower")
    assert perseids.words == "peak of the Perseids 10:11 on 13 August"
    assert told(TERUEL, date(2027, 8, 13), "shower") is None
    assert perseids.caution == ""


def test_a_peak_says_when_the_radiant_is_highest_and_how_many_meteors_then() -> None:
    best, _years_differ = some(TERUEL, date(2027, 8, 12), "shower").details
    assert "the radiant stands highest at 05:" in best
    assert "north-north-east" in best or "north-east" in best
    assert "about 87 meteors an hour" in best


def test_a_spoilt_peak_says_so_and_another_does_not() -> None:
    geminids = some(TERUEL, date(2027, 12, 14), "shower")
    assert geminids.words.endswith(", spoilt by the Moon")
    assert any(line.startswith("Spoilt by the Moon, 98 % lit") for line in geminids.details)
    assert "spoilt" not in some(TERUEL, date(2027, 5, 6), "shower").words


def test_where_a_radiant_stays_down_or_no_dark_comes_it_is_said() -> None:
    down = some(KAROO, date(2027, 8, 12), "shower").details[0]
    assert down == "The radiant stays below the horizon while it is dark."
    light = some(SVALBARD, date(2027, 8, 12), "shower").details[0]
    assert light == "It does not get dark in this night."


def test_a_shower_by_day_is_not_told_of() -> None:
    assert told(TERUEL, date(2027, 6, 7), "shower") is None
    assert told(TERUEL, date(2027, 6, 8), "shower") is None


def test_an_eclipse_of_the_moon_has_its_moments_and_where_to_look() -> None:
    event = some(TERUEL, date(2028, 12, 31), "lunar_eclipse")
    assert event.words == "total eclipse of the Moon 16:08–19:37"
    assert [moment.words for moment in event.moments] == [
        "the penumbra reaches the Moon",
        "the umbra reaches the Moon",
        "totality begins",
        "greatest eclipse",
        "totality ends",
        "the umbra leaves the Moon",
        "the penumbra leaves the Moon",
    ]
    assert event.moments[2].where == "below the horizon"
    assert event.moments[4].where == "7° high, east-north-east, 66°"
    assert event.details[-1].startswith("Heights are above a level horizon")
    assert event.caution == ""


def test_an_eclipse_high_in_the_sky_says_nothing_of_hills() -> None:
    assert len(some(TERUEL, date(2027, 2, 20), "lunar_eclipse").details) == 1


def test_an_eclipse_after_midnight_has_its_own_date() -> None:
    event = some(TERUEL, date(2028, 1, 11), "lunar_eclipse")
    assert event.words == "partial eclipse of the Moon 04:45–05:41 on 12 January"
    assert event.details[0] == "At most 6 % of the Moon's diameter lies in the umbra."
    assert any("leaves the eclipse out" in sentence for sentence in event.details)


@pytest.mark.parametrize(
    ("site", "night"),
    [
        (TERUEL, date(2028, 7, 6)),  # the umbra has left the Moon before it rises
        (TERUEL, date(2027, 7, 18)),  # too slight for anybody
        (KAROO, date(2028, 1, 11)),  # below the horizon
    ],
)
def test_an_eclipse_of_the_moon_that_is_not_seen_is_not_told_of(site: Site, night: date) -> None:
    assert told(site, night, "lunar_eclipse") is None


def test_an_eclipse_of_the_sun_is_told_by_day_on_its_date() -> None:
    event = some(TARIFA, TOTAL_SUN, "solar_eclipse")
    assert event.words == "by day, total eclipse of the Sun 09:41–12:01"
    assert "Wholly covered for about 4 min 3" in " ".join(event.details)
    assert [moment.words for moment in event.moments][1::2] == ["totality begins", "totality ends"]
    assert told(TARIFA, date(2027, 8, 1), "solar_eclipse") is None


def test_beside_the_path_it_is_partial_and_says_how_much() -> None:
    event = some(TERUEL, TOTAL_SUN, "solar_eclipse")
    assert event.words.endswith("at most 87 % of its diameter")
    assert "Wholly covered" not in " ".join(event.details)


def test_an_eclipse_of_the_sun_always_has_the_caution_of_the_eyes() -> None:
    total, partial = (some(site, TOTAL_SUN, "solar_eclipse").caution for site in (TARIFA, TERUEL))
    for caution in (total, partial):
        assert "Never look at the Sun without a certified solar filter" in caution
    assert "the filter goes back on before totality ends" in total
    assert "the filter stays on throughout" in partial
    assert "goes back on" not in partial


def test_an_annular_eclipse_is_never_looked_at_without_a_filter() -> None:
    valencia = Site(latitude=39.47, longitude=-0.38, elevation_m=10, zone="Europe/Madrid")
    event = some(valencia, date(2028, 1, 26), "solar_eclipse")
    assert event.words.startswith("by day, annular eclipse of the Sun")
    assert "the filter stays on throughout" in event.caution
    assert any(line.startswith("The ring stands for about") for line in event.details)


def test_an_eclipse_of_the_sun_elsewhere_is_not_told_of() -> None:
    assert told(KAROO, TOTAL_SUN, "solar_eclipse") is None
    assert told(TERUEL, date(2028, 7, 22), "solar_eclipse") is None


def test_a_close_pair_says_how_near_and_where_to_look() -> None:
    event = next(event for event in night_events(TERUEL, VENUS_AND_MARS) if event.code == "pair")
    assert event.words == "Venus 0.3° from Mars 18:30"
    where, from_centre = event.details
    assert where.startswith("Nearest in the dark and twilight at 18:30: Venus ")
    assert "south-west" in where
    assert "Seen from the Earth's centre" in from_centre


def test_a_pair_that_is_wide_while_it_is_up_is_not_told_of() -> None:
    # 4.9° from the Earth's centre in the evening, 7° when Jupiter has risen over Spain.
    night = date(2027, 11, 22)
    approaches = close_approaches(night, night)
    assert ("moon", "jupiter") in [approach.pair for approach in approaches]
    assert told(TERUEL, night, "pair") is None


def test_phases_come_last_and_have_no_details() -> None:
    events = night_events(TERUEL, TOTAL_SUN)
    assert [event.code for event in events] == ["solar_eclipse", "almanac"]
    assert events[-1].words == "New Moon 12:05"
    assert events[-1].details == ()


def test_a_calendar_tells_the_sky_of_a_place_and_none_without_one() -> None:
    assert "peak of the Perseids 10:11 on 13 August" in in_a_calendar(HERE, date(2027, 8, 12))
    assert in_a_calendar(None, date(2027, 8, 12)) == ()


def test_a_calendar_leaves_out_what_is_slight_and_a_night_tells_it() -> None:
    aurigids = date(2027, 9, 1)
    assert told(TERUEL, aurigids, "shower") is not None
    assert in_a_calendar(HERE, aurigids) == ()


@pytest.mark.parametrize(
    ("night", "is_there"), [(date(2027, 2, 20), True), (date(2027, 8, 16), False)]
)
def test_a_calendar_tells_a_deep_penumbral_eclipse_and_no_faint_one(
    night: date, *, is_there: bool
) -> None:
    place = Place(40.4, -75.0, 0, "America/New_York")
    assert told(Site(latitude=40.4, longitude=-75.0, zone=place.zone), night, "lunar_eclipse")
    words = events_between(*YEAR, place.zone, place=place)[night]
    assert any("eclipse" in each for each in words) is is_there


def test_what_is_told_of_a_season_lies_inside_it() -> None:
    found = sky_happenings(*YEAR, HERE)
    assert all(YEAR[0] <= happening.night <= YEAR[1] for happening in found)
    assert {happening.code for happening in found} == {
        "solar_eclipse",
        "lunar_eclipse",
        "shower",
        "pair",
    }


@pytest.mark.parametrize("night", [date(1972, 1, 1), date(2050, 12, 31)])
@pytest.mark.parametrize("site", [TERUEL, KAROO, SVALBARD])
def test_the_first_and_the_last_night_can_be_told(site: Site, night: date) -> None:
    assert isinstance(night_events(site, night), tuple)


@pytest.fixture
def german() -> Iterator[None]:
    with translation.override("de"):
        yield


@pytest.mark.usefixtures("german")
def test_a_decimal_is_written_as_the_reader_does() -> None:
    words = [event.words for event in night_events(TERUEL, VENUS_AND_MARS)]
    assert any("0,3°" in line for line in words)
