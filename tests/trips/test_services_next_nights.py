"""The next good nights of a site: those offered, those passed over, and why there are none."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest

from tests.conftest import Cast, store_nights
from trips.models import Night, Season, Site
from trips.services.next_nights import Outlook, in_order, next_good_nights, soonest

SIXTH = datetime(2027, 3, 6, 20, tzinfo=UTC)  # that night has 3 h, then 2, 1, 0, 8


def outlook(cast: Cast, at: datetime = SIXTH) -> Outlook:
    cast.season.refresh_from_db()
    [found] = next_good_nights(cast.season, at=at)
    return found


def days(found: Outlook) -> list[int]:
    return [each.night.date.day for each in found.nights]


def test_the_next_good_nights_skip_the_poor_ones(cast: Cast) -> None:
    store_nights(cast.site)
    assert outlook(cast).site == cast.site
    assert days(outlook(cast)) == [6, 7, 10]


def test_until_noon_it_is_still_last_night(cast: Cast) -> None:
    store_nights(cast.site)
    ten = datetime(2027, 3, 7, 10, tzinfo=UTC)  # 11:00 in Madrid
    assert outlook(cast, ten).nights[0].night.date == date(2027, 3, 6)


def test_after_noon_last_night_is_over(cast: Cast) -> None:
    store_nights(cast.site)
    past_noon = datetime(2027, 3, 7, 11, 30, tzinfo=UTC)  # 12:30 in Madrid
    assert outlook(cast, past_noon).nights[0].night.date == date(2027, 3, 7)


def test_nights_at_a_closed_site_are_passed_over_and_counted(cast: Cast) -> None:
    store_nights(cast.site)
    Site.objects.update(road_closed_to=date(2027, 3, 10))
    found = outlook(cast)
    assert days(found) == [11, 12, 13]
    assert [night.date.day for night in found.passed_over] == [6, 7, 10]
    assert {night.why_not for night in found.passed_over} == {"road_closed"}


def test_evenings_that_do_not_suit_are_passed_over(cast: Cast) -> None:
    store_nights(cast.site)
    Season.objects.update(weekdays=[5])  # Saturdays: 6, 13, 20, 27 March 2027
    assert days(outlook(cast)) == [6, 13, 20]


def test_nothing_is_passed_over_where_all_is_open(cast: Cast) -> None:
    store_nights(cast.site)
    assert outlook(cast).passed_over == ()


def test_a_good_night_far_ahead_is_found(cast: Cast) -> None:
    Season.objects.update(last_night=date(2028, 12, 31))
    store_nights(cast.site, date(2028, 12, 1), date(2028, 12, 3))
    found = outlook(cast)
    assert [each.night.date for each in found.nights] == [date(2028, 12, n) for n in (1, 2, 3)]


def test_a_site_without_stored_nights_is_not_computed(cast: Cast) -> None:
    assert (outlook(cast).nights, outlook(cast).is_computed) == ((), False)


def test_a_site_without_good_nights_says_what_lighter_levels_give(cast: Cast) -> None:
    store_nights(cast.site)
    Night.objects.update(moonless_18=[], moonless_hours_18=0, dark_18=[], dark_hours_18=0)
    found = outlook(cast)
    assert found.is_computed
    # 26 nights from 6 March on; three times two of them have 1 h and 0 h.
    assert found.by_lighter_level == {-15: 20, -12: 20}


def test_a_site_with_good_nights_is_not_asked_at_lighter_levels(cast: Cast) -> None:
    store_nights(cast.site)
    assert outlook(cast).by_lighter_level == {}


def second_site(cast: Cast, name: str = "Wether Fell") -> Site:
    site: Site = Site.objects.create(
        organisation=cast.club, name=name, latitude=40.6, longitude=-1.5, zone="Europe/Madrid"
    )
    cast.season.sites.add(site)
    return site


def test_the_soonest_night_anywhere_is_told(cast: Cast) -> None:
    store_nights(second_site(cast), date(2027, 3, 9), date(2027, 3, 31))
    store_nights(cast.site, date(2027, 3, 12), date(2027, 3, 31))
    found = next_good_nights(cast.season, at=SIXTH)
    first = soonest(found)
    assert first is not None
    outlook, night = first
    assert (outlook.site.name, night.date) == ("Wether Fell", date(2027, 3, 9))


def test_no_night_anywhere_is_no_soonest(cast: Cast) -> None:
    assert soonest(next_good_nights(cast.season, at=SIXTH)) is None


def test_sites_stand_in_the_order_of_their_next_night_and_empty_ones_last(cast: Cast) -> None:
    second_site(cast, "Aaron's Rest")
    store_nights(second_site(cast), date(2027, 3, 9), date(2027, 3, 31))
    store_nights(cast.site, date(2027, 3, 12), date(2027, 3, 31))
    found = in_order(next_good_nights(cast.season, at=SIXTH))
    assert [each.site.name for each in found] == ["Wether Fell", "Broom Hill", "Aaron's Rest"]


@pytest.mark.parametrize("sites", [1, 8])
def test_good_nights_soon_take_two_queries_however_many_sites(
    sites: int, cast: Cast, django_assert_num_queries: Any
) -> None:
    store_nights(cast.site)
    for n in range(1, sites):
        store_nights(second_site(cast, f"Site {n}"))
    with django_assert_num_queries(2):
        next_good_nights(cast.season, at=SIXTH)
