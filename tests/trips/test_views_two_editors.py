"""Two people edit the same site or season: each keeps what he or she changed, and both are told."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.test_views_season_form import TYPED
from tests.trips.test_views_sites import edited
from trips.models import Season, Site


def text(response: Any) -> str:
    words: str = response.content.decode()
    return words


@pytest.fixture
def site_form(cast: Cast, coordinator: Client) -> dict[str, Any]:
    """Give the form of the site as both editors opened it."""
    Site.objects.update(notes="Gate", months_open=[4, 5, 6], night_access="yes",
                        phone_coverage="patchy")  # fmt: skip
    form = coordinator.get(reverse("site_edit", args=[cast.site.pk])).context["form"]
    return edited(cast, notes="Gate", opened=form["opened"].value())


@pytest.fixture
def season_form(cast: Cast, coordinator: Client) -> dict[str, Any]:
    Season.objects.update(weekdays=[3, 4, 5])
    form = coordinator.get(reverse("season_edit", args=[cast.season.pk])).context["form"]
    as_is = {"name": "Spring 2027", "first_night": f"{cast.season.first_night}",
             "last_night": f"{cast.season.last_night}", "sites": [str(cast.site.pk)],
             "version": "1", "opened": form["opened"].value()}  # fmt: skip
    return TYPED | as_is


def save_site(client: Client, cast: Cast, form: dict[str, Any], **changed: Any) -> Any:
    return client.post(reverse("site_edit", args=[cast.site.pk]), form | changed, follow=True)


def save_season(client: Client, cast: Cast, form: dict[str, Any], **changed: Any) -> Any:
    return client.post(reverse("season_edit", args=[cast.season.pk]), form | changed, follow=True)


def as_sent(response: Any) -> dict[str, Any]:
    """Give the form of a page as a browser would send it again."""
    data = response.context["form"].data
    return {name: data.getlist(name) for name in data}


def test_what_the_second_editor_left_alone_stays_as_the_first_saved_it(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, drive_minutes="75", months_open=["7"], on_coast="on")
    page = text(save_site(coordinator, cast, site_form, notes="Gate is locked"))
    cast.site.refresh_from_db()
    assert (cast.site.notes, cast.site.drive_minutes) == ("Gate is locked", 75)
    assert (cast.site.months_open, cast.site.on_coast) == ([7], True)
    assert "Broom Hill is saved." in page
    assert "taken over from there: " in page
    assert "Drive (minutes)" in page.split("taken over from there: ")[1].split("</")[0]


def test_an_editor_alone_is_told_of_nobody(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    page = text(save_site(coordinator, cast, site_form, notes="Gate is locked"))
    assert "Broom Hill is saved." in page
    assert "omebody else" not in page


def test_what_both_changed_is_kept_as_typed_with_the_stored_value_beside_it(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, notes="from the first", drive_minutes="75")
    page = text(save_site(coordinator, cast, site_form, notes="from the second"))
    assert "both of you changed what is named here" in page
    assert ">\nfrom the second</textarea>" in page
    assert "Stored now: from the first" in page
    assert page.count('class="stored"') == 1
    assert 'name="drive_minutes" value="75"' in page
    cast.site.refresh_from_db()
    assert cast.site.notes == "from the first"


def test_what_both_changed_alike_is_saved_at_once(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, notes="Windy")
    page = text(save_site(coordinator, cast, site_form, notes="Windy", drive_minutes="60"))
    assert "Broom Hill is saved." in page
    cast.site.refresh_from_db()
    assert (cast.site.drive_minutes, cast.site.version) == (60, 3)


def test_the_second_save_puts_the_second_editors_words_in_place(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, notes="from the first", drive_minutes="75")
    told = save_site(coordinator, cast, site_form, notes="from the second")
    save_site(coordinator, cast, as_sent(told))
    cast.site.refresh_from_db()
    assert (cast.site.notes, cast.site.drive_minutes) == ("from the second", 75)


def test_a_third_editor_is_told_again(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, notes="from the first")
    told = save_site(coordinator, cast, site_form, notes="from the second")
    Site.objects.update(notes="from the third", version=9)
    page = text(save_site(coordinator, cast, as_sent(told)))
    assert "Stored now: from the third" in page


def test_a_position_that_the_first_moved_is_not_moved_back(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    seen = "40.6|-1.1|1600.0|Europe/Madrid"
    save_site(coordinator, cast, site_form, latitude="40.6", seen=seen)
    save_site(coordinator, cast, site_form, notes="Gate is locked")
    cast.site.refresh_from_db()
    assert (cast.site.latitude, cast.site.notes) == (40.6, "Gate is locked")


def test_a_position_mixed_of_two_is_shown_before_it_is_saved(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    seen = "40.6|-1.1|1600.0|Europe/Madrid"
    save_site(coordinator, cast, site_form, latitude="40.6", seen=seen)
    page = text(save_site(coordinator, cast, site_form, longitude="-1.3",
                          seen="40.4|-1.3|1600.0|Europe/Madrid"))  # fmt: skip
    assert "Not saved yet: is this the place?" in page
    assert "40.6000° north, 1.3000° west" in page


def hazards(cast: Cast) -> list[str]:
    return [hazard.text for hazard in cast.site.hazards.all()]


def test_a_hazard_that_the_first_reworded_keeps_the_new_words(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, **{"hazards-0-text": "Edge, now fenced"})
    page = text(save_site(coordinator, cast, site_form, notes="Gate is locked"))
    assert hazards(cast) == ["Edge, now fenced"]
    assert "taken over from there: Hazards." in page


def test_a_hazard_that_the_first_added_is_not_lost(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    added = {"hazards-TOTAL_FORMS": "2", "hazards-1-kind": "fire", "hazards-1-text": "Dry pines"}
    save_site(coordinator, cast, site_form, **added)
    other = {"hazards-TOTAL_FORMS": "2", "hazards-1-kind": "ice", "hazards-1-text": "Icy steps"}
    save_site(coordinator, cast, site_form, **other)
    assert sorted(hazards(cast)) == [
        "Dry pines", "Icy steps", "Unfenced edge north of the wall"
    ]  # fmt: skip


def test_a_hazard_that_the_first_took_off_does_not_come_back_untouched(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, **{"hazards-0-DELETE": "on"})
    save_site(coordinator, cast, site_form, notes="Gate is locked")
    assert hazards(cast) == []


def test_a_hazard_taken_off_meanwhile_is_not_lost_to_whom_changed_it(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, **{"hazards-0-DELETE": "on"})
    told = save_site(coordinator, cast, site_form, **{"hazards-0-text": "Edge, unfenced again"})
    assert '<a href="#hazards">Hazards</a>' in text(told)
    assert hazards(cast) == []
    rows = told.context["hazards"]
    assert (rows.initial_form_count(), rows.forms[0]["text"].value()) == (0, "Edge, unfenced again")
    save_site(coordinator, cast, as_sent(told))
    assert hazards(cast) == ["Edge, unfenced again"]


def test_a_hazard_that_both_reworded_is_asked_about(
    cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, **{"hazards-0-text": "Edge, now fenced"})
    told = save_site(coordinator, cast, site_form, **{"hazards-0-text": "Edge, ten metres"})
    assert "Edge, now fenced" in text(told)
    assert hazards(cast) == ["Edge, now fenced"]
    save_site(coordinator, cast, as_sent(told))
    assert hazards(cast) == ["Edge, ten metres"]


@pytest.mark.parametrize("opened", ["", "{", "[1]", "null", "[" * 60000])
def test_where_nobody_knows_what_was_opened_all_that_differs_is_asked_about(
    opened: str, cast: Cast, coordinator: Client, site_form: dict[str, Any]
) -> None:
    save_site(coordinator, cast, site_form, drive_minutes="75")
    page = text(save_site(coordinator, cast, site_form, notes="Gate is locked", opened=opened))
    assert "Stored now: 75" in page
    assert "Stored now: Gate" in page


def test_a_season_keeps_what_the_second_editor_left_alone(
    cast: Cast, coordinator: Client, season_form: dict[str, Any]
) -> None:
    other = Site.objects.create(
        organisation=cast.club, name="Wether Fell", latitude=40, longitude=1, zone="UTC"
    )
    first = {"out_until": "03:30", "sites": [str(other.pk)], "least_hours": "0",
             "weekdays": ["mon"], "avoid": "2027-03-10"}  # fmt: skip
    save_season(coordinator, cast, season_form, **first)
    page = text(save_season(coordinator, cast, season_form, name="From the second"))
    season = Season.objects.get(pk=cast.season.pk)
    assert (season.name, f"{season.out_until:%H:%M}") == ("From the second", "03:30")
    assert (list(season.sites.all()), season.least_hours) == ([other], 0)
    assert (season.weekdays, season.avoid) == ([0], [["2027-03-10", "2027-03-10"]])
    assert "From the second is saved." in page
    assert "taken over from there: Sites, Out until, Least hours of a candidate night" in page


def test_a_season_that_both_changed_is_asked_about(
    cast: Cast, coordinator: Client, season_form: dict[str, Any]
) -> None:
    save_season(coordinator, cast, season_form, name="From the first", out_until="03:30")
    told = save_season(coordinator, cast, season_form, name="From the second")
    page = text(told)
    assert "both of you changed what is named here" in page
    assert '<a href="#id_name">Name</a>: stored now: From the first' in page
    assert 'value="From the second"' in page
    assert page.count('class="stored"') == 1
    assert "taken over from there: Out until." in page
    save_season(coordinator, cast, as_sent(told))
    season = Season.objects.get(pk=cast.season.pk)
    assert (season.name, f"{season.out_until:%H:%M}") == ("From the second", "03:30")


def test_sites_that_both_chose_differently_are_named(
    cast: Cast, coordinator: Client, season_form: dict[str, Any]
) -> None:
    fell, tor = (
        Site.objects.create(organisation=cast.club, name=name, latitude=40, longitude=1, zone="UTC")
        for name in ("Wether Fell", "Raven Tor")
    )
    save_season(coordinator, cast, season_form, sites=[str(fell.pk)])
    told = save_season(coordinator, cast, season_form, sites=[str(tor.pk)])
    assert "Stored now: Wether Fell" in text(told)


def test_dates_of_two_that_do_not_go_together_are_refused(
    cast: Cast, coordinator: Client, season_form: dict[str, Any]
) -> None:
    save_season(coordinator, cast, season_form, last_night="2027-03-10")
    told = save_season(coordinator, cast, season_form, first_night="2027-03-20")
    assert "is before the first" in text(told)
    assert "taken over from there: Last night." in text(told)
