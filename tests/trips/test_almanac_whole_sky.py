"""The sky over a site or spot: what it holds, at which times it is shown, and how it is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from sky.dome import Standing
from sky.skyline import LEVEL, Skyline
from sky.targets.kinds import target_of
from tests.trips.skies import drawn, made_sky, made_wanted
from trips.almanac.local_time import clock
from trips.almanac.nights import compute_nights
from trips.almanac.sky_times import MOST_TIMES, instant_of, sky_times, within_sky
from trips.almanac.whole_sky import targets_of, whole_sky
from trips.almanac.whole_sky_words import description, milky_way_sentence, wanted_sentences
from trips.models import Night, Site, Spot, TargetEntry

MADRID = "Europe/Madrid"


def a_site(latitude: float = 40.4, longitude: float = -1.1, zone: str = MADRID) -> Site:
    return Site(name="Hill", latitude=latitude, longitude=longitude, elevation_m=1600, zone=zone)


def a_night(site: Site, day: date) -> Night:
    return compute_nights(site, day, day)[0]


@pytest.fixture(scope="module")
def summer() -> tuple[Site, Night]:
    site = a_site()
    return site, a_night(site, date(2027, 7, 3))


# What the sky holds


def test_the_core_stands_in_the_south_in_a_july_night_of_spain(summer: tuple[Site, Night]) -> None:
    """H10 of tests/against: it culminates 20.6° high at 40.4° north, without refraction."""
    site, row = summer
    instant = datetime(2027, 7, 3, 23, 3, tzinfo=UTC)
    sky = whole_sky(row, site, None, instant, [target_of("milky-way:core")])
    (core,) = sky.wanted
    assert core.standings[0].altitude_degrees == pytest.approx(20.63, abs=0.1)
    assert core.standings[0].azimuth_degrees == pytest.approx(180, abs=1)
    assert sky.milky_way.core == core.standings[0]
    assert (sky.stars.altitudes > 0).all()
    assert sky.skyline == LEVEL


def test_a_wanted_star_is_named_once_in_the_picture(summer: tuple[Site, Night]) -> None:
    site, row = summer
    vega = target_of("star:vega")
    instant = datetime(2027, 7, 3, 23, 3, tzinfo=UTC)
    for wanted in ([], [vega]):
        names = [name.words for name in drawn(whole_sky(row, site, None, instant, wanted)).names]
        assert names.count("Vega") == 1
        assert "Arcturus" in names


def test_the_path_of_a_target_goes_from_sunset_to_sunrise(summer: tuple[Site, Night]) -> None:
    site, row = summer
    sky = whole_sky(row, site, None, row.start, [target_of("milky-way:core")])
    assert row.sunset is not None
    assert row.sunrise is not None
    seconds = (row.sunrise - row.sunset).total_seconds()
    assert len(sky.wanted[0].path) == pytest.approx(seconds / 600 + 1, abs=1)


def test_a_spot_has_its_own_skyline(summer: tuple[Site, Night]) -> None:
    site, row = summer
    spot = Spot(site=site, name="Wall", latitude=40.4, longitude=-1.1, elevation_m=1600,
                skyline=[[0, 4], [90, 12]])  # fmt: skip
    assert whole_sky(row, site, spot, row.start).skyline == Skyline(((0, 4), (90, 12)))


def test_a_target_that_does_not_happen_tonight_is_left_out(summer: tuple[Site, Night]) -> None:
    site, row = summer
    always = target_of("milky-way:core")
    never = replace(always, active=lambda _first, _last: ())
    assert [one.name for one in whole_sky(row, site, None, row.start, [never, always]).wanted] == [
        "Galactic core"
    ]


def test_a_list_s_own_names_are_used_and_unknown_entries_left_out() -> None:
    entries = [
        TargetEntry(target="milky-way:core", name="The bulge"),
        TargetEntry(target="milky-way:nowhere", name="Nowhere"),
    ]
    assert [target.name for target in targets_of(entries)] == ["The bulge"]


# The times


def test_times_go_by_full_hours_from_dusk_to_dawn(summer: tuple[Site, Night]) -> None:
    site, row = summer
    found = [clock(at, site.zone) for at in sky_times(row, site.zone)]
    assert row.nautical_dusk is not None
    assert found[0] == clock(row.nautical_dusk, site.zone)
    assert found[1:-1] == ["00:00", "01:00", "02:00", "03:00", "04:00", "05:00"]


def test_a_long_night_is_shown_every_second_hour() -> None:
    site = a_site()
    found = [clock(at, MADRID) for at in sky_times(a_night(site, date(2027, 12, 20)), MADRID)]
    assert len(found) <= MOST_TIMES
    assert found[1:4] == ["20:00", "22:00", "00:00"] or found[1:4] == ["19:00", "21:00", "23:00"]


def test_a_polar_day_has_no_times_and_a_polar_night_goes_from_noon_to_noon() -> None:
    site = a_site(69.1, 18.6, "Europe/Oslo")
    assert sky_times(a_night(site, date(2027, 6, 20)), site.zone) == []
    winter = sky_times(a_night(site, date(2027, 12, 20)), site.zone)
    assert 3 <= len(winter) <= MOST_TIMES


def test_every_time_that_is_offered_can_be_asked_for() -> None:
    """Also on the night on which the clocks go back, and an hour comes twice."""
    site = a_site()
    for day in (date(2027, 7, 3), date(2027, 10, 30), date(2027, 3, 27)):
        row = a_night(site, day)
        for at in sky_times(row, MADRID):
            assert instant_of(clock(at, MADRID), row, MADRID) == at
            assert within_sky(at, row) == at


@pytest.mark.parametrize("text", ["", "25:00", "12:60", "noon", "1", "23:00:00", "١٢:٠٠", "-1:00"])
def test_what_is_no_time_is_none(text: str, summer: tuple[Site, Night]) -> None:
    site, row = summer
    assert instant_of(text, row, site.zone) is None


def test_an_hour_after_midnight_belongs_to_the_evening_s_night(summer: tuple[Site, Night]) -> None:
    site, row = summer
    assert instant_of("1:30", row, site.zone) == datetime(2027, 7, 3, 23, 30, tzinfo=UTC)
    assert instant_of("21:30", row, site.zone) == datetime(2027, 7, 3, 19, 30, tzinfo=UTC)


def test_by_day_the_nearest_of_sunset_and_sunrise_is_shown(summer: tuple[Site, Night]) -> None:
    _site, row = summer
    assert within_sky(row.start, row) == row.sunset
    assert within_sky(row.end, row) == row.sunrise


# The words


def test_the_description_says_what_the_picture_shows() -> None:
    said = description(made_sky(wanted=(made_wanted("Core", 20.6, 181.0),)))
    assert "north at the top, east on the left" in said
    assert "Core: 21° high, south, 181°." in said
    assert "The Milky Way stands from east to west, highest 60° in the south." in said
    assert "The Moon, 30 % lit: below the horizon." in said
    assert "Jupiter: 35° high, south, 180°." in said
    assert "Vega 80° in the east, Polaris 40° in the north" in said


def test_what_is_behind_the_land_or_down_is_said_to_be() -> None:
    sky = made_sky(
        wanted=(made_wanted("Low", 5.0, 90.0), made_wanted("Down", -5.0, 90.0)),
        skyline=Skyline(((0.0, 8.0),)),
    )
    assert [said for _name, said in wanted_sentences(sky)] == [
        "5° high, east, 90°, behind the land",
        "below the horizon",
    ]


def test_light_that_takes_the_milky_way_is_named() -> None:
    assert "too bright" in milky_way_sentence(made_sky(sun=Standing(-9.0, 300.0)))
    moonlit = made_sky(moon=Standing(30.0, 90.0), moon_lit=0.8)
    assert "the Moon takes most of it" in milky_way_sentence(moonlit)
    assert "the Moon" not in milky_way_sentence(made_sky())


def test_the_core_is_told_with_the_band_where_the_land_leaves_it() -> None:
    band = replace(made_sky().milky_way, core=Standing(20.6, 181.0))
    assert milky_way_sentence(made_sky(milky_way=band)).endswith(", its core 21° in the south.")
    walled = made_sky(milky_way=band, skyline=Skyline(((0.0, 25.0),)))
    assert "core" not in milky_way_sentence(walled)


def test_stars_that_the_light_or_the_land_takes_are_not_told() -> None:
    assert "Polaris" in description(made_sky())
    assert "Polaris" not in description(made_sky(skyline=Skyline(((0.0, 45.0),))))
    assert "Polaris" not in description(made_sky(sun=Standing(-6.0, 300.0)))
    assert "stars" not in description(made_sky(sun=Standing(-1.0, 300.0)))


def test_a_planet_behind_the_land_is_said_to_be() -> None:
    walled = made_sky(skyline=Skyline(((0.0, 45.0),)))
    assert "Jupiter: 35° high, south, 180°, behind the land." in description(walled)


def test_a_wanted_planet_is_told_once() -> None:
    jupiter = made_wanted("King of planets", 35.0, 180.0)
    said = description(made_sky(wanted=(jupiter,)))
    assert "King of planets: 35° high, south, 180°." in said
    assert "Jupiter" not in said
    assert "no planet" not in said
