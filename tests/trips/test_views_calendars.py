"""A season to hand round: the calendar of a site, and its nights for a spreadsheet."""

from __future__ import annotations

import csv
import io
from datetime import UTC, date, datetime
from types import SimpleNamespace
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, LAST, Cast, store_nights
from trips.models import Night, Season, Site
from trips.views import calendars
from trips.views.night_records import HEADING


def calendar(client: Client, cast: Cast, query: str = "") -> Any:
    return client.get(reverse("season_calendar", args=[cast.season.pk]) + query)


def nights(client: Client, cast: Cast, query: str = "") -> list[dict[str, str]]:
    response = client.get(reverse("season_nights_csv", args=[cast.season.pk]) + query)
    assert response.status_code == 200
    text = response.content.decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def second_site(cast: Cast, name: str) -> Site:
    site = Site.objects.create(
        organisation=cast.club, name=name, latitude=41.0, longitude=-1.0, zone="Europe/Madrid"
    )
    cast.season.sites.add(site)
    return site


def test_all_months_of_a_site_are_on_one_page(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    page = calendar(coordinator, cast).content.decode()
    assert "<strong>March 2027</strong>" in page
    assert page.count(f'href="/sites/{cast.site.pk}/nights/') == 31
    assert "Broom Hill" in page


def test_it_says_how_to_read_it_and_what_is_not_in_it(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    page = calendar(coordinator, cast).content.decode()
    assert "Europe/Madrid" in page
    assert "A date names its evening" in page
    assert "a double rule a run" in page
    assert 'class="caution"' in page


def test_the_site_of_the_address_is_shown(cast: Cast, coordinator: Client) -> None:
    other = second_site(cast, "Ermita <Alta> & 夜")
    for site in (cast.site, other):
        store_nights(site)
    page = calendar(coordinator, cast, f"?site={other.pk}").content.decode()
    assert f"/sites/{other.pk}/nights/" in page
    assert f"/sites/{cast.site.pk}/nights/" not in page
    assert "Ermita &lt;Alta&gt; &amp; 夜" in page
    assert "<Alta>" not in page


@pytest.mark.parametrize("asked", ["999999", "here", "-1", "%00"])
def test_a_site_that_is_not_of_the_season_is_no_page(
    asked: str, cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    for name in ("season_calendar", "season_nights_csv"):
        address = reverse(name, args=[cast.season.pk]) + f"?site={asked}"
        assert coordinator.get(address).status_code == 404


def test_a_season_without_sites_says_what_to_do(cast: Cast, coordinator: Client) -> None:
    cast.season.sites.clear()
    response = calendar(coordinator, cast)
    assert response.status_code == 200
    assert "Choose its sites" in response.content.decode()


def test_a_season_without_nights_says_so(cast: Cast, coordinator: Client) -> None:
    page = calendar(coordinator, cast).content.decode()
    assert "No night is computed yet." in page
    assert "<table" not in page


def test_nights_that_are_missing_are_counted(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Night.objects.filter(date=FIRST.replace(day=9)).delete()
    page = calendar(coordinator, cast).content.decode()
    assert "1 night is not computed yet" in page
    assert "no figures" in page


def test_the_wishes_of_the_address_count(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    page = calendar(coordinator, cast, "?days=fri&days=sat").content.decode()
    assert "other weekday" in page
    assert "does not suit" not in calendar(coordinator, cast).content.decode()


def test_nonsense_in_the_address_is_said_and_the_seasons_own_is_used(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    page = calendar(coordinator, cast, "?run=1000&until=25:00").content.decode()
    assert page.count('class="warning"') == 2
    assert "<strong>March 2027</strong>" in page


def test_links_keep_the_wishes(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    other = second_site(cast, "Ermita")
    store_nights(other)
    page = calendar(coordinator, cast, f"?run=2&site={cast.site.pk}").content.decode()
    assert f"/calendar/?run=2&amp;site={other.pk}" in page
    assert f"/nights.csv?run=2&amp;site={cast.site.pk}" in page


def test_the_calendar_asks_few_questions_of_the_database(
    cast: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    store_nights(cast.site)
    with django_assert_max_num_queries(12):
        calendar(coordinator, cast)


def test_every_night_is_a_row_with_local_times(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    rows = nights(coordinator, cast)
    assert [row["night"] for row in rows][:: len(rows) - 1] == [f"{FIRST}", f"{LAST}"]
    # Winter time, then summer time from the 28th on.
    assert rows[0]["sunset"] == "2027-03-01T19:00:00+01:00"
    assert rows[30]["sunset"] == "2027-03-31T20:00:00+02:00"
    assert rows[0]["dark"] == "2027-03-01T21:00:00+01:00/2027-03-02T05:00:00+01:00"
    assert tuple(rows[0]) == HEADING


def test_a_row_says_what_is_usable_and_what_is_not_offered(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    rows = nights(coordinator, cast, "?days=mon&run=1")
    monday, tuesday = rows[0], rows[1]
    assert monday["usable_from"] == "2027-03-01T21:00:00+01:00"
    assert (monday["usable_hours"], monday["candidate"], monday["not_offered"]) == ("4.0", "1", "")
    assert (tuesday["candidate"], tuesday["run"], tuesday["not_offered"]) == ("0", "", "weekday")
    assert any(row["run"] == "1" for row in rows)


def test_a_plain_sum_counts_the_evenings_that_are_offered(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    rows = nights(coordinator, cast, "?days=mon&run=1")
    tuesday = rows[1]
    told = [tuesday[name] for name in ("usable_from", "usable_until", "usable_hours")]
    assert told == ["", "", ""]
    assert tuesday["usable_hours_if_offered"] == "4.0"
    mondays = [row for row in rows if not row["not_offered"]]
    for column in ("usable_hours", "candidate"):
        assert sum(float(row[column] or 0) for row in rows) == sum(
            float(row[column]) for row in mondays
        )


def test_every_sheet_says_whose_it_is_and_what_to_know(cast: Cast, coordinator: Client) -> None:
    Site.objects.update(
        night_access="permit", permit_lead_days=21, drive_minutes=95, largest_group=10
    )
    Season.objects.update(first_night=date(2027, 1, 1), last_night=date(2027, 12, 31))
    store_nights(cast.site, date(2027, 1, 1), date(2027, 12, 31))
    page = calendar(coordinator, cast).content.decode()
    assert page.count('class="sheet"') == 2
    assert page.count('<p class="again">Spring 2027, Broom Hill</p>') == 1
    for told in (
        cast.club.name,
        "Times of Europe/Madrid. Out from civil dusk to 02:00. 95 min drive.",
        "Access: permit still to ask for, 21 days ahead; at most 10 people.",
        "Mind: cliff or steep edge; cold and wind; driving tired.",
        "Local rules and land managers decide.",
    ):
        assert page.count(told) == 2, told


def test_a_short_season_has_one_sheet(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    page = calendar(coordinator, cast).content.decode()
    assert page.count('class="sheet"') == 1
    assert 'class="again"' not in page


def test_the_day_of_printing_is_the_sites_own(
    cast: Cast, coordinator: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    store_nights(cast.site)
    late = datetime(2027, 1, 31, 23, 30, tzinfo=UTC)
    monkeypatch.setattr(calendars, "timezone", SimpleNamespace(now=lambda: late))
    assert "Printed 1 February 2027." in calendar(coordinator, cast).content.decode()


def test_a_sheet_asks_to_go_by_day_where_no_danger_is_written_down(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    asked = "Nobody has written down a danger here: go once by day."
    assert asked not in calendar(coordinator, cast).content.decode()
    cast.site.hazards.all().delete()
    assert asked in calendar(coordinator, cast).content.decode()


def test_each_night_says_when_and_one_that_is_not_offered_does_not(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    when = '<b>4.0\u00a0h</b><small class="when">21:00–01:00</small>'
    assert when in calendar(coordinator, cast).content.decode()
    Site.objects.update(months_open=[4])
    page = calendar(coordinator, cast).content.decode()
    assert 'class="when"' not in page
    assert 'class="usable"' not in page
    assert "<b>" not in page


def test_the_window_of_the_strips_is_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    page = calendar(coordinator, cast).content.decode()
    assert "Strips run from 20:00 to 07:00, those of tables from 16:00 to 09:00." in page


def test_what_is_not_there_is_empty_and_has_a_note(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    moonlit = next(row for row in nights(coordinator, cast) if row["moonless_hours"] == "0.0")
    assert moonlit["moonless"] == moonlit["usable_from"] == ""
    assert moonlit["note"] == "moon_up_while_dark"


def test_numbers_of_the_table_are_never_localised(
    cast: Cast, coordinator: Client, settings: Any
) -> None:
    settings.LANGUAGE_CODE = "de"
    store_nights(cast.site)
    assert nights(coordinator, cast)[0]["moon_illuminated"] == "0.23"


def test_the_file_is_named_in_any_script(cast: Cast, coordinator: Client) -> None:
    cast.site.name = "夜の丘"
    cast.site.save()
    response = coordinator.get(reverse("season_nights_csv", args=[cast.season.pk]))
    assert "filename*=utf-8''nights-spring-2027-%E5%A4%9C" in response["Content-Disposition"]


def test_a_season_without_sites_has_no_table(cast: Cast, coordinator: Client) -> None:
    cast.season.sites.clear()
    address = reverse("season_nights_csv", args=[cast.season.pk])
    assert coordinator.get(address).status_code == 404
