"""Seasons listed, filled in beforehand, edited, archived."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.test_views_season_form import TYPED
from trips.models import Season, Site


def text(response: Any) -> str:
    words: str = response.content.decode()
    return words


def adding(client: Client, cast: Cast) -> Any:
    return client.get(reverse("season_add", args=[cast.club.pk]))


def edit(client: Client, cast: Cast, **changed: Any) -> Any:
    typed = TYPED | {"sites": [str(cast.site.pk)], "version": "1"} | changed
    return client.post(reverse("season_edit", args=[cast.season.pk]), typed)


def test_a_new_season_is_filled_in(cast: Cast, coordinator: Client) -> None:
    form = adding(coordinator, cast).context["form"]
    assert form["name"].value()
    assert (form["last_night"].value() - form["first_night"].value()).days in (364, 365)
    assert form["sites"].value() == [cast.site.pk]
    assert f"{form['out_until'].value():%H:%M}" == "02:00"


def test_a_season_that_is_edited_is_not_filled_in_anew(cast: Cast, coordinator: Client) -> None:
    response = coordinator.get(reverse("season_edit", args=[cast.season.pk]))
    assert response.context["form"]["name"].value() == "Spring 2027"


def test_sites_stand_with_drive_and_darkness(cast: Cast, coordinator: Client) -> None:
    Site.objects.filter(pk=cast.site.pk).update(drive_minutes=75, sky_brightness=21.6)
    page = text(adding(coordinator, cast))
    assert "75 min drive" in page
    assert "21.60 mag/arcsec² measured" in page


def test_a_club_without_sites_is_led_to_add_one(cast: Cast, coordinator: Client) -> None:
    Site.objects.update(archived_at=datetime(2027, 1, 1, tzinfo=UTC))
    page = text(adding(coordinator, cast))
    assert reverse("site_add", args=[cast.club.pk]) in page
    assert "Save and compute" not in page


def test_two_hundred_sites_stand_in_a_list_that_scrolls(cast: Cast, coordinator: Client) -> None:
    Site.objects.bulk_create(
        Site(organisation=cast.club, name=f"Site {n}", latitude=40, longitude=1, zone="UTC")
        for n in range(199)
    )
    page = text(adding(coordinator, cast))
    assert "Sites: 200 to choose from" in page
    assert 'class="sitebox scrolls" tabindex="0" role="region"' in page


def test_a_few_sites_do_not_scroll(cast: Cast, coordinator: Client) -> None:
    assert "scrolls" not in text(adding(coordinator, cast))


def test_a_mistake_is_listed_with_a_link(cast: Cast, coordinator: Client) -> None:
    page = text(edit(coordinator, cast, last_night="2027-08-01"))
    assert '<a href="#id_last_night">Last night</a>' in page


def test_no_site_chosen_is_listed_with_a_link_to_the_first_box(
    cast: Cast, coordinator: Client
) -> None:
    assert '<a href="#id_sites_0">Sites</a>' in text(edit(coordinator, cast, sites=[]))


def archive(client: Client, cast: Cast, version: str = "1") -> Any:
    address = reverse("season_archive", args=[cast.season.pk])
    return client.post(address, {"version": version}, follow=True)


def test_an_archived_season_stands_at_the_end_of_the_list(cast: Cast, coordinator: Client) -> None:
    page = text(archive(coordinator, cast))
    assert "Spring 2027 is archived." in page
    assert "1 archived season" in page
    assert [len(seasons) for _, seasons in coordinator.get("/seasons/").context["groups"]] == [0]


def test_asking_to_archive_archives_nothing(cast: Cast, coordinator: Client) -> None:
    page = text(coordinator.get(reverse("season_archive", args=[cast.season.pk])))
    assert "Archive Spring 2027?" in page
    cast.season.refresh_from_db()
    assert cast.season.archived_at is None


def test_a_season_that_changed_meanwhile_is_not_archived_unseen(
    cast: Cast, coordinator: Client
) -> None:
    Season.objects.update(version=2)
    assert "was changed by somebody else meanwhile" in text(archive(coordinator, cast))
    cast.season.refresh_from_db()
    assert cast.season.archived_at is None


def test_a_coordinator_finds_the_way_to_archive_and_an_instructor_does_not(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    address = reverse("season_archive", args=[cast.season.pk])
    assert address in text(signed_in("coordinator").get("/seasons/"))
    assert address not in text(signed_in("instructor").get("/seasons/"))


def test_the_list_does_not_show_another_clubs_seasons(
    cast: Cast, signed_in: Callable[[str], Client]
) -> None:
    archive(signed_in("coordinator"), cast)
    assert "Spring 2027" not in text(signed_in("stranger").get("/seasons/"))
