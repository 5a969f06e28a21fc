"""The sites of a season as a table for a spreadsheet."""

from __future__ import annotations

from datetime import date

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, store_nights
from tests.trips.compare_pages import add_site, order, table
from trips.models import Site
from trips.tabular import read_table


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
        "weekdays": "fri sat", "avoid": "2027-03-05/2027-03-07", "targets": "",
    }  # fmt: skip


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
