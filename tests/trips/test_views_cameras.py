"""The club's cameras: listed, added by a common size or by numbers, calibrated, archived."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Camera

TYPED = {
    "name": "Night Jar", "sensor": "", "sensor_width_mm": "23,5", "sensor_height_mm": "15.6",
    "pixels_wide": "6000", "pixels_high": "4000", "top_iso": "6400",
}  # fmt: skip
FRAME = {
    "f_number": "2.8", "seconds": "20", "iso": "3200", "level": "3 %", "known_mag": "21.0",
    "on": "2026-03-18", "how": "24 mm lens, the club's meter",
}  # fmt: skip


def text(response: Any) -> str:
    words: str = response.content.decode()
    return words


def add(client: Client, cast: Cast, **changes: str) -> str:
    address = reverse("camera_add", args=[cast.club.pk])
    return text(client.post(address, TYPED | {"version": "1"} | changes, follow=True))


def edit(client: Client, camera: Camera, **changes: str) -> str:
    address = reverse("camera_edit", args=[camera.pk])
    form = client.get(address).context["form"]
    as_is = {name: form[name].value() or "" for name in form.fields}
    return text(client.post(address, as_is | changes, follow=True))


def calibrate(client: Client, camera: Camera, **changes: str) -> str:
    address = reverse("camera_calibrate", args=[camera.pk])
    return text(client.post(address, FRAME | {"version": camera.version} | changes, follow=True))


def test_a_camera_is_added_by_its_numbers(cast: Cast, coordinator: Client) -> None:
    assert "Night Jar is saved." in add(coordinator, cast)
    camera = Camera.objects.get(name="Night Jar")
    assert (camera.sensor_width_mm, camera.pixels_high, camera.top_iso) == (23.5, 4000, 6400)
    assert (camera.organisation, camera.zero_point) == (cast.club, None)


def test_a_common_size_fills_in_what_is_left_empty(cast: Cast, coordinator: Client) -> None:
    empty = {name: "" for name in TYPED if name.startswith(("sensor_", "pixels_"))}
    add(coordinator, cast, sensor="four-thirds", **empty)
    camera = Camera.objects.get(name="Night Jar")
    assert (camera.sensor_width_mm, camera.sensor_height_mm) == (17.3, 13.0)
    assert camera.pixels_wide > 4000


def test_pixels_that_are_typed_stand_beside_a_common_size(cast: Cast, coordinator: Client) -> None:
    add(coordinator, cast, sensor="aps-c", pixels_wide="6240", pixels_high="4160")
    assert Camera.objects.get(name="Night Jar").pixels_wide == 6240


def test_a_common_size_and_other_millimetres_contradict_each_other(
    cast: Cast, coordinator: Client
) -> None:
    page = add(coordinator, cast, sensor="full-frame")
    assert "not those of this size" in page
    assert not Camera.objects.exists()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"name": ""}, "Without a name"),
        ({"sensor_width_mm": "0"}, "out of range"),
        ({"sensor_width_mm": "wide"}, "is not a number"),
        ({"sensor_height_mm": "23,5", "sensor_width_mm": "15.6"}, "pixels are square"),
        ({"pixels_wide": "0"}, "Too small"),
        ({"pixels_high": "9" * 400}, "Too large"),
        ({"top_iso": "50"}, "Too small"),
        ({"sensor": "huge"}, "not among the choices"),
    ],
)
def test_what_is_no_camera_is_refused(
    cast: Cast, coordinator: Client, changes: dict[str, str], words: str
) -> None:
    page = add(coordinator, cast, **changes)
    assert "Not saved" in page
    assert words.lower() in page.lower()
    assert not Camera.objects.exists()


def test_two_cameras_of_a_club_have_two_names(cast: Cast, coordinator: Client) -> None:
    assert "already a camera named" in add(coordinator, cast, name=cast.camera.name)


def test_editing_keeps_the_calibration_and_what_another_editor_saved(
    cast: Cast, coordinator: Client
) -> None:
    camera = cast.camera
    opened = coordinator.get(reverse("camera_edit", args=[camera.pk])).context["form"]
    mine = {name: opened[name].value() or "" for name in opened.fields} | {"top_iso": "25600"}
    calibrate(coordinator, camera, level="0.03")
    edit(coordinator, camera, name="Old Heron")
    page = text(coordinator.post(reverse("camera_edit", args=[camera.pk]), mine, follow=True))
    assert "taken over from there: name" in page.lower()
    camera.refresh_from_db()
    assert (camera.name, camera.top_iso) == ("Old Heron", 25600)
    assert camera.calibrated_on == date(2026, 3, 18)


def test_a_calibration_gives_the_zero_point(cast: Cast, coordinator: Client) -> None:
    page = calibrate(coordinator, cast.camera)
    camera = Camera.objects.get()
    # 21.0 less 13.5869, the light of LM1.
    assert camera.zero_point == pytest.approx(7.4131, abs=1e-4)
    assert camera.calibrated_how == FRAME["how"]
    assert "zero point 7.41" in page
    assert "Hardly any camera" not in page


def test_a_calibration_that_no_camera_has_is_doubted(cast: Cast, coordinator: Client) -> None:
    assert "Hardly any camera" in calibrate(coordinator, cast.camera, level="0.4")
    assert "near full scale" in calibrate(coordinator, Camera.objects.get(), level="0.9")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"level": "0"}, "is black"),
        ({"level": "1"}, "burnt out, expose less"),
        ({"level": "3"}, "burnt out, expose less"),
        ({"level": "bright"}, "is not a number"),
        ({"level": ""}, "No level is written here"),
        ({"f_number": "0"}, "f/"),
        ({"seconds": "0"}, "An exposure of 0 s cannot be"),
        ({"seconds": "1e400"}, "is not a number"),
        ({"iso": "0"}, "ISO 0 cannot be"),
        ({"known_mag": "9"}, "no sky of a night"),
        ({"known_mag": "23.5"}, "no sky of a night"),
        ({"on": "2999-01-01"}, "still to come"),
        ({"on": "yesterday"}, "no date of the calendar"),
        ({"how": ""}, "Nothing is written here"),
        ({"version": "0"}, "changed by somebody else"),
    ],
)
def test_what_is_no_calibration_is_refused(
    cast: Cast, coordinator: Client, changes: dict[str, str], words: str
) -> None:
    page = calibrate(coordinator, cast.camera, **changes)
    assert words in page
    assert Camera.objects.get().zero_point == 7.4


def test_the_cameras_of_others_are_not_listed(cast: Cast, coordinator: Client) -> None:
    Camera.objects.create(organisation=cast.elsewhere, name="Theirs", sensor_width_mm=36,
                          sensor_height_mm=24, pixels_wide=6000, pixels_high=4000)  # fmt: skip
    page = text(coordinator.get(reverse("camera_list")))
    assert "Theirs" not in page
    assert "No camera yet" in page


def test_an_archived_camera_leaves_the_list_and_keeps_its_page(
    cast: Cast, coordinator: Client
) -> None:
    camera = cast.camera
    coordinator.post(reverse("camera_archive", args=[camera.pk]), {"version": camera.version})
    assert "1 archived camera" in text(coordinator.get(reverse("camera_list")))
    page = text(coordinator.get(reverse("camera_detail", args=[camera.pk])))
    assert "This camera is archived" in page
