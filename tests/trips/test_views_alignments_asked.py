"""The page of alignments: over a landmark, by a step, why there is none, and wrong things typed."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Season, Spot

# Low in the south-west by the end of a night in March, and never far from 20° in the south.
CORE = "17h45m40s -29d00m28s"
FAR_SOUTH, ROUND_THE_POLE = "position:10,-70", "position:165.93,61.75"
ORION = "position:83.8,-5.4"
SCRIPT = "<script>alert(1)</script>"
TYPED_FIELDS = (
    "target", "over", "azimuth", "altitude", "spot", "hours", "light", "season",
    "azimuth_tolerance", "altitude_tolerance", "first", "last",
)  # fmt: skip
Ask = Callable[..., str]


@pytest.fixture
def asked(cast: Cast) -> Callable[..., dict[str, str]]:
    """Ask of the core at any hour and in any light of the cast's season, from its spot."""
    assert cast.spot.landmarks.exists()
    usual = {"target": CORE, "season": str(cast.season.pk), "hours": "any", "light": "any"}
    return lambda **changed: usual | changed


@pytest.fixture
def told(cast: Cast, coordinator: Client, asked: Callable[..., dict[str, str]]) -> Ask:
    def ask(**changed: str) -> str:
        address = reverse("alignments", args=[cast.site.pk])
        response = coordinator.get(address, asked(**changed))
        assert response.status_code == 200
        return unescape(response.content.decode())

    return ask


def kiln(cast: Cast, **fields: Any) -> str:
    """Give the number of the cast's landmark, toward 214° and 7° high, changed."""
    landmark = cast.spot.landmarks.get()
    for name, value in fields.items():
        setattr(landmark, name, value)
    landmark.save()
    return str(landmark.pk)


def level(cast: Cast) -> None:
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[])


def lead(text: str) -> str:
    (found,) = re.findall(r'<p class="lead" role="status">(.*?)</p>', text, re.S)
    return str(found)


def mistakes(text: str) -> list[str]:
    return re.findall(r'<ul class="errorlist"[^>]*><li>(.*?)</li>', text, re.S)


# Over a landmark


def test_a_landmark_is_named_with_its_direction_in_the_first_sentence(
    cast: Cast, told: Ask
) -> None:
    said = lead(told(over=kiln(cast)))
    assert "stands over Kiln, south-west (214°), " in said
    assert "times in Spring 2027: first at " in said


def test_half_of_a_landmark_s_width_is_the_stretch_to_either_side(cast: Cast, told: Ask) -> None:
    assert "within 3.0° to either side" in told(over=kiln(cast, width_degrees=6.0))
    assert "within 2.0° to either side" in told(over=kiln(cast, width_degrees=None))


def test_a_target_below_the_landmark_s_top_does_not_count(cast: Cast, told: Ask) -> None:
    level(cast)
    assert "stands over Kiln" in lead(told(over=kiln(cast, top_degrees=7.0)))
    assert "at most" in lead(told(over=kiln(cast, top_degrees=40.0)))


@pytest.mark.parametrize(
    ("metres", "said"),
    [
        (500.0, "One step sideways = 0.11° (a metre, with Kiln 500 m away)."),
        (2500.0, "One step sideways = 0.023° (a metre, with Kiln 2.5 km away)."),
        (20.0, "One step sideways = 2.9° (a metre, with Kiln 20 m away)."),
    ],
)
def test_a_step_to_the_side_is_told_in_degrees(
    cast: Cast, told: Ask, metres: float, said: str
) -> None:
    """0.11° for a metre at 500 m: the arctangent of 1/500."""
    assert said in told(over=kiln(cast, distance_m=metres))


def test_a_step_is_told_too_where_nothing_is_found(cast: Cast, told: Ask) -> None:
    text = told(over=kiln(cast, distance_m=500.0), target=FAR_SOUTH)
    assert lead(text).startswith("None in Spring 2027.")
    assert "One step sideways = 0.11°" in text


def test_no_step_is_told_without_a_distance_or_a_landmark(cast: Cast, told: Ask) -> None:
    assert "One step sideways =" not in told(over=kiln(cast, distance_m=None))
    kiln(cast, distance_m=500.0)
    assert "One step sideways =" not in told(azimuth="214")


def test_the_caution_is_on_every_answer(cast: Cast, told: Ask) -> None:
    for text in (told(over=kiln(cast)), told(azimuth="180", target=FAR_SOUTH), told()):
        assert "Walk the place by day before you need it by night." in text


# Why there is none


def test_it_says_that_a_target_never_comes_to_the_azimuth(told: Ask) -> None:
    said = lead(told(target=ROUND_THE_POLE, azimuth="180"))
    assert re.search(r"never comes to south \(180°\): the nearest it comes is north-\w+", said)


def test_it_says_that_a_target_never_rises_there(told: Ask) -> None:
    said = lead(told(target=FAR_SOUTH, azimuth="180"))
    assert "never rises at south (180°): it passes there below the horizon." in said


def test_it_says_how_high_a_target_comes_below_a_landmark_s_top(cast: Cast, told: Ask) -> None:
    """90° − 40.401° − 29.008°, and 0.04° of refraction: 20.6°."""
    over = kiln(cast, azimuth_degrees=180.0, top_degrees=25.0)
    said = lead(told(over=over))
    assert "passes south (180°) at most 20.6° high, and 25.0° is wanted." in said


def test_it_says_which_altitudes_a_target_has_there(told: Ask) -> None:
    said = lead(told(azimuth="180", altitude="40"))
    assert "passes south (180°) at 20.6°, never within 1.0° of 40.0°." in said


def test_it_says_that_the_land_is_in_the_way(cast: Cast, told: Ask) -> None:
    Spot.objects.filter(pk=cast.spot.pk).update(skyline=[[0, 30]])
    said = lead(told(azimuth="180"))
    assert "always behind the land, which is 30.0° high at south (180°)." in said


def test_it_says_that_only_the_light_is_not_the_wanted_one(told: Ask) -> None:
    """In June Orion passes the south by day."""
    nights = {"season": "", "first": "2027-06-01", "last": "2027-06-10", "azimuth": "180"}
    said = lead(told(target=ORION, light="dark", **nights))
    assert "None from 1 June 2027 to 10 June 2027." in said
    assert "stands there 10 times, but never in the light that is wanted" in said
    assert "None" not in lead(told(target=ORION, light="any", **nights))


def test_what_stands_nowhere_is_a_mistake_and_no_answer(told: Ask) -> None:
    text = told(target="Milky Way arch", azimuth="180")
    (said,) = mistakes(text)
    assert "spans the sky and stands at no one place; choose a point of it." in said
    assert "None" not in lead(text)


# Wrong things typed


@pytest.mark.parametrize("typed", ["400°", "x" * 10_000, SCRIPT, "\x00", "9" * 400])
@pytest.mark.parametrize("view", ["alignments", "alignments_csv"])
def test_what_is_typed_wrongly_anywhere_is_told_once_at_its_field(
    cast: Cast,
    coordinator: Client,
    asked: Callable[..., dict[str, str]],
    view: str,
    typed: str,
) -> None:
    address = reverse(view, args=[cast.site.pk])
    for field in TYPED_FIELDS:
        wrong = asked(**{"azimuth": "180"} | {field: typed})
        response = coordinator.get(address, wrong, follow=True)
        assert response.status_code == 200
        text = response.content.decode()
        assert len(mistakes(text)) == 1
        assert SCRIPT not in text


def test_an_address_with_fields_left_out_or_repeated_is_read(
    cast: Cast, coordinator: Client
) -> None:
    address = reverse("alignments", args=[cast.site.pk])
    for query in ("target=", "target=Jupiter", "azimuth=1", "target=Jupiter&target=Mars", "x=1"):
        assert coordinator.get(f"{address}?{query}").status_code == 200


def test_a_season_of_another_club_is_no_choice(cast: Cast, told: Ask) -> None:
    theirs = Season.objects.create(
        organisation=cast.elsewhere, name="Quay nights",
        first_night=cast.season.first_night, last_night=cast.season.last_night,
    )  # fmt: skip
    text = told(azimuth="180", season=str(theirs.pk))
    assert len(mistakes(text)) == 1
    assert "Quay nights" not in text


# The table to take away


def table(response: Any) -> list[list[str]]:
    return list(csv.reader(io.StringIO(response.content.decode("utf-8-sig"))))


def test_the_table_has_these_columns_and_a_line_for_each_alignment(
    cast: Cast, coordinator: Client, asked: Callable[..., dict[str, str]]
) -> None:
    address = reverse("alignments_csv", args=[cast.site.pk])
    response = coordinator.get(address, asked(azimuth="180"))
    heading, *lines = table(response)
    assert heading == [
        "night", "at", "from", "to", "altitude", "altitude_geometric", "azimuth", "sun_altitude",
        "moon_altitude", "moon_illuminated", "why_not",
    ]  # fmt: skip
    assert len(lines) == 31
    assert lines[0][0] == "2027-03-01"
    assert {line[6] for line in lines} == {"180.0"}
    assert "broom-hill" in response["Content-Disposition"]


def test_without_any_the_table_is_its_heading(
    cast: Cast, coordinator: Client, asked: Callable[..., dict[str, str]]
) -> None:
    address = reverse("alignments_csv", args=[cast.site.pk])
    response = coordinator.get(address, asked(target=FAR_SOUTH, azimuth="180"))
    assert len(table(response)) == 1


def test_a_table_of_what_cannot_be_read_leads_back_to_the_page(
    cast: Cast, coordinator: Client, asked: Callable[..., dict[str, str]]
) -> None:
    address = reverse("alignments_csv", args=[cast.site.pk])
    response = coordinator.get(address, asked(azimuth="400"))
    assert response.status_code == 302
    assert response["Location"].startswith(reverse("alignments", args=[cast.site.pk]) + "?")
    assert "azimuth=400" in response["Location"]
