"""The door to the sky: rows in and out, zones of positions, fingerprints, words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta

import numpy as np
import pytest

from sky import errors, nights, summary, zones
from sky.night import DARK_LEVELS
from sky.place import Place
from tests.nights import nights_of
from trips.almanac import wording
from trips.almanac.comparison import Question, compare_places
from trips.almanac.dates import check_dates
from trips.almanac.fingerprint import site_fingerprint
from trips.almanac.moons import new_moons
from trips.almanac.nights import compute_nights
from trips.almanac.places import (
    describe_position,
    looks_swapped,
    place_of,
    zone_at,
    zone_misfit,
)
from trips.almanac.records import night_record
from trips.models import Night, Site
from trips.planning.candidates import judge
from trips.planning.nights import Wishes
from trips.planning.runs import longest_run

FIRST, LAST = date(2027, 2, 20), date(2027, 3, 31)


@dataclass(frozen=True)
class Spot:
    latitude: float = 40.4
    longitude: float = -1.1
    elevation_m: float = 1600.0
    zone: str = "Europe/Madrid"


def row(**changes: object) -> Night:
    """Make an unsaved night that never gets dark, unless told otherwise."""
    blank = {f"{name}_{n}": 0.0 for name in ("dark_hours", "moonless_hours") for n in (18, 15, 12)}
    return Night(date=FIRST, moon_illuminated=0.25, moon_waxing=True, **(blank | changes))


@pytest.mark.parametrize(
    ("latitude", "longitude", "zone"),
    [
        (40.4, -1.1, "Europe/Madrid"),
        (28.1, -15.4, "Atlantic/Canary"),
        (69.6, 18.9, "Europe/Oslo"),
        (1.87, -157.4, "Pacific/Kiritimati"),
        (40.4, 358.9, "Europe/Madrid"),  # the same place as the first
    ],
)
def test_a_position_on_land_has_the_zone_that_is_kept_there(
    latitude: float, longitude: float, zone: str
) -> None:
    assert zone_at(latitude, longitude) == zone


def test_the_open_sea_has_a_zone_by_longitude_with_its_sign_reversed() -> None:
    assert zone_at(0, -30) == "Etc/GMT+2"
    assert zone_at(-45, 90) == "Etc/GMT-6"
    assert zones.nautical_zone(-30) == "Etc/GMT+2"
    assert zones.nautical_zone(3) == "Etc/GMT"


def test_a_zone_that_keeps_another_time_is_doubted_with_a_better_one() -> None:
    assert zone_misfit("Asia/Tokyo", 40.4, -1.1) == "Europe/Madrid"


def test_a_zone_that_differs_in_summer_alone_is_doubted_too() -> None:
    # Abidjan keeps UTC all year: one hour from Madrid in January, two in July.
    assert zone_misfit("Africa/Abidjan", 40.4, -1.1) == "Europe/Madrid"


def test_a_neighbour_an_hour_away_is_not_doubted() -> None:
    assert zone_misfit("Europe/Lisbon", 40.4, -1.1) is None
    assert zone_misfit("Europe/Paris", 40.4, -1.1) is None


def test_a_position_typed_the_wrong_way_round_is_recognised_by_its_zone() -> None:
    assert looks_swapped("Asia/Tokyo", 135.5 - 100, 34.7) is False
    assert looks_swapped("Africa/Nairobi", 36.8, -1.3) is True
    assert looks_swapped("Africa/Nairobi", -1.3, 36.8) is False


def test_a_position_is_said_so_that_a_wrong_sign_is_heard() -> None:
    assert describe_position(40.4, -1.1) == "40.4000° north, 1.1000° west"
    assert describe_position(-33.9, 18.4) == "33.9000° south, 18.4000° east"


def test_a_site_without_a_zone_gets_the_one_at_its_position() -> None:
    assert place_of(Spot(zone="")).zone == "Europe/Madrid"


def test_a_position_out_of_range_is_refused_before_a_zone_is_sought() -> None:
    with pytest.raises(errors.SkyError, match="latitude_out_of_range"):
        place_of(Spot(latitude=91, zone=""))


def a_site(**changed: object) -> Site:
    place = {"latitude": 40.4, "longitude": -1.1, "elevation_m": 1600, "zone": "Europe/Madrid"}
    return Site(**place | changed)


@pytest.mark.parametrize(
    "changed",
    [
        {"latitude": 40.5},
        {"longitude": -1.2},
        {"elevation_m": 0.0},
        {"zone": "Europe/Paris"},
        {"sky_brightness": 21.4},
        {"sky_by_azimuth": [[90, 20.5]]},
        {"extinction": 0.2},
        {"usable_loss_mag": 0.3},
    ],
)
def test_the_fingerprint_changes_with_what_a_night_depends_on(changed: dict[str, object]) -> None:
    assert site_fingerprint(a_site(**changed)) != site_fingerprint(a_site())


def test_the_fingerprint_does_not_change_with_anything_else() -> None:
    assert site_fingerprint(a_site()) == site_fingerprint(a_site(name="A", notes="b"))
    assert len(site_fingerprint(a_site())) == 64


def test_the_fingerprint_changes_with_the_zone_rules(monkeypatch: pytest.MonkeyPatch) -> None:
    before = site_fingerprint(a_site())
    monkeypatch.setattr("trips.almanac.fingerprint.zone_data_version", lambda: "1999.9")
    assert site_fingerprint(a_site()) != before


def test_usable_dark_is_kept_night_by_night_beside_the_moonless() -> None:
    rows = compute_nights(a_site(), FIRST, LAST)
    assert all(
        each.usable_hours == pytest.approx(sum(end - start for start, end in each.usable) / 3600)
        for each in rows
    )
    for each in rows:
        for start, end in each.usable:
            assert each.start.timestamp() <= start < end <= each.end.timestamp()
    crescent = next(each for each in rows if each.date == date(2027, 3, 10))
    assert crescent.usable_hours > crescent.moonless_hours_18
    full = next(each for each in rows if each.date == date(2027, 3, 22))
    assert full.usable_hours < 1


def test_a_lit_sky_has_more_usable_dark_than_a_natural_one() -> None:
    lit, natural = (
        sum(each.usable_hours for each in compute_nights(a_site(sky_brightness=mag), FIRST, LAST))
        for mag in (18.5, 22.0)
    )
    assert lit > natural


def test_three_years_are_accepted_and_a_day_more_is_not() -> None:
    check_dates(date(2027, 1, 1), date(2029, 12, 31))
    with pytest.raises(errors.SkyError, match="season_too_long") as refused:
        check_dates(date(2027, 1, 1), date(2030, 1, 1))
    assert wording.sentence(refused.value) == (
        "2027-01-01 to 2030-01-01 is more than three years; the last night may be 2029-12-31."
    )


def test_three_years_from_a_leap_day_end_with_february() -> None:
    check_dates(date(2028, 2, 29), date(2031, 2, 28))
    with pytest.raises(errors.SkyError, match="season_too_long"):
        check_dates(date(2028, 2, 29), date(2031, 3, 1))


def refusal(**changed: object) -> str:
    with pytest.raises(errors.SkyError) as refused:
        place_of(replace(Spot(), **changed))  # type: ignore[arg-type]
    return wording.sentence(refused.value)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"latitude": 140.0}, "Latitude 140 is outside −90 to 90 degrees; "),
        ({"longitude": 400.0}, "Longitude 400 is outside −180 to 360 degrees."),
        ({"elevation_m": 16000.0}, "Elevation 16000 is outside −450 to 9000 metres."),
        ({"latitude": float("nan")}, "The latitude nan is not a finite number."),
        ({"zone": "Europe/Madird"}, "“Europe/Madird” is not a time zone; "),
    ],
)
def test_a_refusal_names_field_and_value_and_what_would_be_right(
    changed: dict[str, object], words: str
) -> None:
    assert refusal(**changed).startswith(words)


def test_every_word_of_absence_that_the_sky_gives_has_a_sentence() -> None:
    words = set()
    for latitude in (0.0, 55.0, 69.6, 85.0, -85.0):
        place = Place(latitude, 19.0, 0.0, "Europe/Oslo")
        for night in nights_of(place, date(2027, 1, 1), date(2027, 12, 31)):
            words |= set(night.absent.values())
    assert len(words) > 5
    assert words <= set(wording.ABSENCES)


def test_new_moons_reach_half_a_lunation_beyond_the_season() -> None:
    moons = new_moons(FIRST, LAST)
    assert [moon.date() for moon in moons] == [
        date(2027, 2, 6),
        date(2027, 3, 8),
        date(2027, 4, 6),
    ]
    assert all(moon.tzinfo == UTC for moon in moons)


def test_computed_rows_are_the_sky_s_nights_and_are_not_saved() -> None:
    site = Site(latitude=40.4, longitude=-1.1, elevation_m=1600, zone="Europe/Madrid")
    rows = compute_nights(site, FIRST, LAST)
    computed = nights_of(place_of(site), FIRST, LAST)
    assert [each.date for each in rows] == [each.date for each in computed]
    assert [each.sunset for each in rows] == [each.sunset for each in computed]
    assert [each.moonless_hours_15 for each in rows] == [
        each.moonless_hours[-15] for each in computed
    ]
    assert {each.fingerprint for each in rows} == {site_fingerprint(site)}
    assert all(each.pk is None for each in rows)


def test_a_date_that_the_zone_skipped_has_no_row() -> None:
    apia = Site(latitude=-13.8, longitude=-171.7, zone="Pacific/Apia")
    rows = compute_nights(apia, date(2011, 12, 29), date(2011, 12, 31))
    assert [each.date for each in rows] == [date(2011, 12, 29), date(2011, 12, 31)]


def test_a_record_shows_local_times_with_the_offset_of_their_own_instant() -> None:
    dusk = datetime(2027, 3, 27, 19, 55, 56, 400_000, tzinfo=UTC)
    dawn = datetime(2027, 3, 28, 4, 22, 51, 600_000, tzinfo=UTC)
    night = row(dark_18=[[dusk.timestamp(), dawn.timestamp()]], sunset=dusk)
    record = night_record(night, "Europe/Madrid", -18)
    assert record["dark"] == [["2027-03-27T20:55:56+01:00", "2027-03-28T06:22:52+02:00"]]
    assert record["sunset"] == "2027-03-27T20:55:56+01:00"


def test_a_record_says_why_only_of_what_it_shows() -> None:
    absent = {"dark": "never_dark", "moonless": "never_dark", "moonless_15": "moon_up_while_dark"}
    night = row(absent=absent)
    assert night_record(night, "UTC", -18)["note"] == "never_dark"
    assert night_record(night, "UTC", -15)["note"] == "moon_up_while_dark"
    assert night_record(night, "UTC", -12)["note"] is None


PLACES = [
    Place(40.4, -1.1, 1600, "Europe/Madrid"),
    Place(69.6, 18.9, 100, "Europe/Oslo"),
    Place(1.87, -157.4, 0, "Pacific/Kiritimati"),
    Place(-78.0, 167.0, 0, "Antarctica/McMurdo"),
    Place(40.4, -1.1, 0, "Asia/Tokyo"),  # dark before the night's noon is over
]


@pytest.mark.parametrize("level", DARK_LEVELS)
@pytest.mark.parametrize("until", [time(2), time(23), time(7, 30)])
def test_the_summary_of_arrays_is_the_judgement_of_single_nights(level: int, until: time) -> None:
    first, last = date(2027, 1, 1), date(2027, 12, 31)
    table = nights.compute_season(PLACES, first, last)
    found = summary.summarise(table, dark_level=level, least_hours=2.0, out_until=until)
    out = summary.moonless_hours_out(table, dark_level=level, out_until=until)
    for n, place in enumerate(PLACES):
        site = Site(
            latitude=place.latitude,
            longitude=place.longitude,
            elevation_m=place.elevation_m,
            zone=place.zone,
        )
        judged = [
            judge(each, Wishes(dark_level=level, out_until=until), place.zone)
            for each in compute_nights(site, first, last)
        ]
        np.testing.assert_allclose(
            out[n], [night.moonless_hours_out for night in judged], atol=1e-6
        )
        assert found.candidates[n] == sum(night.is_candidate for night in judged)
        assert found.longest_run[n] == longest_run(judged)
        assert found.moonless_hours[n] == pytest.approx(
            sum(night.moonless_hours for night in judged), abs=1e-5
        )
        assert found.nights[n] == len(judged)


def test_the_months_of_a_summary_are_the_nights_of_that_name() -> None:
    table = nights.compute_season(PLACES[:2], FIRST, LAST)
    found = summary.summarise(table, dark_level=-18, least_hours=2, out_until=time(2))
    assert found.months == ((2027, 2), (2027, 3))
    of_february = (date(2027, 3, 1) - FIRST) // timedelta(days=1)
    np.testing.assert_allclose(
        found.moonless_by_month[:, 0], table.moonless_hours[0][:, :of_february].sum(axis=1)
    )
    np.testing.assert_allclose(found.moonless_by_month.sum(axis=1), found.moonless_hours)


def test_two_processes_give_what_one_gives_in_the_order_of_the_places() -> None:
    places = [Place(latitude, -1.1, 0, "Europe/Madrid") for latitude in np.linspace(-60, 60, 70)]
    question = Question(FIRST, LAST)
    alone = [each for block in compare_places(places, question, processes=1) for each in block]
    shared = [each for block in compare_places(places, question, processes=2) for each in block]
    assert shared == alone
    assert len({each.dark_hours for each in alone}) == 70
