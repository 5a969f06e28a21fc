"""Setting up on a night's page: at the moment of the sky, and on the spot's page by compass."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.against.published import row
from tests.conftest import FIRST, Cast
from tests.trips.drawing import Elements
from tests.trips.one_night import Told, another_site, compute, teller
from trips.models import Landmark, Site


@pytest.fixture
def told(cast: Cast, coordinator: Client) -> Told:
    compute(cast.site, FIRST)
    return teller(coordinator, cast)


def set_up(told: Told, *where: Any, **asked: Any) -> str:
    """Give the section of the page."""
    (found,) = re.findall(r'<section id="set-up".*?</section>', told(*where, **asked), re.DOTALL)
    return str(found)


def at_site(cast: Cast, client: Client, night: date, **fields: Any) -> str:
    site = another_site(cast, "Far", **fields)
    compute(site, night)
    return set_up(teller(client, cast), night, site)


def test_the_page_leads_to_it(told: Told) -> None:
    assert [one for one in Elements(told()).of("a") if one["href"] == "#set-up"]


def test_the_star_stands_where_it_is_at_the_time_asked_for(told: Told) -> None:
    """Two hours are an hour of the face: 60 minutes and 20 s."""
    early, late = (set_up(told, at=at) for at in ("23:00", "1:00"))
    assert "Setting up at 23:00" in early
    assert "Setting up at 01:00" in late
    first, second = (
        sum(int(part) * unit for part, unit in zip(found, (60, 1), strict=True))
        for text in (early, late)
        for found in re.findall(r"<dd>(\d+):(\d\d), where", text)
    )
    assert (first - second) % 720 in {60, 61}


def test_another_time_takes_it_along(told: Told) -> None:
    # Of the links that change the page in place, those of the brightness move no hour.
    links = [
        one
        for one in Elements(told()).of("a")
        if "hx-get" in one and one["hx-target"] != "#brightness"
    ]
    assert links
    assert {one["hx-select-oob"] for one in links} == {"#set-up"}


@pytest.mark.parametrize("asked", ["25:00", "<script>"])
def test_what_is_no_time_is_set_up_at_the_usual_one(asked: str, told: Told) -> None:
    assert set_up(told, at=asked) == set_up(told)


def test_the_picture_says_in_words_what_it_shows(told: Told) -> None:
    (picture,) = re.findall(r'<svg class="face".*?</svg>', told(), re.DOTALL)
    (said,) = re.findall(r"<desc[^>]*>(.*?)</desc>", picture)
    assert re.match(r"Polaris, 0\.6\d° \(3\d\.\d′\) from the pole, at \d+:\d\d on a clock", said)
    assert "style=" not in picture


def test_in_the_south_it_is_the_other_star(cast: Cast, coordinator: Client) -> None:
    text = at_site(cast, coordinator, FIRST, latitude=-44.0, longitude=170.5)
    assert "σ Octantis" in text
    assert "Polaris" not in text


def test_on_the_equator_there_is_no_face(cast: Cast, coordinator: Client) -> None:
    text = at_site(cast, coordinator, FIRST, latitude=0.2, longitude=36.0)
    assert "there is no star to set by" in text
    assert "<svg" not in text


def test_past_the_model_the_tracker_is_told_and_no_number_of_a_compass(
    cast: Cast, told: Told
) -> None:
    compute(cast.site, date(2030, 1, 4))
    text = set_up(told, date(2030, 1, 4))
    assert "The magnetic model WMM2025 holds until 2029-12-31" in text
    assert "Polaris" in text
    assert "by compass" not in text


def test_where_the_sun_does_not_set_the_compass_is_told_alone(
    cast: Cast, coordinator: Client
) -> None:
    fields = {"latitude": 69.1, "longitude": 18.6, "zone": "Europe/Oslo"}
    text = at_site(cast, coordinator, date(2027, 6, 20), **fields)
    assert "no pole star is to be seen" in text
    assert "A needle points" in text
    assert "<svg" not in text


def test_a_night_that_is_not_computed_has_none(cast: Cast, coordinator: Client) -> None:
    assert 'id="set-up"' not in teller(coordinator, cast)()


# Checked from outside


def test_the_page_has_polaris_as_far_from_the_pole_as_its_catalogue_says(
    cast: Cast, told: Told
) -> None:
    """I02, true pole of date, half a day from our moment: 0.01′ in between."""
    case = row("tracker", "I02")
    compute(cast.site, date(2030, 1, 1))
    text = set_up(told, date(2030, 1, 1), at="1:00")
    (minutes,) = re.findall(r"\((\d+\.\d)′\) from the pole</dd>", text)
    assert float(minutes) == pytest.approx(case["expected"]["2030-01-01"], abs=0.1)


def test_the_page_has_the_needle_where_the_model_s_makers_say(
    cast: Cast, coordinator: Client
) -> None:
    inputs, expected = row("compass", "WMM03")["inputs"], row("compass", "WMM03")["expected"]
    site = {"latitude": inputs["latitude"], "longitude": inputs["longitude"], "zone": "UTC"}
    text = at_site(cast, coordinator, date.fromisoformat(inputs["date"]), **site)
    assert expected["declination_degrees"] > 0
    assert f"A needle points {expected['declination_degrees']:.1f}° east of true north" in text


# The spot


@pytest.fixture
def kiln(cast: Cast) -> Landmark:
    landmark: Landmark = cast.spot.landmarks.get()
    return landmark


def spot_page(client: Client, cast: Cast, **asked: str) -> str:
    return client.get(reverse("spot_detail", args=[cast.spot.pk]), asked).content.decode()


def test_a_landmark_is_told_by_compass_beside_its_true_direction(
    cast: Cast, coordinator: Client, kiln: Landmark
) -> None:
    """WMM03: the needle points 68.78° east, and 214° true are as much less by compass."""
    Site.objects.filter(pk=cast.site.pk).update(zone="UTC")
    kiln.spot.latitude, kiln.spot.longitude = -80.0, 240.0 - 360
    kiln.spot.save()
    text = spot_page(coordinator, cast, night="2025-01-01")
    assert "south-west, 214°" in text
    assert "145° by compass" in text


def test_past_the_model_a_landmark_keeps_its_true_direction_alone(
    cast: Cast, coordinator: Client, kiln: Landmark
) -> None:
    text = spot_page(coordinator, cast, night="2030-06-01")
    assert f"{kiln.azimuth_degrees:.0f}°" in text
    assert "by compass" not in text
    assert "nobody can say yet" in text
