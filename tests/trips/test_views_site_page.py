"""The page of a site: what decides a drive, what can hurt, its year, and what comes next."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, store_nights
from trips.models import Hazard, Job, Night, Season, Site


def page(client: Client, cast: Cast, query: str = "") -> str:
    answer: str = client.get(reverse("site_detail", args=[cast.site.pk]) + query).content.decode()
    return answer


def of_site(cast: Cast, **fields: Any) -> None:
    Site.objects.filter(pk=cast.site.pk).update(**fields)


def test_the_first_line_says_access_drive_and_darkness(cast: Cast, coordinator: Client) -> None:
    of_site(cast, night_access="permit", drive_minutes=75)
    assert "By permit at night; 75 min drive, any car; darkness not measured, only " in page(
        coordinator, cast
    )


def test_a_measured_darkness_carries_its_date(cast: Cast, coordinator: Client) -> None:
    of_site(cast, sky_brightness=21.63, sky_measured_on=date(2026, 3, 4))
    text = page(coordinator, cast)
    assert "21.63 mag/arcsec² at the zenith, measured, 4 March 2026" in text


def test_a_position_can_be_opened_in_a_map(cast: Cast, coordinator: Client) -> None:
    assert 'href="geo:40.400000,-1.100000"' in page(coordinator, cast)


def test_a_sensitive_position_is_said_and_has_no_link(cast: Cast, coordinator: Client) -> None:
    of_site(cast, position_is_sensitive=True)
    text = page(coordinator, cast)
    assert "do not hand it round" in text
    assert "geo:" not in text


def test_dangers_defer_to_local_rules(cast: Cast, coordinator: Client) -> None:
    assert "Local rules, land managers and licensed guides come before" in page(coordinator, cast)


def test_a_site_without_dangers_says_that_nobody_looked(cast: Cast, coordinator: Client) -> None:
    Hazard.objects.all().delete()
    assert "Nobody has written down a danger" in page(coordinator, cast)


def test_a_site_with_dangers_does_not_say_so(cast: Cast, coordinator: Client) -> None:
    assert "Nobody has written down a danger" not in page(coordinator, cast)


def test_without_stored_nights_the_page_says_how_to_get_them(
    cast: Cast, coordinator: Client
) -> None:
    Job.objects.all().delete()
    assert "computed once a season names it" in page(coordinator, cast)


def test_the_year_stands_in_one_line_with_its_chart(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast)
    assert "All 31 nights get dark (Sun 18° down); 134 h of the dark is moonless." in text
    assert "31 of the year’s 365 nights are stored." in text
    assert "<svg" in text


def test_the_chart_says_of_each_night_whether_one_may_be_there(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    of_site(cast, months_open=[4], night_access="yes")
    assert "Closed in March." in page(coordinator, cast)
    of_site(cast, months_open=[3])
    text = page(coordinator, cast)
    assert "Allowed at night." in text
    assert "Closed in March." not in text


def test_nights_that_never_get_dark_say_what_the_next_level_gives(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    Night.objects.filter(date__gte=date(2027, 3, 28)).update(dark_hours_18=0, moonless_hours_18=0)
    text = page(coordinator, cast)
    assert "27 of 31 nights get dark" in text
    assert "Of the 4 that do not, 4 get there with the Sun 15° down: 26 h more, moonless." in text


def test_a_year_can_be_chosen(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    store_nights(cast.site, date(2028, 3, 1), date(2028, 3, 2))
    text = page(coordinator, cast, "?year=2028")
    assert "The nights of 2028" in text
    assert 'href="?year=2027#year"' in text


def test_a_year_without_nights_is_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast, "?year=2031")
    assert "No night of 2031 is stored: 2027 is shown." in text


@pytest.mark.parametrize("asked", ["soon", "20270", "²027", "", "-1"])
def test_nonsense_for_a_year_is_said(asked: str, cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast, f"?year={asked}")
    assert "is not a year; write it like 2027." in text
    assert "The nights of 2027" in text


def test_stale_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    of_site(cast, elevation_m=900)
    assert "31 of these nights are out of date" in page(coordinator, cast)


def test_fresh_nights_are_not_called_stale(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    assert "out of date" not in page(coordinator, cast)


def test_the_first_site_leads_to_a_first_season(cast: Cast, coordinator: Client) -> None:
    Season.objects.all().delete()
    text = page(coordinator, cast)
    assert "Next: a season" in text
    assert f'class="button main" href="{reverse("season_add", args=[cast.club.pk])}"' in text


def test_a_site_in_no_season_ahead_leads_to_the_seasons(cast: Cast, coordinator: Client) -> None:
    Season.objects.update(first_night=date(2050, 3, 1), last_night=date(2050, 3, 31))
    cast.season.sites.clear()
    assert "No season ahead names this site yet." in page(coordinator, cast)


def test_a_site_in_a_season_ahead_asks_for_nothing_next(cast: Cast, coordinator: Client) -> None:
    Season.objects.update(first_night=date(2050, 3, 1), last_night=date(2050, 3, 31))
    assert "Next: a season" not in page(coordinator, cast)


def test_an_open_job_is_shown(cast: Cast, coordinator: Client) -> None:
    assert "12 of 31 nights computed" in page(coordinator, cast)


def test_archiving_a_site_that_changed_meanwhile_is_told(cast: Cast, coordinator: Client) -> None:
    of_site(cast, version=2)
    address = reverse("site_archive", args=[cast.site.pk])
    response = coordinator.post(address, {"version": "1"}, follow=True)
    assert "was changed by somebody else meanwhile" in response.content.decode()
    cast.site.refresh_from_db()
    assert cast.site.archived_at is None
