"""The compare page: sites against months, sorted, laid over each other, and as a table."""

from __future__ import annotations

import csv
from datetime import date
from io import StringIO
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, WHEN, Cast, invented_night, store_nights
from trips.almanac.fingerprint import site_fingerprint
from trips.models import Job, Night, Season, Site
from trips.tabular import read_table


def page(client: Client, cast: Cast, query: str = "") -> Any:
    return client.get(reverse("season_compare", args=[cast.season.pk]) + query)


def text(client: Client, cast: Cast, query: str = "") -> str:
    # No-break spaces keep a figure with its unit, joiners two months; neither is read.
    content: str = page(client, cast, query).content.decode()
    return content.replace("\xa0", " ").replace("\u2060", "")


def table(client: Client, cast: Cast, query: str = "") -> list[dict[str, str]]:
    response = client.get(reverse("season_compare_csv", args=[cast.season.pk]) + query)
    return list(csv.DictReader(StringIO(response.content.decode("utf-8-sig"))))


def order(client: Client, cast: Cast, query: str = "") -> list[str]:
    return [row.found.site.name for row in page(client, cast, query).context["rows"]]


def add_site(cast: Cast, name: str, *, hours: float | None = 8, **fields: Any) -> Site:
    """Add a site to the season, with that many moonless hours each night, or without nights."""
    values: dict[str, Any] = {"latitude": 40.4, "longitude": -1.1, "zone": "Europe/Madrid"}
    site = Site.objects.create(organisation=cast.club, name=name, **values | fields)
    cast.season.sites.add(site)
    if hours is not None:
        fingerprint = site_fingerprint(site)
        Night.objects.bulk_create(
            invented_night(site, date(2027, 3, day), moonless_hours=hours, fingerprint=fingerprint)
            for day in range(1, 32)
        )
    return site


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


def test_hours_that_no_other_site_offers_are_said_of_each(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Wether Fell", hours=1)
    shown = text(coordinator, cast)
    # Of every ninth night Broom Hill has no moonless hour.
    assert "Without Wether Fell you would lose 3.0 h of nights on which no other" in shown
    assert "Without Broom Hill you would lose no night" in shown
    assert "3.0 h only here" in shown


def test_nothing_is_said_to_be_only_here_while_nights_are_missing(
    cast: Cast, coordinator: Client
) -> None:
    add_site(cast, "Wether Fell")
    add_site(cast, "Zither Fell")
    shown = text(coordinator, cast)
    assert "you would lose" not in shown
    assert "only here" not in shown


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


def test_the_most_usable_hours_come_first(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    add_site(cast, "Zither Fell")
    assert order(coordinator, cast) == ["Zither Fell", "Broom Hill", "Alder Fell"]
    assert "Sorted by usable hours, the most first." in text(coordinator, cast)


@pytest.mark.parametrize(
    ("query", "first", "said"),
    [
        ("?sort=site", "Alder Fell", "by name, from A to Z"),
        ("?sort=site&way=most", "Broom Hill", "by name, from Z to A"),
        ("?sort=drive", "Alder Fell", "by drive, the nearest first"),
        ("?sort=drive&way=most", "Broom Hill", "by drive, the farthest first"),
        ("?sort=darkness", "Broom Hill", "by darkness, the darkest first"),
        ("?sort=usable&way=least", "Alder Fell", "by usable hours, the fewest first"),
        ("?sort=2027-03", "Broom Hill", "by usable hours in March 2027, the most first"),
        ("?sort=access", "Alder Fell", "by access, the freest first"),
        ("?sort=run", "Broom Hill", "by the hours of the best run, the most first"),
        ("?sort=candidates", "Broom Hill", "by candidate nights, the most first"),
    ],
)
def test_every_column_sorts_and_says_so(
    *, query: str, first: str, said: str, cast: Cast, coordinator: Client
) -> None:
    known = {"drive_minutes": 90, "sky_brightness": 21.6}
    Site.objects.filter(pk=cast.site.pk).update(**known)
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1, drive_minutes=30, sky_brightness=20.9, night_access="yes")
    assert order(coordinator, cast, query)[0] == first
    assert f"Sorted {said}." in text(coordinator, cast, query)


def test_the_head_of_the_sorted_column_says_its_direction(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    assert text(coordinator, cast, "?sort=drive").count('aria-sort="ascending"') == 1
    assert text(coordinator, cast).count('aria-sort="descending"') == 1
    assert text(coordinator, cast).count("aria-sort") == 1


def test_the_link_of_a_column_turns_its_order_round(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    heads = page(coordinator, cast, "?sort=drive").context["heads"]
    assert heads["drive"].address == "?sort=drive&way=most"
    assert heads["usable"].address == "?sort=usable&way=most"


def test_the_last_ones_without_a_figure_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    assert "Sites without that figure come last." in text(coordinator, cast, "?sort=drive")
    assert "Sites without that figure" not in text(coordinator, cast)


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("?sort=beauty", "“beauty” is no column of this table"),
        ("?sort=2027-13", "“2027-13” is no column of this table"),
        ("?sort=2027-04", "“2027-04” is no column of this table"),
        ("?way=up", "“up” is no order"),
        ("?year=1999", "“1999” is no year of this season"),
        ("?year=%00", "is no year of this season"),
        ("?sort=%3Cscript%3E", "“&lt;script&gt;” is no column"),
    ],
)
def test_nonsense_is_said_and_the_usual_shown(
    *, query: str, said: str, cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast, query)
    assert response.status_code == 200
    assert said in response.content.decode()
    assert "Sorted by usable hours, the most first." in response.content.decode()


def test_the_best_site_and_the_one_that_adds_most_are_laid_over(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    unlike = add_site(cast, "Alder Fell", hours=1)
    laid = page(coordinator, cast).context["laid"]
    assert (laid.first, laid.second) == (cast.site, unlike)
    # The 94 and 31 hours of the table: an hour of each night is at both but on the three nights
    # on which Broom Hill has none.
    shown = text(coordinator, cast)
    assert "28.0 h at both at the same time, 66.0 h only at Broom Hill" in shown
    assert "makes its 94.0 h, and 3.0 h only at Alder Fell, which makes its 31.0 h." in shown
    assert "on the clock of Broom Hill, Europe/Madrid," in shown


def test_other_sites_can_be_laid_over_and_the_order_is_kept(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    one, other = add_site(cast, "Alder Fell", hours=1), add_site(cast, "Zither Fell")
    query = f"?sort=site&over={one.pk}&with={other.pk}"
    laid = page(coordinator, cast, query).context["laid"]
    assert (laid.first, laid.second, laid.mistakes) == (one, other, [])
    shown = text(coordinator, cast, query)
    assert '<input type="hidden" name="sort" value="site">' in shown
    assert f"over={one.pk}&amp;with={other.pk}" in shown


@pytest.mark.parametrize("asked", ["0", "here", "1e3", "far", "³"])
def test_a_nonsense_site_is_said_and_the_usual_one_laid_over(
    asked: str, cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    # A site of another club is no better than nonsense.
    asked = str(cast.far_site.pk) if asked == "far" else asked
    shown = text(coordinator, cast, f"?over={asked}")
    assert f"“{asked}” is not a site of this season: Broom Hill is shown." in shown
    assert "Salt Quay" not in shown


def test_a_site_is_not_laid_over_itself(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    shown = text(coordinator, cast, f"?over={cast.site.pk}&with={cast.site.pk}")
    assert "Broom Hill cannot be laid over itself: Alder Fell is laid over it." in shown


def test_a_site_without_nights_is_not_laid_over(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    empty = add_site(cast, "Empty Fell", hours=None)
    shown = text(coordinator, cast, f"?with={empty.pk}")
    assert "No night of Empty Fell is computed: Alder Fell is shown." in shown


def test_a_season_of_three_years_is_shown_whole_or_by_the_year(
    cast: Cast, coordinator: Client
) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=date(2030, 2, 28))
    store_nights(cast.site, last=date(2030, 2, 28))
    whole, one = page(coordinator, cast), page(coordinator, cast, "?year=2028")
    assert (len(whole.context["month_heads"]), len(one.context["month_heads"])) == (36, 12)
    assert [year for year, _ in whole.context["years"]] == [2027, 2028, 2029, 2030]
    assert one.context["rows"][0].found.nights[0].date == date(2028, 1, 1)


def test_a_picture_of_a_long_season_shows_its_first_year(cast: Cast, coordinator: Client) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=date(2030, 2, 28))
    store_nights(cast.site, last=date(2030, 2, 28))
    store_nights(add_site(cast, "Twin Hill", hours=None), last=date(2030, 2, 28))
    laid = page(coordinator, cast).context["laid"]
    assert (laid.first_night, laid.last_night) == (FIRST, date(2028, 2, 29))
    assert laid.is_cut
    assert "Nights of 1 March 2027 to 29 February 2028." in text(coordinator, cast)


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


def test_the_table_has_a_row_a_site_with_plain_numbers(cast: Cast, coordinator: Client) -> None:
    Site.objects.filter(pk=cast.site.pk).update(
        sky_brightness=21.55, sky_measured_on=date(2026, 9, 11), drive_minutes=75,
        months_open=[2, 3, 4],
    )  # fmt: skip
    store_nights(cast.site)
    (row,) = table(coordinator, cast)
    assert row["site"] == "Broom Hill"
    assert (row["moonless_hours"], row["usable_hours"]) == ("134.0", "94.0")
    assert (row["darkness_mag_per_arcsec2"], row["darkness_measured_on"]) == ("21.55", "2026-09-11")
    assert (row["drive_minutes"], row["months_open"]) == ("75", "2 3 4")
    assert (row["best_run_first"], row["best_run_last"]) == ("2027-03-01", "2027-03-03")
    assert (row["moonless_hours_2027-03"], row["usable_hours_2027-03"]) == ("134.0", "94.0")
    assert (row["nights_computed"], row["nights_missing"]) == ("31", "0")


def test_the_table_says_what_a_site_takes_to_get_there(cast: Cast, coordinator: Client) -> None:
    Site.objects.filter(pk=cast.site.pk).update(
        elevation_m=900, vehicle="high", largest_group=12, night_access="permit"
    )
    (row,) = table(coordinator, cast)
    assert (row["elevation_m"], row["vehicle"], row["largest_group"]) == ("900.0", "high", "12")
    assert row["permit"] == "to ask"
    Site.objects.filter(pk=cast.site.pk).update(permit_number="invented-9")
    (row,) = table(coordinator, cast)
    assert row["permit"] == "held"
    assert "invented-9" not in row.values()


def test_a_permit_is_neither_held_nor_asked_for_where_none_is_needed(
    cast: Cast, coordinator: Client
) -> None:
    Site.objects.filter(pk=cast.site.pk).update(night_access="yes", permit_number="invented-9")
    assert table(coordinator, cast)[0]["permit"] == ""


def test_the_table_says_what_is_wished_of_nights(cast: Cast, coordinator: Client) -> None:
    query = "?days=fri&days=sat&until=03:00&dark=-15&avoid=5-7 March"
    (row,) = table(coordinator, cast, query)
    wished = {name.removeprefix("wished_"): row[name] for name in row if "wished" in name}
    assert wished == {
        "out_from": "civil dusk", "out_until": "03:00", "most_hours_out": "4.0",
        "least_hours": "2.0", "dark_level_degrees": "-15", "run_length": "3",
        "weekdays": "fri sat", "avoid": "2027-03-05/2027-03-07",
    }  # fmt: skip


def test_what_the_address_wishes_is_kept_by_heads_table_and_form(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell")
    context = page(coordinator, cast, "?days=sat&until=03:00").context
    wished = "days=sat&until=03%3A00"
    assert all(wished in head.address for head in context["heads"].values())
    assert all(wished in head.address for head in context["month_heads"])
    assert ("days", "sat") in context["asked"].carried
    assert f"sites.csv?{wished}".replace("&", "&amp;") in text(
        coordinator, cast, "?days=sat&until=03:00"
    )
    plain = page(coordinator, cast).context
    assert not any("days" in head.address for head in plain["heads"].values())


def test_the_table_leaves_empty_what_is_not_computed(cast: Cast, coordinator: Client) -> None:
    (row,) = table(coordinator, cast)
    assert (row["usable_hours"], row["candidate_nights"], row["best_run_first"]) == ("", "", "")
    assert (row["nights_computed"], row["nights_missing"]) == ("0", "31")


def test_the_table_does_not_say_where_a_site_is(cast: Cast, coordinator: Client) -> None:
    (row,) = table(coordinator, cast)
    assert not {"latitude", "longitude"} & set(row)
    assert "40.4" not in row.values()


def test_the_table_has_the_order_of_the_page(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Alder Fell", hours=1)
    for query in ("", "?sort=site"):
        rows = [row["site"] for row in table(coordinator, cast, query)]
        assert rows == order(coordinator, cast, query)


def test_no_name_becomes_a_formula(cast: Cast, coordinator: Client) -> None:
    for name in ("=cmd|' /C calc'!A0", "@SUM(A1)", "+1+1", "-1-1"):
        add_site(cast, name)
    names = {row["site"] for row in table(coordinator, cast)}
    assert names == {"Broom Hill", "'=cmd|' /C calc'!A0", "'@SUM(A1)", "'+1+1", "'-1-1"}


def test_the_table_can_be_read_by_our_own_reader(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = coordinator.get(reverse("season_compare_csv", args=[cast.season.pk]))
    (line,) = read_table(response.content, required=["site", "usable_hours"])
    assert (line.text("site"), line.decimal("usable_hours")) == ("Broom Hill", 94)
    assert response.headers["Content-Type"] == "text/csv; charset=utf-8"
    disposition = response.headers["Content-Disposition"]
    assert disposition == 'attachment; filename="sites-spring-2027.csv"'


def test_a_season_of_a_week_has_its_page(cast: Cast, coordinator: Client) -> None:
    Season.objects.filter(pk=cast.season.pk).update(last_night=date(2027, 3, 7))
    store_nights(cast.site, last=date(2027, 3, 7))
    response = page(coordinator, cast)
    assert len(response.context["month_heads"]) == 1
    assert response.context["rows"][0].trouble is None
