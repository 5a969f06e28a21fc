"""A year of a site in figures, from whatever nights are stored."""

from __future__ import annotations

from datetime import date

import pytest

from tests.conftest import Cast, store_nights
from trips.models import Night, Site
from trips.services.site_year import SiteYear, site_year


def year(cast: Cast, asked: int | None = None, today: date = date(2027, 2, 1)) -> SiteYear:
    found = site_year(Site.objects.get(pk=cast.site.pk), asked, today=today)
    assert found is not None
    return found


def test_nothing_stored_is_no_year(cast: Cast) -> None:
    assert site_year(cast.site, None, today=date(2027, 2, 1)) is None


def test_the_present_year_is_shown_when_it_has_nights(cast: Cast) -> None:
    store_nights(cast.site)
    store_nights(cast.site, date(2028, 3, 1), date(2028, 3, 2))
    assert year(cast).year == 2027
    assert year(cast).years == (2027, 2028)


@pytest.mark.parametrize(("today", "shown"), [(date(2026, 5, 1), 2027), (date(2030, 5, 1), 2027)])
def test_else_the_next_with_nights_or_the_last(cast: Cast, today: date, shown: int) -> None:
    store_nights(cast.site)
    assert year(cast, today=today).year == shown


def test_the_year_asked_for_is_shown(cast: Cast) -> None:
    store_nights(cast.site)
    store_nights(cast.site, date(2028, 3, 1), date(2028, 3, 2))
    assert year(cast, 2028).year == 2028


def test_a_year_without_nights_is_not_shown(cast: Cast) -> None:
    store_nights(cast.site)
    assert year(cast, 2031).year == 2027


def test_the_figures_are_those_of_the_stored_nights(cast: Cast) -> None:
    store_nights(cast.site)
    found = year(cast)
    assert (len(found.rows), found.nights_of_year, found.is_whole) == (31, 365, False)
    # 31 nights of 8, 7, … 0, 8, … hours: three rounds of 36 and 8 + 7 + 6 + 5.
    assert found.moonless_hours == pytest.approx(3 * 36 + 26)
    assert (found.dark_nights, found.never_dark) == (31, 0)
    assert [month.first for month in found.months] == [date(2027, 3, 1)]


def test_nights_that_never_get_dark_are_counted_with_what_15_degrees_give(cast: Cast) -> None:
    store_nights(cast.site)
    bright = Night.objects.filter(date__gte=date(2027, 3, 28))  # of 8, 7, 6 and 5 h
    bright.update(dark_hours_18=0, moonless_hours_18=0)
    found = year(cast)
    assert (found.never_dark, found.dark_at_15) == (4, 4)
    assert found.moonless_hours_at_15 == pytest.approx(26)


def test_stale_nights_are_counted(cast: Cast) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(elevation_m=900)
    assert year(cast).stale == 31


def test_fresh_nights_are_not_stale(cast: Cast) -> None:
    store_nights(cast.site)
    assert year(cast).stale == 0
