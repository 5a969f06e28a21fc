"""The targets of one night: as the stored windows have them, what limits them, and why none."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

import numpy as np
import pytest

from trips.almanac.local_time import clock
from trips.almanac.night_target_words import best_words, limit_words, more_words, why_words
from trips.almanac.night_targets import AbsentTarget, NightTarget, NightTargets, night_targets
from trips.almanac.nights import compute_nights
from trips.almanac.packing import unpack_bests, unpack_spans
from trips.almanac.what_ends import Limit
from trips.almanac.windows import compute_windows, wanted_row
from trips.models import Site, Spot, TargetEntry

MADRID, OSLO = "Europe/Madrid", "Europe/Oslo"
JULY, NOVEMBER = date(2027, 7, 3), date(2027, 11, 20)
WALL = [[0.0, 0.0], [90.0, 60.0], [179.0, 60.0], [180.0, 0.0]]


def a_site(latitude: float = 40.4, longitude: float = -1.1, zone: str = MADRID) -> Site:
    return Site(name="Hill", latitude=latitude, longitude=longitude, elevation_m=1600, zone=zone)


ARCTIC = a_site(69.7, 18.9, OSLO)


def a_spot(skyline: Sequence[Sequence[float]], site: Site | None = None) -> Spot:
    at = site or a_site()
    return Spot(
        site=at, name="Wall", latitude=at.latitude, longitude=at.longitude, elevation_m=1600,
        skyline=skyline,
    )  # fmt: skip


def wanting(*keys: str, **fields: Any) -> list[TargetEntry]:
    return [TargetEntry(target=key, name=key, **fields) for key in keys]


def found(
    *keys: str,
    site: Site | None = None,
    evening: date = JULY,
    spot: Spot | None = None,
    **fields: Any,
) -> NightTargets:
    return night_targets(wanting(*keys, **fields), site or a_site(), spot, evening, dark_level=-18)


def seen(key: str, **how: Any) -> NightTarget:
    (one,) = found(key, **how).seen
    return one


def absent(key: str, **how: Any) -> AbsentTarget:
    (one,) = found(key, **how).absent
    return one


# Usable dark


def test_usable_dark_stands_beside_what_needs_the_dark_and_not_beside_the_rest() -> None:
    core = seen("milky-way:core")
    assert core.usable
    assert core.usable_hours == pytest.approx(core.hours, abs=1.0)
    assert seen("planet:saturn").usable is None


def test_usable_dark_is_that_of_the_same_entry_wanted_so() -> None:
    wanted_so = seen("milky-way:core", light="usable")
    assert seen("milky-way:core").usable == wanted_so.spans
    assert wanted_so.usable is None


def test_a_crescent_over_a_lit_site_takes_less_than_its_setting_says() -> None:
    site = a_site()
    site.sky_brightness = 19.5
    core = seen("milky-way:core", evening=date(2027, 7, 6), site=site)
    assert core.usable is not None
    assert core.usable[0][0] < core.spans[0][0] - 600


def test_a_full_moon_is_said_to_brighten_the_sky() -> None:
    assert absent("milky-way:core", light="usable", evening=date(2027, 6, 18)).why.code == "bright"


# Windows


@pytest.mark.parametrize("evening", [JULY, NOVEMBER, date(2027, 12, 31)])
def test_windows_are_those_that_are_stored_of_the_year(evening: date) -> None:
    site, spot = a_site(), a_spot([[0, 3], [120, 9], [200, 4], [300, 12]])
    entries = wanting("deep-sky:NGC0224", "deep-sky:NGC1976", "milky-way:core")
    rows = [wanted_row(entry, -18) for entry in entries]
    noons = compute_nights(site, evening, evening)[0]
    start, end = noons.start.timestamp(), noons.end.timestamp()
    tonight = {
        one.entry.target: one
        for one in night_targets(entries, site, spot, evening, dark_level=-18).seen
    }
    for row, stored in zip(rows, compute_windows(site, spot, rows, evening.year), strict=True):
        spans, bests = unpack_spans(stored.spans), unpack_bests(stored.bests)
        spans = spans[(spans[:, 0] >= start) & (spans[:, 1] <= end)]
        at = bests.at[(bests.at >= start) & (bests.at <= end)]
        one = tonight.get(row.target)
        assert len(spans) == (len(one.spans) if one else 0)
        if one:
            assert np.abs(np.array(one.spans) - spans).max() < 1
            assert one.best.at == pytest.approx(at[0], abs=1)


def test_targets_stand_in_the_order_of_the_night() -> None:
    targets = found("planet:saturn", "milky-way:core", "planet:mars", "deep-sky:NGC7000").seen
    starts = [one.spans[0][0] for one in targets]
    assert starts == sorted(starts)
    assert [one.entry.target for one in targets] == [
        "planet:mars", "milky-way:core", "deep-sky:NGC7000", "planet:saturn",
    ]  # fmt: skip


def test_of_those_that_begin_together_the_one_that_is_best_first_stands_first() -> None:
    first, second = found("deep-sky:NGC7000", "milky-way:core").seen
    assert first.spans[0][0] == second.spans[0][0]
    assert first.best.at < second.best.at


def test_in_any_light_a_window_begins_at_sunset_and_ends_at_sunrise() -> None:
    row = compute_nights(a_site(), JULY, JULY)[0]
    assert row.sunset is not None
    assert row.sunrise is not None
    mars, saturn = found("planet:mars", "planet:saturn").seen
    assert mars.spans[0][0] == pytest.approx(row.sunset.timestamp(), abs=1)
    assert saturn.spans[-1][1] == pytest.approx(row.sunrise.timestamp(), abs=1)


def test_where_the_sun_does_not_set_daylight_is_left_in() -> None:
    venus = seen("planet:venus", site=ARCTIC, evening=date(2027, 6, 20))
    assert venus.hours > 17


def test_the_best_moment_lies_in_the_windows_that_daylight_has_left() -> None:
    """Saturn culminates after sunrise: the best is at the end, not where it was by day."""
    saturn = seen("planet:saturn")
    assert saturn.best.at == saturn.spans[-1][1]
    assert saturn.culminates is None
    assert seen("planet:saturn", evening=NOVEMBER).culminates is not None


def test_an_entry_s_own_light_and_least_altitude_are_used() -> None:
    usual = seen("deep-sky:Mel022", evening=NOVEMBER)
    own = seen("deep-sky:Mel022", evening=NOVEMBER, light="moonless", least_altitude_degrees=40.0)
    assert (usual.light, own.light) == ("dark", "moonless")
    assert own.hours < usual.hours


def test_a_target_that_no_kind_knows_is_left_out_and_the_others_stay() -> None:
    targets = found("deep-sky:NOTHING", "milky-way:core")
    assert [one.entry.target for one in targets.seen] == ["milky-way:core"]
    assert targets.absent == ()


def test_of_an_empty_list_nothing_is_found() -> None:
    assert found() == NightTargets((), ())


# What limits them


def test_the_moon_ends_a_window_in_moonless_light_and_not_in_any_dark() -> None:
    row = compute_nights(a_site(), NOVEMBER, NOVEMBER)[0]
    (limit,) = seen("deep-sky:NGC0224", evening=NOVEMBER).limits
    assert limit_words([limit], MADRID) == [f"Moon up from {clock(row.moonrises[0], MADRID)}"]
    assert seen("deep-sky:NGC0224", evening=NOVEMBER, light="dark").limits[0].by != "moon"


def test_the_land_begins_a_window_behind_a_wall_and_not_over_a_level_horizon() -> None:
    first, last = seen("milky-way:core", spot=a_spot(WALL)).limits
    assert (first.by, first.is_until) == ("land", True)
    assert (last.by, last.is_until) == ("height", False)
    assert [one.by for one in seen("milky-way:core", spot=a_spot([])).limits] == ["height"]


def test_its_own_height_ends_a_window_that_the_dawn_does_not() -> None:
    core = seen("milky-way:core")
    assert limit_words(core.limits, MADRID) == ["lower than 8° from 04:13"]
    assert seen("deep-sky:NGC7000").limits == ()


def test_an_arch_ends_where_it_is_too_steep() -> None:
    (words,) = limit_words(seen("milky-way:arch").limits, MADRID)
    assert words.startswith("too steep for an arch from ")


@pytest.mark.parametrize(
    ("ends", "said"),
    [
        ([(0.0, True)], "Moon up until 01:00"),
        ([(0.0, False)], "Moon up from 01:00"),
        ([(0.0, False), (7200.0, True)], "Moon up from 01:00 until 03:00"),
        ([(0.0, True), (7200.0, False)], "Moon up until 01:00 and from 03:00"),
    ],
)
def test_what_is_in_the_way_is_told_in_the_order_of_time(
    ends: list[tuple[float, bool]], said: str
) -> None:
    limits = [Limit("moon", at, is_until) for at, is_until in ends]
    assert limit_words(limits, MADRID) == [said]


def test_two_things_in_the_way_are_told_one_by_one_and_nothing_is_not() -> None:
    limits = [Limit("height", 0.0, is_until=True, degrees=25.0), Limit("land", 0.0, is_until=False)]
    assert limit_words(limits, MADRID) == [
        "lower than 25° until 01:00",
        "behind the land from 01:00",
    ]
    assert limit_words([], MADRID) == []


def test_the_words_of_a_best_moment() -> None:
    core = seen("milky-way:core")
    assert best_words(core.best) == "21° high, south, 180°"
    assert more_words(core, MADRID) == "airmass 2.8, culminates then"
    north = seen("deep-sky:NGC7000")
    assert best_words(north.best) == "86° high, overhead"
    assert "airmass 1.0" in more_words(north, MADRID)


def test_a_culmination_beside_the_best_moment_has_its_time() -> None:
    orion = seen("deep-sky:NGC1976", evening=NOVEMBER)
    assert orion.culminates is not None
    assert orion.culminates > orion.best.at
    told = f"culminates {clock(orion.culminates, MADRID)}"
    assert more_words(orion, MADRID).endswith(told)


# Why there is no window


@pytest.mark.parametrize(
    ("key", "how", "said"),
    [
        ("shower:GEM", {}, "its peak is not tonight"),
        ("pair:venus+jupiter", {}, "not close together tonight"),
        ("lunar-eclipse:all", {}, "no eclipse tonight"),
        (
            "position:10,-80", {},
            "never rises here: its highest is 30.4° below the horizon",
        ),
        (
            "position:270,-40", {},
            "never as high here as the 25° it is wanted at: 10° at most",
        ),
        (
            "deep-sky:NGC1976", {},
            "below the horizon while it is dark and moonless",
        ),
        (
            "deep-sky:NGC6611", {"evening": NOVEMBER},
            "14° high at most while it is dark and moonless, wanted at 25°",
        ),
        (
            "deep-sky:NGC7000", {"site": ARCTIC, "evening": date(2027, 6, 20)},
            "no moonless dark tonight",
        ),
        (
            "deep-sky:NGC7000",
            {"site": ARCTIC, "evening": date(2027, 6, 20), "light": "dark"},
            "no dark tonight",
        ),
        (
            "deep-sky:NGC7000",
            {"site": ARCTIC, "evening": date(2027, 6, 20), "light": "twilight"},
            "the Sun is not 6° to 12° down tonight",
        ),
        (
            "deep-sky:NGC7000", {"light": "moonlit"},
            "no Moon that lights the land and leaves a sky tonight",
        ),
    ],
)  # fmt: skip
def test_why_there_is_no_window(key: str, how: dict[str, Any], said: str) -> None:
    assert why_words(absent(key, **how)) == said


def test_land_that_hides_a_target_all_night_is_told_with_its_height() -> None:
    words = why_words(absent("planet:venus", spot=a_spot([[0, 20]])))
    assert words.startswith("behind the land while the Sun is down: ")
    assert words.endswith("in the east-north-east, the land 20°")


def test_a_height_just_short_is_not_told_as_the_one_that_is_wanted() -> None:
    found = absent("deep-sky:NGC6705", evening=NOVEMBER)
    assert why_words(found).startswith("24.6° high at most while it is dark, wanted at 25°")


def test_what_never_rises_is_told_so_where_it_is_not_dark_either() -> None:
    why = why_words(absent("milky-way:core", site=ARCTIC, evening=date(2027, 6, 20)))
    assert why.startswith("never rises here")


def test_an_arch_that_stands_overhead_all_night_says_how_high() -> None:
    words = why_words(absent("milky-way:arch", evening=NOVEMBER))
    assert words.endswith("high or higher; up to 60° it is an arch")


def test_a_shower_at_its_peak_has_a_window_or_another_reason() -> None:
    night = found("shower:GEM", evening=date(2027, 12, 13))
    assert night.seen or night.absent[0].why.code != "not_tonight"
