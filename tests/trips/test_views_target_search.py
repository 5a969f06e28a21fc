"""Targets looked for: by any name or by two angles, with the nearest where there is none."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.almanac.targets import suggestions
from trips.models import TargetList


def found(client: Client, cast: Cast, asked: str) -> str:
    address = reverse("target_search", args=[cast.club.pk])
    return client.get(address, {"q": asked}).content.decode()


@pytest.mark.parametrize(
    ("asked", "key"),
    [
        ("M 31", "deep-sky:NGC0224"),
        ("Andromeda", "deep-sky:NGC0224"),
        ("NGC 224", "deep-sky:NGC0224"),
        ("orion nebula", "deep-sky:NGC1976"),
        ("17h45m40s -29.0", "position:266.41667,-29"),
        ("jupiter", "planet:jupiter"),
        ("galactic core", "milky-way:core"),
        ("milkyway core", "milky-way:core"),
        ("Polaris", "star:polaris"),
        ("vega", "star:vega"),
        ("North Star", "star:polaris"),
    ],
)
def test_a_target_is_found_by_any_name_and_can_be_added(
    cast: Cast, coordinator: Client, asked: str, key: str
) -> None:
    assert f'name="target" value="{key}' in found(coordinator, cast, asked)


@pytest.mark.parametrize(
    ("asked", "meant"),
    [
        ("Andromda Galxy", "Andromeda Galaxy"),
        ("andromeda galaxi", "Andromeda Galaxy"),
        ("Jupitr", "Jupiter"),
        ("galaktic core", "Galactic core"),
        ("polaris star", "Polaris"),
        ("Betelguese", "Betelgeuse"),
        ("moon+jupitr", "Moon and Jupiter"),
    ],
)
def test_the_nearest_names_are_offered_for_one_that_is_none(
    cast: Cast, coordinator: Client, asked: str, meant: str
) -> None:
    text = found(coordinator, cast, asked)
    assert f"No target is named “{asked}”." in text
    assert f">{meant}</a>" in text


@pytest.mark.parametrize(
    ("asked", "key"),
    [("moon+jupitr", "moon+jupiter"), ("carina clowd", "carina"), ("anticentr", "anticentre")],
)
def test_a_key_is_never_offered_for_a_name(
    cast: Cast, coordinator: Client, asked: str, key: str
) -> None:
    text = found(coordinator, cast, asked)
    assert f">{key}</a>" not in text


def test_nothing_near_is_told_with_what_always_works(cast: Cast, coordinator: Client) -> None:
    assert "Two angles always work" in found(coordinator, cast, "qqqqqqqqqq")


@pytest.mark.parametrize("asked", ["266.4 -95", "25h00m00s 10"])
def test_angles_that_cannot_be_are_refused_in_a_sentence(
    cast: Cast, coordinator: Client, asked: str
) -> None:
    assert 'class="warning"' in found(coordinator, cast, asked)


@pytest.mark.parametrize("asked", ["x" * 10_000, "<script>", "\x00", "★", "%", "'; --"])
def test_nonsense_is_answered_and_shown_as_text(
    cast: Cast, coordinator: Client, asked: str
) -> None:
    text = found(coordinator, cast, asked)
    assert "Look for a target" in text
    assert "<script>" not in text


def test_what_never_rises_at_a_site_is_told(cast: Cast, coordinator: Client) -> None:
    text = found(coordinator, cast, "47 Tucanae")
    assert f"<b>never rises</b>: <bdi>{cast.site.name}</bdi>" in text


def test_a_target_is_put_into_a_new_list(cast: Cast, coordinator: Client) -> None:
    coordinator.post(
        reverse("target_add", args=[cast.club.pk]), {"target": "M 31", "list": "", "q": "M 31"}
    )
    assert TargetList.objects.get().entries.get().target == "deep-sky:NGC0224"


@pytest.mark.parametrize("target", ["", "nowhere", "x" * 10_000, "<b>"])
def test_an_unknown_target_is_put_into_no_list(
    cast: Cast, coordinator: Client, target: str
) -> None:
    address = reverse("target_add", args=[cast.club.pk])
    answer = coordinator.post(address, {"target": target, "list": "", "q": ""}, follow=True)
    assert answer.status_code == 200
    assert not TargetList.objects.exists()


def test_nothing_asked_offers_every_target_by_a_name_that_is_found(
    cast: Cast, coordinator: Client
) -> None:
    text = found(coordinator, cast, "")
    assert "?q=North+America+Nebula" in text
    assert "?q=Jupiter" in text
    assert "<table" not in text


def test_the_list_that_is_added_to_stays_chosen_from_name_to_name(
    cast: Cast, coordinator: Client
) -> None:
    address = reverse("target_search", args=[cast.club.pk])
    text = coordinator.get(address, {"list": cast.target_list.pk}).content.decode()
    assert f"list={cast.target_list.pk}&amp;q=Jupiter" in text


@pytest.mark.parametrize(
    ("typed", "first"),
    [("polariss", "Polaris"), ("saturnn", "Saturn"), ("polarissim", "Polarissima Australis")],
)
def test_a_letter_too_many_leads_to_the_name_without_it(typed: str, first: str) -> None:
    assert suggestions(typed)[0] == first
