"""The map of the compare page, and the dark that is estimated where nobody measured."""

from __future__ import annotations

from typing import Any

from django.test import Client

from tests.conftest import Cast, store_nights
from tests.trips.compare_pages import add_site, page, table, text
from trips.models import Site


def names(client: Client, cast: Cast) -> dict[str, list[str]]:
    where = page(client, cast).context["where"]
    return {
        "sites": [mark.name for mark in where.chart.sites],
        "towns": [mark.name for mark in where.chart.towns],
        "far": [site.name for site in where.far],
        "sensitive": [site.name for site in where.sensitive],
    }


def of_site(cast: Cast, **fields: Any) -> None:
    Site.objects.filter(pk=cast.site.pk).update(**fields)


def test_sites_stand_among_the_towns_that_light_them(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    found = names(coordinator, cast)
    assert (found["sites"], found["towns"]) == (["Broom Hill"], ["Teruel"])
    assert "Broom Hill: Teruel 90 %" in text(coordinator, cast)


def test_a_sensitive_position_is_left_off_and_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    add_site(cast, "Owl Fell", position_is_sensitive=True)
    found = names(coordinator, cast)
    assert (found["sites"], found["sensitive"]) == (["Broom Hill"], ["Owl Fell"])
    assert "Left off the map, since its position is sensitive: Owl Fell." in text(coordinator, cast)


def test_without_a_site_that_may_be_shown_there_is_no_map(cast: Cast, coordinator: Client) -> None:
    of_site(cast, position_is_sensitive=True)
    assert page(coordinator, cast).context["where"] is None
    assert "Where they are" not in text(coordinator, cast)


def test_a_site_far_from_the_others_is_named_beside_the_map(
    cast: Cast, coordinator: Client
) -> None:
    add_site(cast, "Near Fell")
    add_site(cast, "North Cape", latitude=71.0, longitude=25.0, zone="Europe/Oslo")
    found = names(coordinator, cast)
    assert sorted(found["sites"]) == ["Broom Hill", "Near Fell"]
    assert found["far"] == ["North Cape"]


def test_the_date_line_does_not_part_what_lies_together(cast: Cast, coordinator: Client) -> None:
    of_site(cast, latitude=-16.9, longitude=179.9, zone="Pacific/Fiji")
    add_site(cast, "East Fell", latitude=-16.9, longitude=-179.9, zone="Pacific/Fiji")
    found = names(coordinator, cast)
    assert (sorted(found["sites"]), found["far"]) == (["Broom Hill", "East Fell"], [])


def test_an_estimate_stands_where_nobody_measured_and_is_called_so(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    shown = text(coordinator, cast)
    assert '20.1<span class="unit">estimated' in shown
    assert "glow: Teruel 90 %" in shown
    of_site(cast, sky_brightness=21.5)
    assert "20.1" not in text(coordinator, cast)


def test_the_table_keeps_what_is_estimated_apart_from_what_is_measured(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    columns = ("darkness_mag_per_arcsec2", "darkness_estimated_mag_per_arcsec2")
    assert [table(coordinator, cast)[0][name] for name in columns] == ["", "20.1"]
    of_site(cast, sky_brightness=21.5)
    assert [table(coordinator, cast)[0][name] for name in columns] == ["21.5", ""]
