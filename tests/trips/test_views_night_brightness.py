"""How dark it is, on a night's page: a picture told in words, and a line for what is asked."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest
from django.http import QueryDict
from django.test import Client

from tests.conftest import Cast
from tests.trips.drawing import Elements
from tests.trips.one_night import Told, another_season, another_site, compute, teller
from trips.models import Site, TargetEntry, TargetList

JULY = date(2027, 7, 3)
ENTRIES = (("deep-sky:NGC7000", "North America Nebula", 0.5), ("milky-way:core", "Our core", 1.0))


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    """Give that part of the page of a July night, for a season that holds it."""
    compute(cast.site, JULY)
    another_season(cast, "July", last_night=date(2027, 8, 1))
    text = teller(coordinator, cast)

    def part(night: date = JULY, site: Site | None = None, **asked: Any) -> str:
        page = text(night, site, **asked)
        found = re.search(r'<section id="brightness".*?</section>', page, re.DOTALL)
        return re.sub(r"\s+", " ", found[0]) if found else ""

    return part


def want(cast: Cast, *entries: tuple[str, str, float]) -> None:
    made = TargetList.objects.create(organisation=cast.club, name="Milky Way")
    for order, (target, name, weight) in enumerate(entries):
        TargetEntry.objects.create(
            target_list=made, target=target, name=name, weight=weight, order=order
        )
    cast.club.seasons.update(target_list=made)


def aimed(text: str) -> list[str]:
    return re.findall(r'<strong class="aimed"><bdi>([^<]+)</bdi>', text)


def test_the_heaviest_target_wanted_is_pointed_at_first(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    text = told()
    assert aimed(text) == ["Our core"]
    assert text.count('class="l-asked"') == 2  # for a desk and for a phone
    assert text.count('aria-current="true"') == 1


def test_another_is_pointed_at_by_its_link_which_keeps_what_else_was_asked(
    cast: Cast, told: Told
) -> None:
    want(cast, *ENTRIES)
    links = [link for link in Elements(told(at="23:30")).of("a") if "toward=" in link["href"]]
    assert len(links) == 2
    assert all("at=23%3A30" in link["href"] for link in links)
    assert aimed(told(toward="deep-sky:NGC7000")) == ["North America Nebula"]


def test_of_targets_to_begin_with_none_is_pointed_at_until_asked_for(told: Told) -> None:
    text = told()
    assert aimed(text) == []
    assert "l-asked" not in text
    assert 'class="l-overhead"' in text
    first = next(link for link in Elements(text).of("a") if "toward=" in link["href"])
    asked = QueryDict(first["href"].partition("?")[2].partition("#")[0])
    assert len(aimed(told(toward=asked["toward"]))) == 1


@pytest.mark.parametrize("asked", ["planet:nibiru", "<script>", "milky-way:core "])
def test_what_does_not_stand_right_gets_a_sentence(asked: str, cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    text = told(toward=asked)
    assert "What was asked for does not stand right tonight." in text
    assert aimed(text) == ["Our core"]
    assert "<script>" not in text


def test_the_picture_is_told_in_words(cast: Cast, told: Told) -> None:
    want(cast, *ENTRIES)
    descriptions = re.findall(r"<desc[^>]*>([^<]+)</desc>", told())
    assert len(descriptions) == 2
    for said in descriptions:
        assert "Our core: at its best" in said
        assert "Overhead: darkest" in said
        assert "mag/arcsec²" in said
        assert "usable 2" in said


def test_a_row_says_what_makes_the_sky_of_a_target(cast: Cast, told: Told) -> None:
    cast.site.sky_brightness = 20.0
    cast.site.save()
    want(cast, *ENTRIES)
    row = re.search(r"<tr class=\"aimed\">.*?</tr>", told())
    assert row
    assert "by nature; brighter by" in row[0]
    assert "for skyglow" in row[0]
    assert "stars to" in row[0]


def test_whether_skyglow_was_measured_or_estimated_is_said(cast: Cast, told: Told) -> None:
    Site.objects.filter(pk=cast.site.pk).update(
        sky_brightness=21.2, sky_measured_on=date(2026, 9, 11)
    )
    assert "Skyglow as measured here on 11 September 2026." in told()
    Site.objects.filter(pk=cast.site.pk).update(sky_brightness=None)
    assert "Skyglow is estimated from the towns around" in told()


def test_where_the_sun_does_not_set_there_is_no_part_and_no_link_to_it(
    cast: Cast, coordinator: Client
) -> None:
    fjord = another_site(cast, "Fjord", latitude=69.7, longitude=18.9, zone="Europe/Oslo")
    compute(fjord, date(2027, 6, 20))
    page = teller(coordinator, cast)(date(2027, 6, 20), fjord)
    assert 'id="brightness"' not in page
    assert "#brightness" not in page


def test_where_the_sun_does_not_rise_the_whole_night_is_told(cast: Cast, told: Told) -> None:
    fjord = another_site(cast, "Fjord", latitude=78.2, longitude=15.6, zone="Europe/Oslo")
    compute(fjord, date(2027, 12, 10))
    text = told(date(2027, 12, 10), fjord)
    assert "Overhead</bdi></strong> darkest" in text


def test_the_moon_has_no_sky_of_its_own_and_that_is_said(cast: Cast, told: Told) -> None:
    cast.club.seasons.update(last_night=date(2027, 8, 1))
    compute(cast.site, date(2027, 7, 12))
    want(cast, ("moon:moon", "Our Moon", 1.0), ("deep-sky:NGC7000", "North America Nebula", 0.5))
    text = told(date(2027, 7, 12))
    assert "No figure for Our Moon" in text
    assert 'href="?toward=moon' not in text


def test_a_long_name_is_labelled_shortened(cast: Cast, told: Told) -> None:
    want(cast, ("milky-way:core", "The core of our own galaxy, seen from the wall", 1.0))
    labels = re.findall(r"<text[^>]*>([^<]+)</text>", told())
    assert any(label.endswith("…") for label in labels)
