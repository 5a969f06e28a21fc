"""The compare page of a season that wants targets: their hours beside the moonless."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client

from tests.conftest import Cast, store_nights
from tests.trips.compare_pages import add_site, order, page, table, text
from tests.trips.stored_windows import store_windows
from trips.models import Season, Site, TargetEntry

DAYS = range(1, 11)


@pytest.fixture
def wanted(cast: Cast) -> TargetEntry:
    """The season wants the galactic core alone; nights of the one site are stored."""
    core: TargetEntry = cast.target_list.entries.all()[0]
    TargetEntry.objects.exclude(pk=core.pk).delete()
    Season.objects.filter(pk=cast.season.pk).update(target_list=cast.target_list)
    store_nights(cast.site)
    return core


def stand(core: TargetEntry, site: Site, hours: float) -> None:
    """Let the core stand right on ten evenings, from 20:00 UTC on."""
    store_windows(core, site, {date(2027, 3, day): (0, hours) for day in DAYS})


def test_target_hours_stand_below_the_bar_of_the_moonless(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    stand(wanted, cast.site, 2)
    html = text(coordinator, cast)
    # As without the list: 94 h; ten evenings of two hours.
    assert "<span>94</span>" in html
    assert "<b>20</b>" in html
    assert "hours of the wanted targets, weighted; the number stands below the bar" in html
    assert "Broom Hill gives 20.0 h of the wanted targets." in html


def test_without_a_list_no_target_is_spoken_of(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    html = text(coordinator, cast)
    assert "<span>134</span>" in html
    assert "<b>94</b>" in html
    assert "wanted targets" not in html
    assert "sort-targets" not in html


def test_the_dark_alone_can_be_wished_for_in_the_address(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    stand(wanted, cast.site, 2)
    html = text(coordinator, cast, "?targets=")
    assert "<b>94</b>" in html
    assert "hours of the wanted targets" not in html


def test_an_hour_counts_by_the_weight_of_its_target(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    TargetEntry.objects.update(weight=0.5)
    stand(wanted, cast.site, 2)
    html = text(coordinator, cast)
    assert "<b>10</b>" in html
    assert "<span>94</span>" in html


def test_sites_are_sorted_by_target_hours_and_not_by_the_dark(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    darker = add_site(cast, "Darker Hill", hours=8)
    stand(wanted, cast.site, 3)
    stand(wanted, darker, 1)
    assert order(coordinator, cast) == ["Broom Hill", "Darker Hill"]
    assert order(coordinator, cast, "?targets=") == ["Darker Hill", "Broom Hill"]
    assert order(coordinator, cast, "?sort=targets&way=least") == ["Darker Hill", "Broom Hill"]


def test_the_order_says_target_hours(cast: Cast, coordinator: Client, wanted: TargetEntry) -> None:
    stand(wanted, cast.site, 3)
    assert "Sorted by target hours, the most first." in text(coordinator, cast)
    in_march = text(coordinator, cast, "?sort=2027-03&way=least")
    assert "Sorted by target hours in March 2027, the fewest first." in in_march


def test_target_hours_are_no_column_without_a_list(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    html = text(coordinator, cast, "?sort=targets")
    assert "“targets” is no column of this table: it is sorted by usable hours." in html


def test_no_target_that_stands_right_is_said_and_a_zero_printed(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    stand(wanted, cast.site, 0)
    html = text(coordinator, cast)
    assert "No target of “Summer sky” stands right at any site while you are out" in html
    assert '<b class="nil">0</b>' in html
    assert "no target hours" in html


def test_windows_that_are_not_computed_are_said_with_the_button(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    html = text(coordinator, cast)
    assert "target hours are missing" in html
    assert "1 window of targets not computed" in html
    assert "Compute what is missing" in html


def test_computed_windows_are_not_complained_of(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    stand(wanted, cast.site, 2)
    html = text(coordinator, cast)
    assert "target hours are missing" not in html
    assert "Compute what is missing" not in html


def test_windows_of_a_list_in_the_address_are_offered_to_be_computed_for_it(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    Season.objects.filter(pk=cast.season.pk).update(target_list=None)
    html = text(coordinator, cast, f"?targets={cast.target_list.pk}")
    assert "Compute what is missing" in html
    assert f'name="targets" value="{cast.target_list.pk}"' in html


def test_windows_of_the_season_s_own_list_are_offered_as_they_are(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    html = text(coordinator, cast)
    assert "Compute what is missing" in html
    assert f'name="targets" value="{cast.target_list.pk}"' not in html


def test_the_table_has_target_hours_beside_usable_ones(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    stand(wanted, cast.site, 2)
    (row,) = table(coordinator, cast)
    assert (row["target_hours"], row["usable_hours"], row["moonless_hours"]) == (
        "20.0", "94.0", "134.0",
    )  # fmt: skip
    march = [row[f"{kind}_hours_2027-03"] for kind in ("target", "usable", "moonless")]
    assert march == ["20.0", "94.0", "134.0"]
    assert (row["wished_targets"], row["target_windows_missing"]) == ("Summer sky", "0")
    assert (row["best_run_first"], row["best_run_hours"]) == ("2027-03-01", "6.0")


def test_the_table_without_a_list_has_no_target_hours(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    (row,) = table(coordinator, cast)
    assert "target_hours" not in row
    assert row["wished_targets"] == ""


def test_two_sites_are_laid_over_by_what_counts(
    cast: Cast, coordinator: Client, wanted: TargetEntry
) -> None:
    TargetEntry.objects.update(weight=0.5)
    other = add_site(cast, "Other Hill")
    stand(wanted, cast.site, 3)
    stand(wanted, other, 1)
    html = text(coordinator, cast)
    assert (
        "Hours of wanted targets, each counted whole: 10.0 h at both at the same time, 20.0 h "
        "only at Broom Hill, which makes 30.0 h there, and none only at Other Hill"
    ) in html


@pytest.mark.parametrize("sites", [1, 8])
def test_the_page_takes_few_queries_however_many_sites(
    sites: int,
    cast: Cast,
    coordinator: Client,
    wanted: TargetEntry,
    django_assert_max_num_queries: Any,
) -> None:
    stand(wanted, cast.site, 2)
    for n in range(1, sites):
        stand(wanted, add_site(cast, f"Site {n}"), 2)
    with django_assert_max_num_queries(10):
        assert page(coordinator, cast).status_code == 200
