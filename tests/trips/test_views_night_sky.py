"""The sky on a night's page: one picture, chosen by links, from a spot of the site."""

from __future__ import annotations

from datetime import date

import pytest
from django.test import Client

from tests.conftest import FIRST, Cast
from tests.trips.drawing import Elements
from tests.trips.one_night import Told, compute, teller
from trips.models import Site, Spot, TargetEntry, TargetList


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    compute(cast.site, FIRST)
    return teller(coordinator, cast)


def a_spot(site: Site, name: str, **fields: object) -> Spot:
    values = {"latitude": site.latitude, "longitude": site.longitude} | fields
    return Spot.objects.create(site=site, name=name, **values)


def want(cast: Cast, *entries: tuple[str, str]) -> None:
    wanted = TargetList.objects.create(organisation=cast.club, name="Spring sky")
    for order, (target, name) in enumerate(entries):
        TargetEntry.objects.create(target_list=wanted, target=target, name=name, order=order)
    cast.season.target_list = wanted
    cast.season.save()


def test_one_picture_is_in_the_page_and_the_others_are_links(told: Told) -> None:
    text = told()
    assert text.count('<svg class="dome"') == 1
    assert text.count('aria-current="true">') == 1
    assert 'href="?at=23%3A00#sky"' in text


def test_the_time_asked_for_is_shown(told: Told) -> None:
    assert "The whole sky at 04:00" in told(at="04:00")
    assert "The whole sky at 03:17" in told(at="3:17")


def test_a_link_swaps_the_picture_of_another_time_and_loads_the_page_of_another_spot(
    cast: Cast, told: Told
) -> None:
    """From another spot the targets of the page stand otherwise too."""
    for order, name in enumerate(("Wall", "Pond")):
        a_spot(cast.site, name, order=order)
    links = [link for link in Elements(told()).of("a") if link["href"].endswith("#sky")]
    assert {"?at" in link["href"] for link in links} == {True, False}
    for link in links:
        assert ("hx-get" in link) == link["href"].startswith("?at")
        assert link.get("id", "").startswith("at-") == link["href"].startswith("?at")


def test_the_links_keep_what_else_was_asked(cast: Cast, told: Told) -> None:
    assert f'href="?season={cast.season.pk}&amp;at=23%3A00#sky"' in told(season=cast.season.pk)


@pytest.mark.parametrize("asked", ["25:00", "soon", "<script>", "23.00"])
def test_what_is_no_time_gets_a_sentence_and_the_usual_sky(asked: str, told: Told) -> None:
    text = told(at=asked)
    assert "is no time; write one such as 23:30. This is the sky at" in text
    assert "<script>”" not in text
    assert '<svg class="dome"' in text


def test_a_time_by_day_gets_a_sentence_and_the_nearest_sky(told: Told) -> None:
    assert "At 15:00 the Sun is up: this is the sky at" in told(at="15:00")
    assert "the Sun is up" not in told(at="23:00")


def test_without_a_spot_the_horizon_is_level_and_said_to_be(told: Told) -> None:
    text = told()
    assert "No skyline is measured here: the rim is a level horizon." in text
    assert '<p class="rim small">Level horizon</p>' in text


def test_a_spot_s_name_stands_whole_below_the_picture(cast: Cast, told: Told) -> None:
    name = "South of the sheepfold, behind the second gate of the old drove road"
    a_spot(cast.site, name, skyline=[[0, 5], [180, 20]])
    assert f'<p class="rim small">Seen from {name}</p>' in told()


def test_the_first_spot_s_skyline_is_drawn_and_another_can_be_chosen(
    cast: Cast, told: Told
) -> None:
    a_spot(cast.site, "Wall", skyline=[[0, 5], [180, 20]])
    pond = a_spot(cast.site, "Pond", order=1)
    text = told()
    assert "The rim is the skyline of Wall." in text
    assert '<p class="rim small">Seen from Wall</p>' in text
    assert f'href="?spot={pond.pk}#sky"' in text
    assert "No skyline is measured at Pond" in told(spot=pond.pk)


@pytest.mark.parametrize("asked", ["999999", "x", "-1"])
def test_a_spot_of_no_site_or_of_another_gets_a_sentence(
    asked: str, cast: Cast, told: Told
) -> None:
    a_spot(cast.site, "Wall")
    strange = a_spot(cast.far_site, "Quay")
    for spot in (asked, strange.pk):
        text = told(spot=spot)
        assert "That is no spot of this site: the sky is that from Wall." in text
        assert "Quay" not in text


def test_an_archived_spot_is_not_offered(cast: Cast, told: Told) -> None:
    a_spot(cast.site, "Wall")
    a_spot(cast.site, "Gone", order=1, archived_at=cast.job.created_at)
    assert "Gone" not in told()


def test_the_targets_of_the_season_are_ringed_and_told(cast: Cast, told: Told) -> None:
    want(cast, ("planet:jupiter", "Jupiter"), ("milky-way:nowhere", "Nowhere"))
    text = told(at="23:00")
    assert '<circle class="ring"' in text
    assert "<strong>Jupiter</strong>" in text
    assert "Nowhere" not in text


def test_without_a_list_nothing_is_ringed(told: Told) -> None:
    text = told(at="23:00")
    assert '<circle class="ring"' not in text
    assert "Ringed and dashed" not in text


def test_a_night_on_which_the_sun_does_not_set_has_no_sky(cast: Cast, coordinator: Client) -> None:
    site = Site.objects.create(
        organisation=cast.club, name="Fjord", latitude=69.1, longitude=18.6, zone="Europe/Oslo"
    )
    compute(site, date(2027, 6, 20))
    assert "The whole sky" not in teller(coordinator, cast)(date(2027, 6, 20), site)


def test_a_night_that_is_not_computed_has_no_sky(cast: Cast, coordinator: Client) -> None:
    assert "The whole sky" not in teller(coordinator, cast)()
