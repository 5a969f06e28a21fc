"""The form of a spot: its skyline typed or brought, its landmarks and hazards, and two editors."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Landmark, Spot

NO_ROWS = {"TOTAL_FORMS": "0", "INITIAL_FORMS": "0"}
TYPED = {
    "name": "East wall", "latitude": "40.41", "longitude": "-1.09", "elevation_m": "1610",
    "tripods": "6", "walk_minutes": "12", "skyline": "0 3\n90 7.5\n180 -1\n270 12",
    "skyline_how": "clinometer", "notes": "",
}  # fmt: skip


def rows(kind: str, *typed: dict[str, Any], stored: int = 0) -> dict[str, Any]:
    """Give rows as a browser sends them, the first `stored` of which have their ids."""
    sent = {f"{kind}-TOTAL_FORMS": str(len(typed)), f"{kind}-INITIAL_FORMS": str(stored)}
    for number, row in enumerate(typed):
        sent |= {f"{kind}-{number}-{name}": value for name, value in row.items()}
    return sent


def landmark(**changed: Any) -> dict[str, Any]:
    return {"name": "Tower", "azimuth_degrees": "200", "top_degrees": "4.5"} | changed


class Add:
    """Posts the form of a new spot, with what was changed of it."""

    def __init__(self, cast: Cast, client: Client) -> None:
        self.client = client
        self.address = reverse("spot_add", args=[cast.site.pk])

    def __call__(self, **changed: Any) -> str:
        sent = TYPED | rows("landmarks") | rows("hazards") | changed
        response = self.client.post(self.address, sent, follow=True)
        assert response.status_code == 200
        page: str = response.content.decode()
        return page


@pytest.fixture
def instructor(signed_in: Callable[[str], Client]) -> Client:
    return signed_in("instructor")


@pytest.fixture
def add(cast: Cast, instructor: Client) -> Add:
    return Add(cast, instructor)


@pytest.fixture
def editing(cast: Cast) -> str:
    return reverse("spot_edit", args=[cast.spot.pk])


def east_wall() -> Spot:
    return Spot.objects.get(name="East wall")


def test_a_spot_is_saved_with_all_that_was_typed(add: Add) -> None:
    page = add(
        **rows(
            "landmarks", landmark(width_degrees="1.5", face_degrees="20", is_seen_at_night="on")
        ),
        **rows("hazards", {"kind": "edge", "text": "drop beyond the wall"}),
    )
    assert "East wall is saved." in page
    spot = east_wall()
    assert (spot.tripods, spot.walk_minutes, spot.skyline_how) == (6, 12, "clinometer")
    assert spot.skyline == [[0, 3], [90, 7.5], [180, -1], [270, 12]]
    assert spot.landmarks.get().is_seen_at_night
    assert spot.landmarks.get().face_degrees == 20
    assert spot.hazards.get().text == "drop beyond the wall"


def test_a_name_and_a_position_are_enough(add: Add) -> None:
    empty = dict.fromkeys(("tripods", "walk_minutes", "skyline", "skyline_how"), "")
    assert "Level horizon: nobody has measured it" in add(**empty)
    assert (east_wall().tripods, east_wall().skyline) == (None, [])


def test_a_pasted_position_is_read(add: Add) -> None:
    add(latitude="40.41, −1.09", longitude="")
    assert (east_wall().latitude, east_wall().longitude) == (40.41, -1.09)


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("name", ""),
        ("name", "Kiln floor"),  # there is one of that name
        ("latitude", "95"),
        ("longitude", "west"),
        ("elevation_m", "100000"),
        ("tripods", "0"),
        ("tripods", "many"),
        ("walk_minutes", "-5"),
        ("skyline", "0 3\n90 91"),
        ("skyline", "0 3\nninety 4"),
        ("skyline", "\n".join(f"{n / 30} 1" for n in range(10_000))),
    ],
)
def test_what_cannot_be_is_told_once_and_nothing_is_saved(
    cast: Cast, add: Add, field: str, typed: str
) -> None:
    Spot.objects.filter(pk=cast.spot.pk).update(name="Kiln floor")
    page = add(**{field: typed}, **rows("landmarks", landmark()))
    assert page.count('class="errorlist"') == 1
    assert not Spot.objects.filter(name="East wall").exists()
    assert not Landmark.objects.filter(name="Tower").exists()


def test_a_skyline_that_cannot_be_read_stays_as_it_was_typed(add: Add) -> None:
    page = add(skyline="0 3\n90 ninety")
    assert "Line 2: “90 ninety” is not an azimuth and an altitude" in page
    assert "0 3\n90 ninety</textarea>" in page


# A skyline from a table


def brought(text: str) -> SimpleUploadedFile:
    return SimpleUploadedFile("skyline.csv", text.encode(), "text/csv")


def test_a_table_takes_the_place_of_what_is_written(add: Add) -> None:
    add(skyline_file=brought("azimuth,altitude\n270,4\n90,2.5\n"))
    assert east_wall().skyline == [[90, 2.5], [270, 4]]


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("azimuth,altitude\n10,4\n20,high\n", "3"),
        ("azimuth,altitude\n10,4\n20,95\n", "3"),
        ("azimuth,altitude\n10,4\n10,5\n", "2 and 3"),
    ],
)
def test_a_table_with_a_mistake_is_refused_with_its_line(add: Add, table: str, said: str) -> None:
    page = add(skyline_file=brought(table))
    assert f"ine {said}" in page or f"ines {said}" in page
    assert not Spot.objects.filter(name="East wall").exists()


def test_an_empty_file_is_refused(add: Add) -> None:
    assert "The file is empty." in add(skyline_file=brought(""))


def test_what_is_taken_away_can_be_brought_back(cast: Cast, add: Add, instructor: Client) -> None:
    add()
    table = instructor.get(reverse("spot_skyline_csv", args=[east_wall().pk])).content.decode()
    add(name="Same again", skyline="", skyline_file=brought(table))
    assert Spot.objects.get(name="Same again").skyline == east_wall().skyline


# What is doubtful is saved, and said


@pytest.mark.parametrize(
    ("skyline", "said"),
    [
        ("10 4", "One point is taken for a level ring"),
        ("0 1\n120 3\n240 2", "Nothing was measured between"),
        ("0 1\n60 3\n60 3\n120 1\n180 1\n240 1\n300 2", "1 line said the same again"),
    ],
)
def test_a_doubtful_skyline_is_saved_and_said(add: Add, skyline: str, said: str) -> None:
    assert said in add(skyline=skyline)
    assert east_wall().skyline


def test_a_spot_far_from_its_site_is_saved_and_said(add: Add) -> None:
    assert "look at its position again" in add(latitude="41.4")
    assert east_wall().latitude == 41.4


# Landmarks


def test_a_landmark_is_aimed_at_by_its_position(add: Add) -> None:
    add(**rows("landmarks", landmark(azimuth_degrees="", position="40.40, −1.09")))
    assert east_wall().landmarks.get().azimuth_degrees == pytest.approx(180, abs=0.01)


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"name": ""}, "Landmark 1, name"),
        ({"azimuth_degrees": ""}, "write an azimuth or a position"),
        ({"azimuth_degrees": "400"}, "Landmark 1, azimuth"),
        ({"azimuth_degrees": "south"}, "Landmark 1, azimuth"),
        ({"top_degrees": "95"}, "Landmark 1, altitude of its top"),
        ({"width_degrees": "-1"}, "Landmark 1, width"),
        ({"face_degrees": "400"}, "Landmark 1, its face looks to"),
        ({"distance_m": "0"}, "Landmark 1, distance"),
        ({"position": "behind the hill"}, "is no position"),
        ({"position": "40.41, −1.09", "azimuth_degrees": ""}, "less than a metre from the spot"),
        ({"position": "−40.4, 178.9", "azimuth_degrees": ""}, " km from the spot"),
        ({"position": "40.40, −1.09", "azimuth_degrees": "90"}, "leave one of the two empty"),
    ],
)
def test_a_landmark_that_cannot_be_is_told_and_nothing_is_saved(
    add: Add, wrong: dict[str, str], said: str
) -> None:
    page = add(**rows("landmarks", landmark(**wrong)))
    assert said in page
    assert page.count('class="errorlist"') == 1
    assert not Spot.objects.filter(name="East wall").exists()


def test_another_row_is_added_without_a_script_and_without_judging(add: Add) -> None:
    page = add(name="", add_landmark="1", **rows("landmarks", landmark(name="")))
    assert 'name="landmarks-1-name"' in page
    assert "errorlist" not in page


# Two editors


def opened(client: Client, address: str) -> dict[str, Any]:
    """Give the form as a browser would send it untouched."""
    context = client.get(address).context
    sets = [context["landmarks"], context["hazards"]]
    forms = [context["form"], *(one.management_form for one in sets), *sets[0], *sets[1]]
    values = {field.html_name: field.value() for form in forms for field in form}
    return {
        name: value for name, value in values.items() if value is not None and value is not False
    }


def test_what_the_second_editor_left_alone_stays_as_the_first_saved_it(
    cast: Cast, coordinator: Client, instructor: Client, editing: str
) -> None:
    form = opened(instructor, editing)
    coordinator.post(editing, form | {"skyline": "0 9"})
    page = instructor.post(editing, form | {"tripods": "4"}, follow=True).content.decode()
    assert "is saved" in page
    spot = Spot.objects.get(pk=cast.spot.pk)
    assert (spot.skyline, spot.tripods) == ([[0, 9]], 4)


def test_a_skyline_whose_numbers_were_put_right_is_not_put_back(
    cast: Cast, coordinator: Client, instructor: Client, editing: str
) -> None:
    """The same numbers, azimuth and altitude exchanged."""
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[10, 20]])
    form = opened(instructor, editing)
    coordinator.post(editing, form | {"skyline": "20 10"})
    instructor.post(editing, form | {"tripods": "4"})
    assert Spot.objects.get(pk=cast.spot.pk).skyline == [[20, 10]]


def test_a_skyline_that_both_changed_is_asked_about(
    cast: Cast, coordinator: Client, instructor: Client, editing: str
) -> None:
    form = opened(instructor, editing)
    coordinator.post(editing, form | {"skyline": "0 9\n180 1"})
    page = instructor.post(editing, form | {"skyline": "0 2"}, follow=True).content.decode()
    assert "Stored now: 2 points" in page
    assert Spot.objects.get(pk=cast.spot.pk).skyline == [[0, 9], [180, 1]]


def test_a_landmark_that_the_first_added_is_not_lost(
    cast: Cast, coordinator: Client, instructor: Client, editing: str
) -> None:
    form = opened(instructor, editing)
    new = {f"landmarks-1-{name}": value for name, value in landmark().items()}
    coordinator.post(editing, form | new)
    instructor.post(editing, form | {"tripods": "4"})
    assert set(cast.spot.landmarks.values_list("name", flat=True)) == {"Kiln", "Tower"}


def test_more_landmarks_than_there_may_be_are_refused_and_none_is_kept(add: Add) -> None:
    page = add(**rows("landmarks", *(landmark(name=f"Post {n}") for n in range(41))))
    assert "There may be 40 rows; leave the others out." in page
    assert not Spot.objects.filter(name="East wall").exists()


def test_as_many_as_there_may_be_are_kept(add: Add) -> None:
    add(**rows("landmarks", *(landmark(name=f"Post {n}") for n in range(40))))
    assert east_wall().landmarks.count() == 40


def test_rows_that_did_not_arrive_whole_are_refused(add: Add) -> None:
    page = add(**{"landmarks-TOTAL_FORMS": "many"})
    assert "The rows did not arrive whole: load the page again" in page
    assert not Spot.objects.filter(name="East wall").exists()
