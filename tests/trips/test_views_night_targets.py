"""The targets on a night's page: which list, from where, in which order, and why some are not."""

from __future__ import annotations

import re
from datetime import date, time
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, Cast
from tests.trips.one_night import Told, another_season, compute, get, teller
from trips.models import Organisation, Site, Spot, TargetEntry, TargetList

JULY = date(2027, 7, 3)
ENTRIES = (("deep-sky:NGC7000", "North America Nebula", 0.5), ("milky-way:core", "Our core", 1.0))


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    """Give the targets' part of the page of a July night, for a season that holds it."""
    compute(cast.site, JULY)
    another_season(cast, "July", last_night=date(2027, 8, 1))
    text = teller(coordinator, cast)

    def part(night: date = JULY, site: Site | None = None, **asked: Any) -> str:
        return part_of(text(night, site, **asked))

    return part


def part_of(page: str) -> str:
    found = re.search(r'<section id="targets".*?</section>', page, re.DOTALL)
    return re.sub(r"\s+", " ", found[0]) if found else ""


def a_list(
    club: Organisation, *entries: tuple[str, str, float], name: str = "Milky Way"
) -> TargetList:
    made = TargetList.objects.create(organisation=club, name=name)
    for order, (target, called, weight) in enumerate(entries):
        TargetEntry.objects.create(
            target_list=made, target=target, name=called, weight=weight, order=order
        )
    return made


def want(cast: Cast, *entries: tuple[str, str, float]) -> TargetList:
    made = a_list(cast.club, *entries)
    cast.club.seasons.update(target_list=made)
    return made


def names(text: str) -> list[str]:
    return re.findall(r'<th scope="row"><(?:a|bdi)[^>]*>([^<]+)<', text)


# Which list


def test_the_season_s_list_is_told_in_the_order_of_the_night(cast: Cast, told: Told) -> None:
    wanted = want(cast, *ENTRIES)
    text = told()
    assert names(text) == ["Our core", "North America Nebula"]
    assert f'href="{reverse("target_list", args=[wanted.pk])}">Milky Way</a>' in text
    assert "targets to begin with" not in text


def test_a_list_in_the_address_comes_before_the_season_s(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    other = a_list(cast.club, ("planet:mars", "Mars", 1.0), name="Planets")
    assert names(told(targets=other.pk)) == ["Mars"]


def test_a_list_of_another_organisation_is_not_used(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    strange = a_list(cast.elsewhere, ("planet:mars", "Secret Mars", 1.0), name="Strange")
    text = told(targets=strange.pk)
    assert names(text) == ["Our core", "North America Nebula"]
    assert "That is no list of targets of yours" in text
    assert "Secret Mars" not in text


@pytest.mark.parametrize("asked", ["x", "-1", "999999", "<b>"])
def test_what_is_no_list_gets_a_sentence_and_leaves_the_season_s(
    asked: str, cast: Cast, told: Told
) -> None:
    want(cast, *ENTRIES)
    text = told(targets=asked)
    assert "That is no list of targets of yours: the season&#x27;s own is used." in text
    assert names(text) == ["Our core", "North America Nebula"]


def test_a_list_that_is_used_gets_no_such_sentence(cast: Cast, told: Told) -> None:
    wanted = want(cast, *ENTRIES)
    assert "no list of targets of yours" not in told(targets=wanted.pk)
    assert "no list of targets of yours" not in told(targets="")


def test_a_list_asked_for_without_a_season_gets_a_sentence(cast: Cast, coordinator: Client) -> None:
    compute(cast.site, JULY)
    text = part_of(teller(coordinator, cast)(JULY, targets=a_list(cast.club, *ENTRIES).pk))
    assert "A list is wanted for a season" in text


def test_without_a_list_one_to_begin_with_is_told_and_said_to_be(told: Told) -> None:
    text = told()
    assert "No list is wanted for this night" in text
    assert "“Northern summer, June to August”" in text
    assert "Galactic core" in names(text)
    assert "Copy a list to begin with" in text
    assert "Choose a list for the season" in text


def test_the_list_to_begin_with_is_that_of_the_hemisphere_and_month(
    cast: Cast, coordinator: Client
) -> None:
    south = Site.objects.create(
        organisation=cast.club, name="Karoo", latitude=-32.4, longitude=20.8,
        zone="Africa/Johannesburg",
    )  # fmt: skip
    compute(south, JULY)
    text = part_of(teller(coordinator, cast)(JULY, south))
    assert "“Southern winter, June to August”" in text
    assert "Choose a list for the season" not in text, "no season holds this night"


def test_an_empty_list_says_so_and_leads_to_its_form(cast: Cast, told: Told) -> None:
    wanted = want(cast)
    text = told()
    assert "Milky Way has no targets yet." in text
    assert reverse("target_list_edit", args=[wanted.pk]) in text
    assert "<table>" not in text


def test_targets_in_no_catalogue_are_counted_and_others_told(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES, ("deep-sky:NOTHING", "Lost", 1.0))
    text = told()
    assert "1 target of the list is in no catalogue any more." in text
    assert "Lost" not in text
    assert names(text) == ["Our core", "North America Nebula"]


def test_a_list_of_lost_targets_says_so(cast: Cast, told: Told) -> None:
    want(cast, ("deep-sky:NOTHING", "Lost", 1.0))
    assert "No target of Milky Way is in the catalogues any more." in told()


# What a row says


def test_a_row_says_when_how_long_where_and_what_is_in_the_way(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    text = told()
    assert ">23:41–04:13<span" in text
    assert ">4.5 h<" in text  # `part_of` makes one space of any
    assert "<b>01:05</b> 21° high, south, 180°" in text
    assert "airmass 2.8, culminates then" in text
    assert "lower than 8° from 04:13" in text


def test_a_row_tells_usable_dark_beside_the_strict_and_by_that_name(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    text = told()
    assert re.search(r"usable dark 23:\d\d–04:13 \(4\.\d h\)<", text)


def test_a_light_that_needs_no_dark_has_no_usable_dark(cast: Cast, told: Told) -> None:
    want(cast, ("planet:saturn", "Saturn", 1.0))
    assert "<svg" in told()
    assert "usable dark" not in told().partition("<table")[2]


def test_a_row_without_anything_in_the_way_says_so(cast: Cast, told: Told) -> None:
    want(cast, ("deep-sky:NGC7000", "North America Nebula", 1.0))
    cast.club.seasons.update(out_until=time(5))
    assert '<span class="soft">nothing</span>' in told()


def test_a_best_moment_after_the_latest_hour_is_said_and_one_before_is_not(
    cast: Cast, told: Told
) -> None:
    want(cast, ("deep-sky:NGC7000", "North America Nebula", 1.0))
    assert "best after 02:00, your latest hour" in told()
    cast.club.seasons.update(out_until=time(5))
    assert "your latest hour" not in told()


def test_a_target_that_rises_after_the_latest_hour_is_said(cast: Cast, told: Told) -> None:
    want(cast, ("planet:saturn", "Saturn", 1.0))
    assert "only after 02:00, your latest hour" in told()


def test_weights_are_told_where_they_differ_and_not_where_all_are_one(
    cast: Cast, told: Told
) -> None:
    wanted = want(cast, *ENTRIES)
    assert "dark, without the Moon, weight 0.5" in told()
    wanted.entries.update(weight=1.0)
    assert "weight" not in told()


def test_a_name_leads_to_the_page_of_the_target_as_its_list_wants_it(
    cast: Cast, told: Told
) -> None:
    wanted = want(cast, *ENTRIES)
    page = reverse("target_show", args=[cast.club.pk])
    asked = f"target=milky-way%3Acore&amp;list={wanted.pk}"
    assert f'href="{page}?{asked}">Our core</a>' in told()


def test_what_is_known_by_its_key_alone_has_a_page_too(cast: Cast, told: Told) -> None:
    want(cast, ("lunar-eclipse:2028-12-31", "The eclipse", 1.0))
    text = told()
    assert "target=lunar-eclipse%3A2028-12-31" in text
    assert "no eclipse tonight" in text


def test_a_name_in_angle_brackets_is_shown_as_it_is(cast: Cast, told: Told) -> None:
    want(cast, ("milky-way:core", "<b>Core</b>", 1.0))
    text = told()
    assert "&lt;b&gt;Core&lt;/b&gt;" in text
    assert "<b>Core</b>" not in text


def test_each_row_has_its_strip(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    text = told()
    assert text.count('<path class="wanted"') == text.count('<path class="best"') == 2


# Without a window


def test_those_that_do_not_stand_right_are_folded_and_say_why(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES, ("deep-sky:NGC1976", "Orion", 1.0), ("shower:GEM", "Geminids", 1.0))
    text = told()
    assert "<details><summary>2 more do not stand right tonight</summary>" in text
    assert "below the horizon while it is dark and moonless" in text
    assert "its peak is not tonight" in text
    assert "Orion" not in names(text)


def test_where_all_stand_right_nothing_is_folded(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    assert "<details" not in told()


def test_where_none_stands_right_the_reasons_are_open(cast: Cast, told: Told) -> None:
    want(cast, ("deep-sky:NGC1976", "Orion", 1.0), ("shower:GEM", "Geminids", 1.0))
    text = told()
    assert "<details open><summary>None of the 2 stands right tonight</summary>" in text
    assert "<table>" not in text


def test_under_the_midnight_sun_there_is_no_dark_and_the_rest_stands_in_daylight(
    cast: Cast, coordinator: Client
) -> None:
    fjord = Site.objects.create(
        organisation=cast.club, name="Fjord", latitude=69.1, longitude=18.6, zone="Europe/Oslo"
    )
    another_season(cast, "June", last_night=date(2027, 6, 30)).sites.add(fjord)
    want(cast, *ENTRIES, ("planet:venus", "Venus", 1.0))
    compute(fjord, date(2027, 6, 20))
    text = part_of(teller(coordinator, cast)(date(2027, 6, 20), fjord))
    assert "no moonless dark tonight" in text
    assert "never rises here" in text
    assert "The Sun does not set: what is listed stands in daylight." in text
    assert names(text) == ["Venus"]
    assert text.count('<path class="best"') == 1, "the strip goes from noon to noon"


def test_where_the_sun_sets_daylight_is_not_spoken_of(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    assert "daylight" not in told()


# From where


def test_the_first_spot_s_land_is_in_the_way_and_another_s_is_not(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    at = {"latitude": 40.4, "longitude": -1.1, "elevation_m": 1600}
    Spot.objects.create(site=cast.site, name="Wall", skyline=[[90, 5], [200, 19]], **at)
    pond = Spot.objects.create(site=cast.site, name="Pond", order=1, **at)
    text = told()
    assert "Clear of the land as seen from Wall." in text
    assert "behind the land from " in text
    other = told(spot=pond.pk)
    assert "Over a level horizon: no skyline is measured." in other
    assert "behind the land" not in other


@pytest.mark.parametrize("asked", ["999999", "x", "-1"])
def test_what_is_no_spot_of_the_site_leaves_the_first(asked: str, cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    at = {"latitude": 40.4, "longitude": -1.1, "skyline": [[90, 5]]}
    Spot.objects.create(site=cast.site, name="Wall", **at)
    quay = Spot.objects.create(site=cast.far_site, name="Quay", **at)
    for spot in (asked, quay.pk):
        text = told(spot=spot)
        assert "as seen from Wall" in text
        assert "Quay" not in text


# Who, and how much


def test_a_stranger_sees_nothing_of_it(cast: Cast, signed_in: Any) -> None:
    want(cast, *ENTRIES)
    compute(cast.site, JULY)
    response = get(signed_in("stranger"), cast.site, JULY)
    assert response.status_code == 404
    assert "Our core" not in response.content.decode()


def test_a_night_that_is_not_computed_has_no_targets(cast: Cast, coordinator: Client) -> None:
    assert part_of(teller(coordinator, cast)(FIRST)) == ""


@pytest.mark.parametrize("count", [2, 60])
def test_a_longer_list_asks_the_database_no_more(
    count: int, cast: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    want(cast, *(("milky-way:core", f"Core {number}", 1.0) for number in range(count)))
    compute(cast.site, FIRST)
    get(coordinator, cast.site)
    with django_assert_max_num_queries(18):
        get(coordinator, cast.site)
