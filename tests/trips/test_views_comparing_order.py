"""The order of the compare page, and what its address asks for."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.conftest import Cast, store_nights
from tests.trips.compare_pages import add_site, order, page, text
from trips.models import Site


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
