"""Showers, eclipses of the Moon and close pairs as targets: named, found, limited in time."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from sky.close_pairs import PAIRS
from sky.errors import SkyError
from sky.showers import peaks, showers
from sky.targets import lunar_eclipses, pairs
from sky.targets import showers as radiants
from sky.targets.kinds import search, target_of
from sky.targets.target import Body, Target

YEAR = date(2028, 1, 1), date(2028, 12, 31)


def spans_of(target: Target, first: date = YEAR[0], last: date = YEAR[1]) -> list[str]:
    assert target.active is not None
    return [span.start.date().isoformat() for span in target.active(first, last)]


@pytest.mark.parametrize(
    "listing", [*radiants.KIND.all(), *lunar_eclipses.KIND.all(), *pairs.KIND.all()]
)
def test_what_a_list_offers_can_be_made(listing: object) -> None:
    key = getattr(listing, "key", "")
    assert target_of(key).key == key


def test_a_shower_is_there_around_its_peak_only() -> None:
    geminids = target_of("shower:GEM")
    (peak,) = peaks(date(2028, 12, 1), date(2028, 12, 20))
    assert geminids.active is not None
    (span,) = geminids.active(*YEAR)
    assert (span.start, span.end) == (
        peak.instant - timedelta(hours=12),
        peak.instant + timedelta(hours=12),
    )
    assert geminids.active(date(2028, 3, 1), date(2028, 3, 31)) == ()


def test_a_shower_by_day_is_found_and_not_offered() -> None:
    offered = {listing.key for listing in radiants.KIND.all()}
    assert len(offered) == sum(not shower.is_daytime for shower in showers().values())
    (found,) = radiants.KIND.search("arietids")
    assert found.key not in offered
    assert "not seen at night" in found.about


def test_all_eclipses_of_the_moon_are_those_of_the_season() -> None:
    every = target_of("lunar-eclipse:all")
    assert spans_of(every) == ["2028-01-12", "2028-07-06", "2028-12-31"]
    assert every.points == (Body("moon"),)


def test_one_eclipse_is_that_of_its_date_and_no_other() -> None:
    assert spans_of(target_of("lunar-eclipse:2028-07-06")) == ["2028-07-06"]


def test_an_eclipse_that_nobody_sees_is_no_target() -> None:
    assert "2027-07-18" not in spans_of(
        target_of("lunar-eclipse:all"), date(2027, 1, 1), date(2027, 12, 31)
    )
    with pytest.raises(SkyError):
        target_of("lunar-eclipse:2027-07-18")


@pytest.mark.parametrize(("first", "last"), [(1972, 1972), (2050, 2050)])
def test_the_edges_of_the_years_are_no_mistake(first: int, last: int) -> None:
    for key in ("shower:QUA", "lunar-eclipse:all", "pair:moon+venus"):
        assert spans_of(target_of(key), date(first, 1, 1), date(last, 12, 31))


@pytest.mark.parametrize("rest", ["jupiter+venus", "venus+jupiter"])
def test_a_pair_may_be_named_either_way(rest: str) -> None:
    pair = pairs.target(rest)
    assert (pair.key, pair.name) == ("pair:venus+jupiter", "Venus and Jupiter")
    assert pair.points == (Body("venus"), Body("jupiter"))
    assert pair.least_altitude_degrees is None


def test_the_moon_passes_the_pleiades_every_month() -> None:
    assert len(spans_of(target_of("pair:moon+alcyone"))) in (13, 14)


@pytest.mark.parametrize(
    ("key", "nearest"),
    [
        ("shower:GME", "GEM"),
        ("shower:Perseid", "Perseids"),
        ("lunar-eclipse:2028-12-30", "2028-07-06"),
        ("lunar-eclipse:soon", "all"),
        ("lunar-eclipse:20281231", "all"),
        ("lunar-eclipse:1960-01-01", "all"),
        ("pair:venus+jupitr", "Venus and Jupiter"),
    ],
)
def test_an_unknown_one_is_refused_with_the_nearest(key: str, nearest: str) -> None:
    with pytest.raises(SkyError) as refused:
        target_of(key)
    assert refused.value.code == "target_unknown"
    assert nearest in str(refused.value.fields["nearest"])


def test_two_stars_or_one_planet_twice_are_no_pair() -> None:
    for rest in ("spica+regulus", "venus+venus", "venus"):
        with pytest.raises(SkyError):
            pairs.target(rest)
    assert len(PAIRS) == len(pairs.KIND.all())


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("Perseids", "shower:PER"),
        ("gem", "shower:GEM"),
        ("venus jupiter", "pair:venus+jupiter"),
        ("Moon and Pleiades", "pair:moon+alcyone"),
        ("lunar eclipse", "lunar-eclipse:all"),
        ("eclipse 2028", "lunar-eclipse:2028-12-31"),
    ],
)
def test_a_search_finds_them(typed: str, found: str) -> None:
    assert found in [listing.key for listing in search(typed)]


def test_an_eclipse_of_a_year_outside_is_not_found() -> None:
    assert lunar_eclipses.KIND.search("eclipse 1960") == []
