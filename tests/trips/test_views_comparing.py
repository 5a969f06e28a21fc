"""The compare page: sites against months, and what is said of them in words."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import WHEN, Cast, store_nights
from tests.trips.compare_pages import add_site, page, table, text
from trips.models import Job, Night, Season, Site


def test_a_stranger_finds_no_page_and_no_table(cast: Cast, signed_in: Any) -> None:
    for name in ("season_compare", "season_compare_csv"):
        response = signed_in("stranger").get(reverse(name, args=[cast.season.pk]))
        assert response.status_code == 404


def test_sites_stand_against_months_with_both_figures(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    row = page(coordinator, cast).context["rows"][0]
    # 31 nights of 8, 7, … 0, 8, … hours: three rounds of 36 and 8 + 7 + 6 + 5. Of each night at
    # most four hours count: three rounds of 26 and 4 × 4.
    assert row.months[0].moonless == pytest.approx(3 * 36 + 26)
    assert row.months[0].usable == pytest.approx(3 * 26 + 16)
    shown = text(coordinator, cast)
    assert "<span>134</span>" in shown
    assert "<b>94</b>" in shown


def test_the_first_line_names_the_best_site_and_a_nearer_one(
    cast: Cast, coordinator: Client
) -> None:
    known = {"night_access": "yes", "sky_brightness": 21.5}
    Site.objects.filter(pk=cast.site.pk).update(drive_minutes=75, **known)
    store_nights(cast.site)
    add_site(cast, "Far Fell", hours=3.1, drive_minutes=95, **known)
    shown = text(coordinator, cast)
    assert "Far Fell gives the most usable hours, 96.1 h in 31 candidate nights;" in shown
    assert "Broom Hill is nearly as good with 94.0 h, 20 min nearer." in shown


def test_no_site_is_praised_without_saying_what_is_not_known_of_it(
    cast: Cast, coordinator: Client
) -> None:
    Site.objects.filter(pk=cast.site.pk).update(drive_minutes=75)
    store_nights(cast.site)
    add_site(
        cast, "Far Fell", hours=3.1, drive_minutes=95, night_access="permit", sky_brightness=21.5
    )
    shown = text(coordinator, cast)
    assert "in 31 candidate nights (by permit);" in shown
    assert "20 min nearer (access at night not known, darkness not measured)." in shown


@pytest.mark.parametrize(
    ("darkness", "said"),
    [
        (21.5, "drive and darkness decide between them."),
        (None, "drive and darkness would decide between them, but at 1 of them one or the other"),
    ],
)
def test_drive_and_darkness_decide_only_where_both_are_known(
    darkness: float | None, said: str, cast: Cast, coordinator: Client
) -> None:
    cast.season.sites.clear()
    for n, hours in enumerate((3.1, 3.11)):
        add_site(cast, f"Fell {n}", hours=hours, drive_minutes=50, sky_brightness=21)
    add_site(cast, "Fell 2", hours=3.12, drive_minutes=60, sky_brightness=darkness)
    assert said in text(coordinator, cast)


def test_equal_sites_are_named_as_equals(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    store_nights(add_site(cast, "Twin Hill", hours=None))
    Site.objects.update(night_access="yes", sky_brightness=21.5)
    said = "Broom Hill and Twin Hill give the most usable hours, 94.0 h each."
    assert said in text(coordinator, cast)


def test_a_single_site_is_not_compared(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    shown = text(coordinator, cast)
    assert "1 site, Spring 2027" in shown
    assert "Broom Hill gives 94.0 h you can use, in 25 candidate nights." in shown
    assert "there are not two yet" in shown


def test_a_zero_is_printed_and_not_drawn(cast: Cast, coordinator: Client) -> None:
    add_site(cast, "Bright Hill", hours=0)
    shown = text(coordinator, cast)
    assert '<span>0</span><b class="nil">0</b>' in shown
    assert "No site has a usable hour in these nights." in shown


def test_without_candidates_the_lighter_levels_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Night.objects.update(moonless_18=[], moonless_hours_18=0, dark_18=[], dark_hours_18=0)
    assert "25 with Sun 15° down" in text(coordinator, cast)


def test_a_month_that_is_not_computed_is_a_dash_with_words(cast: Cast, coordinator: Client) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=date(2027, 4, 30))
    store_nights(cast.site, last=date(2027, 4, 30))
    add_site(cast, "Wether Fell")
    shown = text(coordinator, cast)
    assert '<span>–<i class="visually-hidden">not computed</i></span>' in shown
    assert "30 nights not computed" in shown


def test_a_site_without_nights_says_so_and_where_they_are_made(
    cast: Cast, coordinator: Client
) -> None:
    shown = text(coordinator, cast)
    assert "Nothing to compare yet: no night of this season is computed." in shown
    assert "being computed, 12 of 31" in shown
    assert reverse("job_detail", args=[cast.job.pk]) in shown


def test_a_failed_computation_is_linked(cast: Cast, coordinator: Client) -> None:
    Job.objects.filter(pk=cast.job.pk).update(state=Job.State.FAILED, finished_at=WHEN)
    shown = text(coordinator, cast)
    assert "computing failed, see why" in shown
    assert reverse("season_recompute", args=[cast.season.pk]) in shown


def test_stale_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(elevation_m=900)
    assert "31 nights out of date" in text(coordinator, cast)


def test_fresh_nights_are_not_complained_of(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    shown = text(coordinator, cast)
    assert "out of date" not in shown
    assert "not computed" not in shown
    assert "Compute what is missing" not in shown


def test_hours_while_a_site_is_closed_are_not_usable(cast: Cast, coordinator: Client) -> None:
    Site.objects.filter(pk=cast.site.pk).update(months_open=[5, 6])
    store_nights(cast.site)
    shown = text(coordinator, cast)
    assert '<b class="nil">shut</b>' in shown
    assert "of 25</span>" in shown
    assert "open May–Jun" in shown


def test_a_month_in_which_a_site_is_open_on_some_nights_is_not_shut(
    cast: Cast, coordinator: Client
) -> None:
    Site.objects.filter(pk=cast.site.pk).update(
        road_closed_from=date(2027, 3, 1), road_closed_to=date(2027, 3, 30)
    )
    store_nights(cast.site)
    assert ">shut<" not in text(coordinator, cast)


def test_other_runs_that_are_as_good_are_counted_with_their_moon(
    cast: Cast, coordinator: Client
) -> None:
    cast.season.sites.clear()
    add_site(cast, "Wether Fell")
    shown = text(coordinator, cast)
    assert "other runs at this new Moon as good" in shown


def test_sites_left_out_of_the_test_of_darkness_are_named_beside_it(
    cast: Cast, coordinator: Client
) -> None:
    add_site(cast, "Near Fell", drive_minutes=40, sky_brightness=21.1)
    said = "Darker than every nearer site; left out, as not measured: Broom Hill</h3>"
    assert said in text(coordinator, cast)
    Site.objects.filter(pk=cast.site.pk).update(sky_brightness=20.4)
    assert "Darker than every nearer site</h3>" in text(coordinator, cast)


def test_drive_and_access_stand_under_the_name_too(cast: Cast, coordinator: Client) -> None:
    Site.objects.filter(pk=cast.site.pk).update(drive_minutes=75, night_access="permit")
    store_nights(cast.site)
    under = text(coordinator, cast).split('<th scope="row"', 1)[1].split("</th>", 1)[0]
    assert "94.0 h usable" in under
    assert "75 min drive" in under
    assert "by permit" in under
    assert "Scroll the table sideways" in text(coordinator, cast)


def test_what_nobody_knows_of_a_site_is_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    shown = text(coordinator, cast)
    assert "not measured" in shown
    assert "not known" in shown
    assert "Measure overhead on a moonless night" in shown


def test_a_season_without_sites_says_what_to_do(cast: Cast, coordinator: Client) -> None:
    cast.season.sites.clear()
    shown = text(coordinator, cast)
    assert "This season has no sites yet." in shown
    assert reverse("season_edit", args=[cast.season.pk]) in shown


def test_a_season_of_three_years_is_shown_whole_or_by_the_year(
    cast: Cast, coordinator: Client
) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=date(2030, 2, 28))
    store_nights(cast.site, last=date(2030, 2, 28))
    whole, one = page(coordinator, cast), page(coordinator, cast, "?year=2028")
    assert (len(whole.context["month_heads"]), len(one.context["month_heads"])) == (36, 12)
    assert [year for year, _ in whole.context["years"]] == [2027, 2028, 2029, 2030]
    assert one.context["rows"][0].found.nights[0].date == date(2028, 1, 1)


def test_a_year_has_no_choice_of_years(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    assert page(coordinator, cast).context["years"] == []


@pytest.mark.parametrize(
    "name", ["<b>Hill</b>", "山の上の静かな観測所", "قمة الجبل", "W" * 120, "=1+1"]
)
def test_names_in_any_script_stand_as_they_are(name: str, cast: Cast, coordinator: Client) -> None:
    add_site(cast, name)
    response = page(coordinator, cast)
    assert response.status_code == 200
    assert "<b>Hill</b>" not in response.content.decode()
    assert table(coordinator, cast)[0]["site"].removeprefix("'") == name


@pytest.mark.parametrize("sites", [1, 8])
def test_the_page_takes_few_queries_however_many_sites(
    sites: int, cast: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    store_nights(cast.site)
    for n in range(1, sites):
        add_site(cast, f"Site {n}")
    with django_assert_max_num_queries(10):
        assert page(coordinator, cast).status_code == 200


def test_a_season_of_a_week_has_its_page(cast: Cast, coordinator: Client) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=date(2027, 3, 7))
    store_nights(cast.site, last=date(2027, 3, 7))
    response = page(coordinator, cast)
    assert len(response.context["month_heads"]) == 1
    assert response.context["rows"][0].trouble is None
