"""The page of a target: what it is and which lens suits it, from a bag that is remembered."""

from __future__ import annotations

from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Camera, Organisation, TargetEntry, TargetList

ANDROMEDA = "deep-sky:NGC0224"


def page(client: Client, cast: Cast, **asked: str) -> str:
    response = client.get(reverse("target_show", args=[cast.club.pk]), asked)
    assert response.status_code == 200
    return unescape(response.content.decode())


def camera_of(organisation: Organisation) -> Camera:
    return Camera.objects.create(
        organisation=organisation,
        name="The grey one",
        sensor_width_mm=17.3,
        sensor_height_mm=13.0,
        pixels_wide=5184,
        pixels_high=3888,
    )


@pytest.mark.parametrize("asked", [ANDROMEDA, "M 31", "andromeda galaxy"])
def test_a_target_is_shown_by_its_key_and_by_its_names(
    cast: Cast, coordinator: Client, asked: str
) -> None:
    text = page(coordinator, cast, target=asked)
    assert "135 mm f/2 frames it: it sees 15° × 10°, 1.7 times the 8.9° that are wanted." in text
    assert '<ellipse class="target"' in text


@pytest.mark.parametrize("asked", ["", "Andromda Galaxy", "266.4 -95", "x" * 200])
def test_what_is_no_target_is_told_and_nothing_is_shown(
    cast: Cast, coordinator: Client, asked: str
) -> None:
    text = page(coordinator, cast, target=asked)
    assert 'class="warning"' in text
    assert 'id="lenses"' not in text


@pytest.mark.parametrize(
    "key", ["planet:jupiter", "star:vega", "shower:GEM", "position:266.4,-29", "pair:moon+jupiter"]
)
def test_what_has_no_field_asks_for_one_and_compares_once_it_is_typed(
    cast: Cast, coordinator: Client, key: str
) -> None:
    without = page(coordinator, cast, target=key)
    assert "write a field below" in without
    assert "<svg" not in without
    typed = page(coordinator, cast, target=key, field="30")
    assert "50 mm f/1.8 frames it" in typed
    assert '<rect class="frame best"' in typed
    assert "<ellipse" not in typed


def test_a_list_says_which_field_it_wants_and_another_clubs_list_does_not(
    cast: Cast, coordinator: Client
) -> None:
    entry = cast.target_list.entries.get(target="deep-sky:NGC7000")
    asked = {"target": entry.target, "list": str(entry.target_list_id)}
    assert "Empty: 6, as usual for the target." in page(coordinator, cast, **asked)
    TargetEntry.objects.filter(pk=entry.pk).update(field_degrees=17.5)
    assert "For a field of 18°." in page(coordinator, cast, **asked)
    TargetList.objects.filter(pk=entry.target_list_id).update(organisation=cast.elsewhere)
    assert "For a field of 18°." not in page(coordinator, cast, **asked)


def test_a_bag_that_was_asked_with_is_remembered_and_its_field_is_not(
    cast: Cast, coordinator: Client
) -> None:
    page(coordinator, cast, target=ANDROMEDA, bag="85 f/1.8", field="20")
    text = page(coordinator, cast, target="deep-sky:NGC7000")
    assert "85 f/1.8</textarea>" in text
    assert "For a field of 20°." not in text


def test_a_bag_that_cannot_be_read_is_not_remembered(cast: Cast, coordinator: Client) -> None:
    assert "is no lens that can be read" in page(coordinator, cast, target=ANDROMEDA, bag="tele")
    assert "135 f/2" in page(coordinator, cast, target=ANDROMEDA)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"bag": ""}, "No lens is named here; write one like 24 f/1.4."),
        ({"bag": "0 f/2"}, "No lens has a focal length of 0 mm"),
        ({"bag": "x" * 301}, "Write at most 300 characters; these are 301."),
        ({"sensor": "huge"}, "“huge” is not among the choices"),
        ({"field": "0"}, "A field of 0° cannot be wanted"),
        ({"field": "wide"}, "“wide” is not a number; write it like 5."),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(
    cast: Cast, coordinator: Client, asked: dict[str, str], said: str
) -> None:
    text = page(coordinator, cast, target=ANDROMEDA, **asked)
    assert said in text
    assert "<table" not in text


def test_what_of_a_bag_is_not_understood_is_named_beside_the_answer(
    cast: Cast, coordinator: Client
) -> None:
    text = page(coordinator, cast, target=ANDROMEDA, bag="135 f/2, tele")
    assert "“tele” is no lens that can be read" in text
    assert "135 mm f/2 frames it" in text


def test_a_camera_of_the_club_is_a_sensor_and_a_removed_one_is_forgotten(
    cast: Cast, coordinator: Client
) -> None:
    camera = camera_of(cast.club)
    text = page(coordinator, cast, target=ANDROMEDA, sensor=f"club-{camera.pk}")
    assert "7.3° × 5.5°" in text  # 2 atan(17.3 / 270), 2 atan(13 / 270)
    camera.delete()
    assert "15° × 10°" in page(coordinator, cast, target=ANDROMEDA)


def test_another_clubs_camera_is_no_choice(cast: Cast, coordinator: Client) -> None:
    camera = camera_of(cast.elsewhere)
    text = page(coordinator, cast, target=ANDROMEDA, sensor=f"club-{camera.pk}")
    assert "is not among the choices" in text
    assert "The grey one" not in text


def test_a_lens_leads_to_what_is_set_on_it_toward_the_target(
    cast: Cast, coordinator: Client
) -> None:
    text = page(coordinator, cast, target=ANDROMEDA)
    address = reverse("camera")
    assert f'href="{address}?focal=24&widest=1.4&sensor=full-frame&declination=41.3"' in text
    assert "focal=135&widest=2&sensor=full-frame&declination=41.3&on=tracker" in text
