"""The page of camera and lens: open to everybody, answered first, refused in one sentence."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.drawing import Elements
from trips.models import Camera, Organisation


def page(client: Client, **asked: str) -> str:
    response = client.get(reverse("camera"), asked)
    assert response.status_code == 200
    return unescape(response.content.decode())


def answer(text: str) -> str:
    return text.partition('id="setting"')[2].partition("<form")[0]


def camera_of(organisation: Organisation, name: str) -> Camera:
    return Camera.objects.create(
        organisation=organisation,
        name=name,
        sensor_width_mm=17.3,
        sensor_height_mm=13.0,
        pixels_wide=5184,
        pixels_high=3888,
        top_iso=3200,
    )


@pytest.fixture
def nobody(db: None) -> Client:
    return Client()


def test_who_comes_without_a_question_finds_an_answer(nobody: Client) -> None:
    assert "<span>15 s</span> <span>f/2.8</span>" in answer(page(nobody))


def test_the_address_keeps_what_was_asked(nobody: Client) -> None:
    text = page(nobody, focal="14", sky="village", on="tracker", snow="on")
    assert 'name="focal" value="14"' in text
    assert '<option value="village" selected>' in text
    boxes = {box.get("id"): box for box in Elements(text).of("input")}
    assert "checked" in boxes["ask_on_1"]
    assert "checked" in boxes["ask_snow"]
    assert "checked" not in boxes["ask_on_0"]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"focal": ""}, "No focal length is written here; write the lens’s number, like 24."),
        ({"focal": "0"}, "No lens has a focal length of 0 mm"),
        ({"focal": "1"}, "No lens has a focal length of 1 mm"),
        ({"focal": "wide"}, "“wide” is not a number; write it like 24."),
        ({"widest": "0"}, "No lens has f/0"),
        ({"stop": "2"}, "The lens opens to f/2.8 and no further; write 2.8 or more."),
        ({"iso": "50"}, "50 is out of range: it must be from 100 to 819200."),
        ({"megapixels": "0"}, "0 is out of range"),
        ({"width": "36", "height": "24", "pixels": "0"}, "No sensor has a side of 0 pixels"),
        (
            {"width": "36", "height": "24"},
            "A sensor that is typed needs all three; write this too.",
        ),
        ({"magnitude": "9.9"}, "A sky of 9.9 mag/arcsec² is outside 10 to 23"),
        ({"magnitude": "23.1"}, "A sky of 23.1 mag/arcsec² is outside 10 to 23"),
        ({"declination": "91"}, "The declination 91"),
        ({"faint": "5"}, "A target of 5 mag/arcsec² is outside 10 to 30"),
        ({"wide": "0"}, "A field of 0° cannot be wanted"),
        ({"high": "91"}, "91 is out of range: it must be from 1 to 90."),
        ({"polar": "-1"}, "An axis −1′ beside the pole"),
        ({"sensor": "huge"}, "“huge” is not among the choices"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_no_answer_is_made_up(
    nobody: Client, asked: dict[str, str], said: str
) -> None:
    text = answer(page(nobody, **asked))
    assert said in text
    assert "<span>" not in text
    assert "One thing must be put right" in text


def test_a_short_focal_length_is_warned_of_and_answered(nobody: Client) -> None:
    text = answer(page(nobody, focal="3", sensor="phone-small"))
    assert "is a phone’s real focal length; phones print the equivalent" in text
    assert "<span>f/2.8</span>" in text


def test_the_real_focal_length_of_a_phone_is_one_press_away(nobody: Client) -> None:
    text = answer(page(nobody, focal="24", widest="1.8", sensor="phone-main", sky="village"))
    (address,) = re.findall(r'href="([^"]+)">Take 6.8 mm<', text)
    taken = unescape(nobody.get(address).content.decode())
    assert "6.8 mm f/1.8 (phone, main camera)" in answer(taken)
    assert "at the edge of a village" in answer(taken)
    assert "Take 6.8 mm" not in taken


def test_numbers_are_taken_as_they_stand_on_lenses(nobody: Client) -> None:
    plain = answer(page(nobody, focal="35", widest="1.8"))
    for focal, widest in (("35mm", "f/1.8"), ("35 mm", "1:1.8"), ("35,0", "F1,8")):
        assert answer(page(nobody, focal=focal, widest=widest)) == plain
    assert "“mm” is not a number" in answer(page(nobody, focal="mm"))


def test_a_field_left_empty_is_as_usual(nobody: Client) -> None:
    assert answer(page(nobody, sky="", trail="", wide="")) == answer(page(nobody))


def test_a_member_chooses_a_camera_of_the_club_and_its_highest_iso(
    cast: Cast, coordinator: Client
) -> None:
    camera = camera_of(cast.club, "The grey one")
    text = page(coordinator, camera=str(camera.pk))
    assert "(four thirds)" in answer(text)
    assert "At ISO 3200, the highest that you use" in answer(text)


def test_members_are_led_to_their_cameras_and_nobody_else_is(
    nobody: Client, coordinator: Client
) -> None:
    assert reverse("camera_list") in page(coordinator)
    assert reverse("camera_list") not in page(nobody)


@pytest.mark.parametrize("role", ["anonymous", "stranger", "superuser"])
def test_nobody_else_sees_or_uses_a_camera_of_the_club(
    role: str, cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    camera = camera_of(cast.club, "The grey one")
    camera_of(cast.elsewhere, "Another")
    text = page(signed_in(role), camera=str(camera.pk))
    assert "The grey one" not in text
    assert "(four thirds)" not in answer(text)


def test_an_archived_camera_is_not_offered(cast: Cast, coordinator: Client) -> None:
    camera = camera_of(cast.club, "The grey one")
    assert "The grey one" in page(coordinator)
    camera.archived_at = cast.job.created_at
    camera.save()
    assert "The grey one" not in page(coordinator)


def test_htmx_is_told_to_take_the_mistakes_beside_their_fields(nobody: Client) -> None:
    text = page(nobody)
    (form,) = [one for one in Elements(text).of("form") if one.get("hx-target") == "#answer"]
    taken = form["hx-select-oob"].split(",")
    assert "#evidence" in taken
    for where in taken:
        assert text.count(f'id="{where[1:]}"') == 1
