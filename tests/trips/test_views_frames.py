"""The page of a spot's frame: what it answers, how it is stepped, and what it refuses."""

from __future__ import annotations

import re
from datetime import date
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.drawing import Elements
from tests.trips.one_night import Told, compute, teller
from trips.models import Camera, Night, Site

JULY = date(2027, 7, 3)


@pytest.fixture
def page(cast: Cast, coordinator: Client) -> Told:
    """Give a function that gives the text of the page of the club's spot, on a July night."""
    compute(cast.site, JULY)

    def text(**asked: Any) -> str:
        return frame(coordinator, cast, **asked)

    return text


def frame(client: Client, cast: Cast, **asked: Any) -> str:
    response = client.get(reverse("spot_frame", args=[cast.spot.pk]), asked)
    assert response.status_code == 200
    return str(response.content.decode())


def lead(text: str) -> str:
    found = re.search(r'<p class="lead"[^>]*>(.*?)</p>', text, re.DOTALL)
    assert found
    return found[1]


def asked_of(address: str) -> dict[str, str]:
    return {name: values[0] for name, values in parse_qs(urlsplit(address).query).items()}


def links(text: str) -> dict[str, dict[str, str]]:
    """Give what each link of the section with the picture asks, by its words."""
    section = text[text.index('<section class="sketch"') : text.index("</section>")]
    found = re.findall(r'<a[^>]* ?href="([^"]*)"[^>]*>([^<]*)</a>', section)
    return {words: asked_of(address.replace("&amp;", "&")) for address, words in found}


# What it answers


def test_it_opens_with_a_target_that_stands_right_in_the_night_at_its_best_moment(
    cast: Cast, page: Told
) -> None:
    cast.season.target_list = cast.target_list
    cast.season.last_night = JULY
    cast.season.save()
    text = page()
    assert re.match(r"At 01:0\d Galactic core stands 21° up, 2 fists above the land", lead(text))
    assert 'value="Galactic core"' in text
    assert '<svg class="frame"' in text


def test_a_target_typed_or_by_its_key_is_aimed_at(page: Told) -> None:
    for target in ("Jupiter", "planet:jupiter"):
        text = page(target=target, at="22:30", aim="middle")
        assert lead(text).startswith("At 22:30 Jupiter ")
        assert 'value="Jupiter"' in text


def test_without_a_target_the_azimuth_and_altitude_are_looked_at(page: Told) -> None:
    text = page(azimuth="182", altitude="20", at="01:00")
    assert lead(text).startswith("At 01:00 the frame looks toward south (182°), its middle 20°")
    assert '<circle class="ring"' not in text


def test_a_target_that_never_rises_is_told_and_looked_for_along_the_level(page: Told) -> None:
    text = page(target="47 Tucanae")
    assert "is below the horizon" in lead(text)
    assert "Tonight: never rises here" in text


def test_a_fisheye_draws_its_circle_and_a_camera_held_upright_a_tall_frame(page: Told) -> None:
    round_one = page(draws="equidistant", focal="8")
    assert "a circle of 180°" in round_one
    assert '<circle class="edge"' in round_one
    assert '<svg class="frame upright"' in page(held="portrait")
    assert '<svg class="frame"' in page(held="landscape")


def test_a_camera_of_the_club_is_offered_with_its_sensor_and_another_s_is_not(
    cast: Cast, page: Told
) -> None:
    assert 'name="camera"' not in page()
    values = {"sensor_width_mm": 23.5, "sensor_height_mm": 15.6, "pixels_wide": 6000,
              "pixels_high": 3983}  # fmt: skip
    own = Camera.objects.create(organisation=cast.club, name="Old grey one", **values)
    other = Camera.objects.create(organisation=cast.elsewhere, name="Harbour camera", **values)
    text = page(camera=own.pk)
    assert "52° across" in text
    assert "Harbour camera" not in text
    assert "is not among the choices" in page(camera=other.pk)


def test_a_lens_that_only_a_phone_has_is_warned_of_and_drawn(page: Told) -> None:
    text = page(focal="3")
    assert "Only phones have a lens of 3 mm, and none has a sensor of 36 × 24 mm" in text
    assert '<svg class="frame"' in text
    assert "Only phones" not in page(focal="4")


def test_a_sensor_typed_whole_counts_before_the_named_one(page: Told) -> None:
    assert "41° across" in page(width="18", height="12", pixels="4000")


def test_a_spot_that_nobody_measured_has_a_level_horizon_and_says_so(
    cast: Cast, page: Told
) -> None:
    assert "level horizon" not in page()
    cast.site.spots.update(skyline=[])
    text = page(target="Vega", at="01:00")
    assert "No skyline is measured here: the land is a level horizon." in text


def test_a_landmark_of_the_spot_is_named_in_the_picture(page: Told) -> None:
    assert '<text class="landmark' in page(azimuth="214", altitude="10")
    assert '<text class="landmark' not in page(azimuth="10", altitude="10")


# Stepping


def test_links_lead_ten_and_sixty_minutes_on_and_back_and_keep_all_else(page: Told) -> None:
    asked = {"target": "Vega", "at": "01:00", "focal": "35", "held": "portrait", "aim": "middle"}
    found = links(page(night=JULY, **asked))
    for words, at in (("−60 min", "00:00"), ("−10 min", "00:50"), ("+10 min", "01:10"),
                      ("+60 min", "02:00")):  # fmt: skip
        kept = asked | {"at": at, "night": JULY.isoformat()}
        assert found[words].items() >= kept.items()
    named = {
        words.split()[0]: address["at"] for words, address in found.items() if "°" not in words
    }
    assert named["dusk"] < "23:30"
    assert "dawn" in named
    assert "best" in named


def test_a_step_past_the_sunset_is_not_offered(page: Told) -> None:
    found = links(page(target="Vega", at="21:45"))
    assert "−10 min" not in found
    assert "+10 min" in found


def test_the_camera_follows_the_target_until_it_is_left_where_it_is(page: Told) -> None:
    text = page(target="Vega", at="23:30", aim="middle")
    left = links(text)["Leave the tripod as it is"]
    assert {"azimuth", "altitude"} <= set(left)
    later = page(**left | {"at": "02:30"})
    assert "in the middle" in lead(text)
    assert "in the middle" not in lead(later)
    back = links(later)["Turn it to the target again"]
    assert not {"azimuth", "altitude"} & set(back)


def test_links_are_plain_and_swapped_only_where_a_script_does_it(page: Told) -> None:
    text = page(target="Vega", at="01:00")
    (section,) = [one for one in Elements(text).of("section") if one["class"] == "sketch"]
    assert section["hx-boost"] == "true"
    assert "hx-get" not in text[: text.index("<form")]


# What it refuses: one sentence a field, and no picture


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"focal": "1"}, "No lens has a focal length of 1 mm"),
        ({"focal": "0"}, "No lens has a focal length of 0 mm"),
        ({"focal": ""}, "No focal length is written here; write it like 24."),
        ({"width": "36", "height": "24", "pixels": "0"}, "No sensor has a side of 0 pixels"),
        ({"width": "36"}, "A sensor has width, height and pixels; write this one too."),
        ({"altitude": "95"}, "95 is out of range: it must be from −90 to 90."),
        ({"azimuth": "north"}, "“north” is not a number; write it like 182."),
        ({"azimuth": "", "target": ""}, "Name a target here, or write an azimuth below."),
        ({"target": "Jupitre"}, "No target is named “Jupitre”"),
        ({"night": "2031-01-01"}, "That night is not computed for this site; choose one from"),
        ({"night": "soon"}, "That is no date of the calendar"),
        ({"at": "15:00"}, "At 15:00 the Sun is up; write a time between 21:"),
        ({"at": "25:00"}, "“25:00” is no time; write one such as 23:30."),
        ({"seconds": "0"}, "0 is out of range: it must be from 0.001 to 1800."),
        ({"seconds": "4000"}, "4000 is out of range"),
        ({"draws": "bent"}, "is not among the choices"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_kept_as_typed(
    asked: dict[str, str], words: str, page: Told
) -> None:
    text = page(**{"target": "Vega"} | asked)
    assert words in text.replace("&#x27;", "'")
    assert '<svg class="frame' not in text
    assert "must be put right before there is a frame." in lead(text)
    for name, value in asked.items():
        assert not value or name in ("draws",) or f'value="{value}"' in text


def test_what_is_typed_is_never_run(page: Told) -> None:
    text = page(target="<script>alert(1)</script>", at="<b>")
    assert "<script>alert" not in text
    assert "<b>”" not in text


def test_a_site_without_a_computed_night_says_what_to_do(cast: Cast, coordinator: Client) -> None:
    text = frame(coordinator, cast)
    assert lead(text).startswith("No night of this site is computed yet")
    assert reverse("season_list") in text


def test_where_the_sun_does_not_set_there_is_a_frame_and_no_dusk(
    cast: Cast, coordinator: Client
) -> None:
    Site.objects.filter(pk=cast.site.pk).update(latitude=69.1, longitude=18.6, zone="Europe/Oslo")
    cast.spot.site.refresh_from_db()
    site = Site.objects.get(pk=cast.site.pk)
    cast.site.spots.update(latitude=69.1, longitude=18.6)
    compute(site, date(2027, 6, 20))
    assert Night.objects.filter(site=site).count() == 1
    text = frame(coordinator, cast, target="Moon")
    assert '<svg class="frame"' in text
    assert "dusk" not in links(text)


# Ways to it


def test_the_night_s_table_leads_to_the_frame_of_each_target_where_there_is_a_spot(
    cast: Cast, coordinator: Client
) -> None:
    compute(cast.site, JULY)
    without = teller(coordinator, cast)(JULY)
    assert "/frame/" not in without
    spot = cast.spot
    addresses = re.findall(r'href="([^"]*/frame/[^"]*)"', teller(coordinator, cast)(JULY))
    assert addresses
    asked = asked_of(addresses[0].replace("&amp;", "&"))
    assert asked["night"] == JULY.isoformat()
    assert lead(frame(coordinator, cast, **asked)).startswith(f"At {asked['at']} ")
    assert str(spot.pk) in addresses[0]


def test_a_spot_leads_to_its_frame_until_it_is_archived(cast: Cast, coordinator: Client) -> None:
    def text() -> str:
        return str(coordinator.get(reverse("spot_detail", args=[cast.spot.pk])).content.decode())

    where = reverse("spot_frame", args=[cast.spot.pk])
    assert where in text()
    cast.site.spots.update(archived_at=cast.job.created_at)
    assert where not in text()
