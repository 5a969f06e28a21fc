"""The same night at the other sites of the season, on the page of one."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, WHEN, Cast
from tests.trips.one_night import (
    Told,
    another_site,
    compute,
    get,
    store,
    teller,
)
from trips.models import Site


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    return teller(coordinator, cast)


def test_the_other_sites_stand_in_the_order_of_usable_hours(cast: Cast, told: Told) -> None:
    poor, rich = another_site(cast, "Poor Hill"), another_site(cast, "Rich Hill")
    store(cast.site, 3)
    store(poor, 1)
    store(rich, 8)
    text = told()
    text = text[text.index('id="elsewhere"') :]
    assert text.index("Rich Hill") < text.index("Broom Hill") < text.index("Poor Hill")
    assert reverse("night_detail", args=[rich.pk, FIRST]) in text
    assert f'href="{reverse("night_detail", args=[cast.site.pk, FIRST])}' not in text


def test_what_is_closed_or_not_computed_stands_behind_and_says_so(cast: Cast, told: Told) -> None:
    another_site(cast, "Absent Hill")
    shut = another_site(cast, "Barred Hill", night_access="no")
    store(cast.site, 1)
    store(shut, 8)
    text = told()
    text = text[text.index('id="elsewhere"') :]
    assert text.index("Broom Hill") < text.index("Barred Hill") < text.index("Absent Hill")
    assert "not allowed at night" in text
    assert "not computed" in text


def test_where_it_is_not_plainly_open_the_note_says_what_to_settle(cast: Cast, told: Told) -> None:
    asking = {"night_access": "permit", "permit_lead_days": 21, "largest_group": 10}
    store(another_site(cast, "Asking Hill", **asking), 5)
    store(another_site(cast, "Open Hill", largest_group=12), 4)
    Site.objects.filter(name="Open Hill").update(night_access="yes")
    store(cast.site, 3)
    text = told()
    text = text[text.index('id="elsewhere"') :]
    assert "by 8 February 2027; at most 10 people" in text
    assert "access at night not known; largest group not written down" in text  # Broom Hill
    assert "open</td>" in text
    assert "12 people" not in text


def test_the_strips_of_all_sites_have_the_window_of_the_seasons_chart(
    cast: Cast, told: Told
) -> None:
    another_site(cast, "Near Hill")
    store(cast.site, 5)
    assert "The night from 16:00 to 09:00" in told()


def test_a_closed_site_among_the_others_has_no_block_to_use(cast: Cast, told: Told) -> None:
    store(another_site(cast, "Barred Hill", night_access="no"), 8)
    store(cast.site, 5)
    text = told()
    text = text[text.index('id="elsewhere"') :]
    assert text.count('class="usable"') == 1
    assert '<td class="number soft">4.0' in text


def test_each_site_keeps_its_own_clock(cast: Cast, told: Told) -> None:
    south = another_site(
        cast, "Tussock Ridge", latitude=-44.0, longitude=170.5, zone="Pacific/Auckland"
    )
    store(cast.site, 5)
    compute(south, FIRST)
    assert "22:07–05:34" in told()


def test_a_site_alone_in_its_season_has_no_table_of_others(cast: Cast, told: Told) -> None:
    store(cast.site, 5)
    assert "The same night at the other sites" not in told()


def test_an_archived_site_is_not_among_the_others(cast: Cast, told: Told) -> None:
    gone = another_site(cast, "Gone Hill")
    another_site(cast, "Near Hill")
    Site.objects.filter(pk=gone.pk).update(archived_at=WHEN)
    store(cast.site, 5)
    text = told()
    assert "Near Hill" in text
    assert "Gone Hill" not in text


def test_of_very_many_sites_the_best_are_shown_and_this_one(cast: Cast, told: Told) -> None:
    for number in range(25):
        store(another_site(cast, f"Hill {number:02}"), 5)
    store(cast.site, 1)
    text = told()
    assert text.count(">Hill ") == 20
    assert "this page; " in text
    assert "5 more sites are left out here." in text


def test_of_a_few_sites_none_is_left_out(cast: Cast, told: Told) -> None:
    store(another_site(cast, "Rich Hill"), 5)
    assert "left out here." not in told()


def test_a_page_with_ten_sites_asks_the_database_little(
    cast: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    store(cast.site, 5)
    for number in range(9):
        store(another_site(cast, f"Hill {number}"), 4)
    with django_assert_max_num_queries(12):
        get(coordinator, cast.site)
