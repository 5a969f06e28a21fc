"""Sites: a position is echoed before it is saved; what cannot be is refused in a sentence."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from trips.models import Hazard, Job, Season, Site

TYPED = {
    "name": "Juniper Pass",
    "latitude": "40.5",
    "longitude": "−1,25",
    "elevation_m": "1480",
    "zone": "",
    "months_open": ["4", "5", "6"],
    "night_access": "yes",
    "vehicle": "any",
    "phone_coverage": "patchy",
    "hazards-TOTAL_FORMS": "1",
    "hazards-INITIAL_FORMS": "0",
    "hazards-0-kind": "road",
    "hazards-0-text": "Loose gravel on the last bend",
}


def post(client: Client, address: str, **changed: Any) -> Any:
    return client.post(address, TYPED | changed)


def confirm(client: Client, address: str, **changed: Any) -> Any:
    """Type, read the echo, and press the button again."""
    form = post(client, address, **changed).context["form"]
    seen = {"zone": form.data["zone"], "seen": form.data["seen"]}
    return post(client, address, **(changed | seen))


@pytest.fixture
def adding(cast: Cast) -> str:
    return reverse("site_add", args=[cast.club.pk])


def test_the_position_is_echoed_in_words_with_the_zone_found(
    coordinator: Client, adding: str
) -> None:
    page = post(coordinator, adding).content.decode()
    assert "40.5000° north, 1.2500° west" in page
    assert "Time zone Europe/Madrid" in page


def test_nothing_is_saved_before_the_echo_was_seen(coordinator: Client, adding: str) -> None:
    post(coordinator, adding)
    assert not Site.objects.filter(name="Juniper Pass").exists()


def test_a_confirmed_site_is_saved_with_its_hazards(coordinator: Client, adding: str) -> None:
    confirm(coordinator, adding)
    site = Site.objects.get(name="Juniper Pass")
    assert (site.latitude, site.longitude, site.zone) == (40.5, -1.25, "Europe/Madrid")
    assert site.months_open == [4, 5, 6]
    assert [(h.kind, h.text) for h in site.hazards.all()] == [
        ("road", "Loose gravel on the last bend")
    ]


def test_an_instructor_may_add_too(signed_in: Callable[[str], Client], adding: str) -> None:
    assert confirm(signed_in("instructor"), adding).status_code == 302


def test_a_position_changed_after_the_echo_is_echoed_again(
    coordinator: Client, adding: str
) -> None:
    seen = post(coordinator, adding).context["form"].data["seen"]
    response = post(coordinator, adding, zone="Europe/Madrid", seen=seen, latitude="41.5")
    assert "41.5000° north" in response.content.decode()
    assert not Site.objects.filter(name="Juniper Pass").exists()


def test_another_zone_may_be_chosen_and_is_doubted(coordinator: Client, adding: str) -> None:
    page = post(coordinator, adding, zone="Asia/Tokyo").content.decode()
    assert "Clocks at that position keep Europe/Madrid" in page
    confirm(coordinator, adding, zone="Asia/Tokyo")
    assert Site.objects.get(name="Juniper Pass").zone == "Asia/Tokyo"


def test_a_zone_that_fits_is_not_doubted(coordinator: Client, adding: str) -> None:
    assert post(coordinator, adding).context["doubts"] == []


@pytest.mark.parametrize("zone", ["", "Europe/Madrid"])
def test_a_swapped_looking_position_is_doubted(zone: str, coordinator: Client, adding: str) -> None:
    page = post(coordinator, adding, latitude="-1.25", longitude="40.5", zone=zone)
    assert "look swapped" in page.content.decode()


REFUSED = [
    ("latitude", "190", "190 is out of range: it must be from −90 to 90."),
    ("latitude", "-90.01", "latitude ends at ±90°"),
    ("latitude", "north", "“north” is not a number"),
    ("latitude", "nan", "“nan” is not a number"),
    ("latitude", "4_0", "“4_0” is not a number"),
    ("latitude", "40.4, -1.1", "is not a number"),
    ("latitude", "", "No latitude is written here; write it like 40.4."),
    ("latitude", "40°75'", "is not a number; write it like 40.4."),
    ("elevation_m", "high", "“high” is not a number; write it like 1600."),
    ("country", "XX", "“XX” is no country’s code; write its two letters, like ES or NO."),
    ("largest_group", "0", "Too small: write 1 or more."),
    ("largest_group", "some", "That is no whole number; write it like 3."),
    ("sky_brightness", "dark", "“dark” is not a number; write it like 21.6."),
    ("sky_brightness", "21.6", "A measured brightness needs its date"),
    ("sky_measured_on", "2999-01-01", "That day is still to come"),
    ("longitude", "361", "361 is out of range: it must be from −180 to 360."),
    ("longitude", "1e999", "is not a number"),
    ("elevation_m", "9001", "is out of range"),
    ("zone", "Europe/Nowhere", "“Europe/Nowhere” is not a time zone"),
    ("zone", "../../etc/passwd", "is not a time zone"),
    ("country", "E1", "“E1” is no country’s code"),
    ("sky_brightness", "30", "is out of range"),
    ("name", "Broom Hill", "There is already a site named “Broom Hill”"),
    ("night_access", "maybe", "“maybe” is not among the choices"),
    ("hazards-0-text", "", "say what is there and where."),
]


@pytest.mark.parametrize(("field", "value", "sentence"), REFUSED)
def test_what_cannot_be_is_refused_in_a_sentence(
    *, field: str, value: str, sentence: str, coordinator: Client, adding: str
) -> None:
    before = Site.objects.count(), Hazard.objects.count()
    response = post(coordinator, adding, **{field: value, "seen": "40.5|-1.25|1480.0|x"})
    assert response.status_code == 200
    assert sentence in response.content.decode()
    assert (Site.objects.count(), Hazard.objects.count()) == before


def test_a_latitude_that_can_only_be_a_longitude_looks_swapped(
    coordinator: Client, adding: str
) -> None:
    page = post(coordinator, adding, latitude="120.5", longitude="-30").content.decode()
    assert "Latitude and longitude look swapped" in page


def test_a_site_of_the_antimeridian_is_taken(coordinator: Client, adding: str) -> None:
    page = post(coordinator, adding, latitude="-16.8", longitude="-180").content.decode()
    assert "16.8000° south, 180.0000° west" in page


def edited(cast: Cast, **changed: Any) -> dict[str, Any]:
    """Give the edit form as the page sends it back, with changes."""
    site = cast.site
    seen = f"{site.latitude}|{site.longitude}|{site.elevation_m}|{site.zone}"
    as_is = {
        "name": site.name,
        "latitude": "40.4",
        "longitude": "-1.1",
        "elevation_m": "1600",
        "zone": site.zone,
        "seen": seen,
        "version": "1",
        "hazards-0-id": str(site.hazards.get().pk),
        "hazards-0-kind": "edge",
        "hazards-0-text": "Unfenced edge north of the wall",
        "hazards-INITIAL_FORMS": "1",
    }
    return TYPED | as_is | changed


def test_an_edit_that_leaves_the_position_is_saved_at_once(cast: Cast, coordinator: Client) -> None:
    coordinator.post(reverse("site_edit", args=[cast.site.pk]), edited(cast, notes="Bring a hat"))
    cast.site.refresh_from_db()
    assert (cast.site.notes, cast.site.version) == ("Bring a hat", 2)


def test_an_edited_position_asks_for_its_nights_again(cast: Cast, coordinator: Client) -> None:
    # Ahead on whatever day this test is run.
    Season.objects.update(first_night=date(2050, 3, 1), last_night=date(2050, 3, 31))
    address = reverse("site_edit", args=[cast.site.pk])
    moved = {"latitude": "40.6", "seen": "40.6|-1.1|1600.0|Europe/Madrid"}
    coordinator.post(address, edited(cast, **moved))
    newest = Job.objects.exclude(pk=cast.job.pk).get()
    assert (newest.site, newest.first_night) == (cast.site, date(2050, 3, 1))
    assert newest.fingerprint != cast.job.fingerprint


def test_an_edited_note_asks_for_nothing(cast: Cast, coordinator: Client) -> None:
    Season.objects.update(first_night=date(2050, 3, 1), last_night=date(2050, 3, 31))
    coordinator.post(reverse("site_edit", args=[cast.site.pk]), edited(cast, notes="Bring a hat"))
    assert list(Job.objects.all()) == [cast.job]


def test_a_hazard_can_be_taken_off(cast: Cast, coordinator: Client) -> None:
    address = reverse("site_edit", args=[cast.site.pk])
    coordinator.post(address, edited(cast, **{"hazards-0-DELETE": "on"}))
    assert not cast.site.hazards.exists()


def test_a_hazard_of_another_club_cannot_be_taken_over(cast: Cast, coordinator: Client) -> None:
    theirs = Hazard.objects.create(site=cast.far_site, kind="water", text="Tide over the quay")
    address = reverse("site_edit", args=[cast.site.pk])
    coordinator.post(address, edited(cast, **{"hazards-0-id": str(theirs.pk)}))
    theirs.refresh_from_db()
    assert (theirs.site, theirs.text) == (cast.far_site, "Tide over the quay")


def test_the_list_shows_ones_own_sites_only(cast: Cast, coordinator: Client) -> None:
    page = coordinator.get(reverse("site_list")).content.decode()
    assert "Broom Hill" in page
    assert "Salt Quay" not in page


def test_an_archived_site_leaves_the_list_and_keeps_its_page(
    cast: Cast, coordinator: Client
) -> None:
    coordinator.post(reverse("site_archive", args=[cast.site.pk]))
    listed = coordinator.get(reverse("site_list"))
    assert [len(sites) for _, sites in listed.context["groups"]] == [0]
    page = coordinator.get(reverse("site_detail", args=[cast.site.pk])).content.decode()
    assert "This site is archived" in page


def test_asking_to_archive_archives_nothing(cast: Cast, coordinator: Client) -> None:
    coordinator.get(reverse("site_archive", args=[cast.site.pk]))
    cast.site.refresh_from_db()
    assert cast.site.archived_at is None


def test_the_page_of_a_site_names_its_dangers(cast: Cast, coordinator: Client) -> None:
    page = coordinator.get(reverse("site_detail", args=[cast.site.pk])).content.decode()
    assert "Cliff or steep edge: Unfenced edge north of the wall." in page
    assert "Walk the ground by daylight" in page


@pytest.mark.parametrize("number", ["0", "9" * 19, "9" * 40])
def test_a_number_that_is_no_site_is_no_page(number: str, coordinator: Client) -> None:
    assert coordinator.get(f"/sites/{number}/").status_code == 404


def test_typed_words_are_not_taken_for_markup(cast: Cast, coordinator: Client) -> None:
    Site.objects.filter(pk=cast.site.pk).update(notes="<script>alert(1)</script>")
    page = coordinator.get(reverse("site_detail", args=[cast.site.pk])).content.decode()
    assert "<script>" not in page
    assert "&lt;script&gt;" in page
