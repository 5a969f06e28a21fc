"""Two sites' nights on the first one's clock, as far as a picture reaches."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from tests.conftest import Cast, store_nights
from trips.models import Season, Site
from trips.planning.comparing import Compared, compared
from trips.services.judged import judge_season
from trips.services.laid_over import MOST_NIGHTS, lay_over


def two_sites(cast: Cast, *, last: date, zone: str = "Europe/Madrid") -> list[Compared[Site]]:
    other = Site.objects.create(
        organisation=cast.club, name="Wether Fell", latitude=40.4, longitude=-1.1, zone=zone
    )
    cast.season.sites.add(other)
    Season.objects.filter(pk=cast.season.pk).update(last_night=last)
    cast.season.refresh_from_db()
    for site in (cast.site, other):
        store_nights(site, last=last)
    return [compared(found) for found in judge_season(cast.season).view.sites]


def test_every_night_of_both_is_drawn(cast: Cast) -> None:
    first, second = two_sites(cast, last=date(2027, 3, 31))
    over = lay_over(cast.season, first, second)
    assert [len(over.first), len(over.second)] == [31, 31]
    assert not over.is_cut


def test_both_are_on_the_clock_of_the_first(cast: Cast) -> None:
    first, second = two_sites(cast, last=date(2027, 3, 31), zone="UTC")
    over = lay_over(cast.season, first, second)
    assert over.first[0].dark == over.second[0].dark
    # From 20:00 UTC, 21:00 in Madrid, nine hours after noon.
    assert over.second[0].dark[0][0] == 9 * 60


def test_what_counts_as_usable_is_drawn_and_no_more(cast: Cast) -> None:
    first, second = two_sites(cast, last=date(2027, 3, 31))
    night = lay_over(cast.season, first, second).first[0]
    assert night.out == ((9 * 60, 13 * 60),)  # four hours of the five until 02:00


def test_an_evening_that_is_not_offered_shows_the_plain_sky(cast: Cast) -> None:
    Site.objects.filter(pk=cast.site.pk).update(months_open=[4])
    cast.site.refresh_from_db()
    first, second = two_sites(cast, last=date(2027, 3, 31))
    over = lay_over(cast.season, first, second)
    assert over.first[0].dark
    assert over.first[0].out == ()
    assert over.second[0].out


def test_the_hours_are_those_of_the_comparison(cast: Cast) -> None:
    first, second = two_sites(cast, last=date(2027, 3, 31), zone="UTC")
    hours = lay_over(cast.season, first, second).hours
    assert hours.of_first == pytest.approx(first.usable_hours)
    assert hours.of_second == pytest.approx(second.usable_hours)


def test_a_picture_that_is_cut_has_the_hours_of_what_it_shows(cast: Cast) -> None:
    first, second = two_sites(cast, last=date(2028, 6, 30))
    hours = lay_over(cast.season, first, second).hours
    shown = [each for each in first.nights if each.date <= date(2028, 2, 29)]
    assert hours.of_first == pytest.approx(sum(each.usable_hours for each in shown))


def test_more_than_a_year_is_cut(cast: Cast) -> None:
    first, second = two_sites(cast, last=date(2028, 6, 30))
    over = lay_over(cast.season, first, second)
    assert over.is_cut
    assert len(over.first) == MOST_NIGHTS
    assert (over.first_night, over.last_night) == (date(2027, 3, 1), date(2028, 2, 29))


def test_both_sites_take_one_query(cast: Cast, django_assert_num_queries: Any) -> None:
    first, second = two_sites(cast, last=date(2027, 3, 31))
    with django_assert_num_queries(1):
        lay_over(cast.season, first, second)
