"""The light of towns on a site's page, and the dark that is estimated from it elsewhere."""

from __future__ import annotations

import re
from typing import Any

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Site, Spot


def page(client: Client, cast: Cast) -> str:
    address = reverse("site_detail", args=[cast.site.pk])
    return client.get(address).content.decode().replace("\u00a0", " ")


def of_site(cast: Cast, **fields: Any) -> None:
    Site.objects.filter(pk=cast.site.pk).update(**fields)


def test_the_strongest_towns_are_named_with_share_distance_and_direction(
    cast: Cast, coordinator: Client
) -> None:
    said = page(coordinator, cast)
    assert "toward Teruel, 90 % of the glow, 6 km at 185°" in said
    assert "add about 4.5 times the light of a natural sky" in said


def test_the_coefficient_is_named_and_doubted(cast: Cast, coordinator: Client) -> None:
    said = page(coordinator, cast)
    assert "with the coefficient 0.01; published ones are 2 and 10 times as large" in said


def test_without_a_measurement_the_dark_is_estimated_and_called_so(
    cast: Cast, coordinator: Client
) -> None:
    said = page(coordinator, cast)
    assert "That makes about 20.1 mag/arcsec² overhead, a rough estimate: too bright where" in said
    assert "about 20.1 mag/arcsec² at the zenith, estimated" in said
    assert "from the towns around: nobody has measured here yet" in said


def test_a_measurement_takes_the_place_of_the_estimate(cast: Cast, coordinator: Client) -> None:
    of_site(cast, sky_brightness=21.63)
    said = page(coordinator, cast)
    assert "20.1" not in said
    assert "toward Teruel, 90 % of the glow" in said


def test_inside_a_town_no_direction_is_given(cast: Cast, coordinator: Client) -> None:
    of_site(cast, latitude=40.4165, longitude=-3.7026)
    said = page(coordinator, cast)
    assert "The strongest: inside Madrid, 81 % of the glow;" in said
    assert "toward Madrid" not in said


def test_where_no_town_is_near_the_page_says_so(cast: Cast, coordinator: Client) -> None:
    of_site(cast, latitude=-48.88, longitude=-123.39, zone="Etc/GMT+8")
    said = page(coordinator, cast)
    assert "No town lies within 300 km: the sky is taken to be natural." in said
    assert "about 22.0 mag/arcsec² overhead" in said
    assert "The strongest" not in said
    assert "glowing" not in said, "nothing to draw"


def test_measured_directions_stand_in_the_picture(cast: Cast, coordinator: Client) -> None:
    assert "t-figure" not in page(coordinator, cast)
    of_site(cast, sky_by_azimuth=[[135.0, 20.9], [315.0, 21.55]])
    said = page(coordinator, cast)
    assert re.findall(r'class="t-figure"[^>]*>([\d.]+)<', said)[:2] == ["20.90", "21.55"]
    assert "Measured 30° up toward south-east: 20.90 mag/arcsec²." in said


def test_the_picture_says_what_it_shows(cast: Cast, coordinator: Client) -> None:
    said = page(coordinator, cast)
    assert "Of the glow: north " in said
    assert "Level horizon: nobody has measured it." in said


def test_the_first_spot_gives_the_land(cast: Cast, coordinator: Client) -> None:
    assert "Over a level horizon: nobody has measured the land." in page(coordinator, cast)
    Spot.objects.create(
        site=cast.site, name="Wall", latitude=40.4, longitude=-1.1, skyline=[[0, 4], [180, 12]]
    )
    said = page(coordinator, cast)
    assert "Over the skyline of Wall." in said
    assert "Land up to 12° toward south" in said


def test_a_list_of_sites_calls_the_estimate_an_estimate(cast: Cast, coordinator: Client) -> None:
    listed = coordinator.get(reverse("site_list")).content.decode()
    assert re.search(r"20\.1.{0,40}mag/arcsec², estimated", listed)
    of_site(cast, sky_brightness=21.63)
    listed = coordinator.get(reverse("site_list")).content.decode()
    assert "mag/arcsec², measured" in listed
    assert "20.1" not in listed
