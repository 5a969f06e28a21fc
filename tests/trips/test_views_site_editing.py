"""The form of a site: pasted positions, folded groups, rows of hazards."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast
from tests.trips.test_views_sites import TYPED, confirm, edited, post
from trips.forms.site import SiteForm
from trips.models import Hazard, Site


@pytest.fixture
def adding(cast: Cast) -> str:
    return reverse("site_add", args=[cast.club.pk])


@pytest.fixture
def editing(cast: Cast) -> str:
    return reverse("site_edit", args=[cast.site.pk])


def text(response: Any) -> str:
    words: str = response.content.decode()
    return words


def test_a_pasted_position_is_put_into_both_fields(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, latitude="40.5, −1.25", longitude=""))
    assert "40.5000° north, 1.2500° west" in page
    assert 'name="longitude" value="-1.25"' in page


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"extinction": "-1"}, "−1 is out of range: it must be from 0 to 1."),
        ({"extinction": "clear"}, "is not a number; write it like 0.172."),
        ({"usable_loss_mag": "0"}, "0 is out of range: it must be from 0.05 to 2."),
    ],
)
def test_an_air_and_a_brightening_that_cannot_be_are_refused(
    cast: Cast, coordinator: Client, editing: str, typed: dict[str, str], words: str
) -> None:
    assert words in text(post(coordinator, editing, **typed))
    cast.site.refresh_from_db()
    assert (cast.site.extinction, cast.site.usable_loss_mag) == (0.172, 0.2)


def test_what_counts_as_usable_dark_is_set_and_left_empty_is_the_usual(
    cast: Cast, coordinator: Client, editing: str
) -> None:
    for typed, kept in (("0,5", 0.5), ("", 0.2)):
        version = str(cast.site.version)
        coordinator.post(editing, edited(cast, usable_loss_mag=typed, version=version))
        cast.site.refresh_from_db()
        assert cast.site.usable_loss_mag == kept


def test_a_browser_lets_the_second_field_be_empty_and_not_the_first(
    coordinator: Client, adding: str
) -> None:
    page = text(coordinator.get(adding))
    fields = {name: field for field in page.split("<input") for name in ("latitude", "longitude")
              if f'name="{name}"' in field}  # fmt: skip
    assert "required" in fields["latitude"]
    assert "required" not in fields["longitude"]


def test_a_longitude_that_is_nowhere_is_asked_for(coordinator: Client, adding: str) -> None:
    assert "write it like −1.1." in text(post(coordinator, adding, longitude=""))


def test_a_pasted_position_is_saved(coordinator: Client, adding: str) -> None:
    form = post(coordinator, adding, latitude="40.5, −1.25", longitude="").context["form"]
    seen = {name: form.data[name] for name in ("latitude", "longitude", "zone", "seen")}
    post(coordinator, adding, **seen)
    site = Site.objects.get(name="Juniper Pass")
    assert (site.latitude, site.longitude) == (40.5, -1.25)


def test_a_pair_beside_a_longitude_is_not_guessed_at(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, latitude="40.5, −1.25", longitude="2"))
    assert "is not a number" in page


def test_mistakes_are_listed_with_links_to_their_fields(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, latitude="north", country="Spain"))
    assert "Not saved: 2 things to put right" in page
    assert '<a href="#id_latitude">Latitude</a>' in page
    assert "<title>Error: Add a site" in page


def test_a_field_with_a_mistake_says_so_to_every_reader(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, latitude="north"))
    [field] = [line for line in page.split("<input") if 'name="latitude"' in line]
    assert 'aria-invalid="true"' in field
    assert 'aria-describedby="id_latitude_helptext id_latitude_error"' in field
    assert 'id="id_latitude_error"' in page


def test_a_form_without_mistakes_lists_none(coordinator: Client, adding: str) -> None:
    page = text(coordinator.get(adding))
    assert "Not saved:" not in page
    assert "aria-invalid" not in page


def open_groups(page: str) -> set[str]:
    return {
        name
        for name in ("access", "darkness", "help", "about", "notes")
        if f'id="group-{name}" open' in page
    }


def test_a_new_site_asks_only_for_what_is_needed_first(coordinator: Client, adding: str) -> None:
    page = text(coordinator.get(adding))
    assert open_groups(page) == set()
    assert 'id="hazards" open' not in page


def test_a_group_with_a_value_is_open(coordinator: Client, cast: Cast, editing: str) -> None:
    Site.objects.filter(pk=cast.site.pk).update(notes="Windy", drive_minutes=75)
    page = text(coordinator.get(editing))
    assert {"access", "notes"} <= open_groups(page)
    assert "darkness" not in open_groups(page)
    assert 'id="hazards" open' in page


def test_a_group_with_a_mistake_is_open(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, sky_brightness="30"))
    assert "darkness" in open_groups(page)


def test_another_row_for_a_hazard_is_added_without_saving(
    coordinator: Client, cast: Cast, editing: str
) -> None:
    page = text(coordinator.post(editing, edited(cast, notes="Hat") | {"add_hazard": "1"}))
    assert 'name="hazards-1-text"' in page
    assert "Hat" in page
    cast.site.refresh_from_db()
    assert cast.site.notes == ""


def test_adding_a_row_does_not_speak_of_mistakes(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, name="", latitude="north", add_hazard="1"))
    assert "Not saved:" not in page
    assert "Nothing is written here" not in page


@pytest.mark.parametrize("total", ["", "x", "²", "9" * 5000, "-3"])
def test_nonsense_rows_add_one_and_break_nothing(
    total: str, coordinator: Client, adding: str
) -> None:
    response = post(coordinator, adding, **{"hazards-TOTAL_FORMS": total, "add_hazard": "1"})
    assert response.status_code == 200


def test_a_mistake_in_a_hazard_is_listed(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, **{"hazards-0-text": ""}))
    assert '<a href="#id_hazards-0-text">Hazard 1, what and where</a>' in page
    assert "Nothing is written here; say what is there and where." in page


def test_names_in_any_script_are_saved_and_shown(coordinator: Client, adding: str) -> None:
    name = "Ψηλορείτης 星の丘 قمة Холм"
    confirm(coordinator, adding, name=name)
    assert Site.objects.filter(name=name).exists()
    assert name in text(coordinator.get(reverse("site_list")))


def test_a_name_that_is_too_long_is_refused(coordinator: Client, adding: str) -> None:
    assert "at most 120 characters" in text(post(coordinator, adding, name="x" * 121))


def test_an_elevation_is_asked_for_and_never_assumed(coordinator: Client, adding: str) -> None:
    assert coordinator.get(adding).context["form"]["elevation_m"].value() is None
    page = text(post(coordinator, adding, elevation_m=""))
    assert "No elevation is written here; write it like 1600." in page
    assert not Site.objects.filter(name=TYPED["name"]).exists()


def test_a_hazard_of_another_club_does_not_become_a_row_of_this_one(
    coordinator: Client, cast: Cast, editing: str
) -> None:
    theirs = Hazard.objects.create(site=cast.far_site, kind="water", text="Tide over the quay")
    Site.objects.filter(pk=cast.site.pk).update(version=5)
    coordinator.post(editing, edited(cast, **{"hazards-0-id": str(theirs.pk)}))
    theirs.refresh_from_db()
    assert theirs.site == cast.far_site


def test_a_position_as_maps_write_it_is_put_into_both_fields(
    coordinator: Client, adding: str
) -> None:
    pasted = "40°30'15\"N 1°06'00\"W"
    page = text(post(coordinator, adding, latitude=pasted, longitude=""))
    assert "40.5042° north, 1.1000° west" in page


def test_degrees_minutes_and_seconds_may_stand_in_each_field(
    coordinator: Client, adding: str
) -> None:
    page = text(post(coordinator, adding, latitude="40°30'15\"N", longitude="1°06'00\"W"))
    assert "40.5042° north, 1.1000° west" in page


def test_a_letter_of_the_other_angle_is_refused(coordinator: Client, adding: str) -> None:
    page = text(post(coordinator, adding, latitude="1°06'00\"W", longitude="40°30'15\"N"))
    assert page.count("is not a number; write it like") == 4  # at the fields and at the top


def test_swapped_angles_have_one_sentence_and_a_button_that_exchanges_them(
    coordinator: Client, adding: str
) -> None:
    page = text(post(coordinator, adding, latitude="-120.5", longitude="40.5"))
    assert "Not saved: one thing to put right" in page
    assert "look swapped" in page
    assert "is out of range" not in page
    assert 'name="exchange"' in page


def test_angles_that_cannot_be_exchanged_have_no_button(coordinator: Client, adding: str) -> None:
    assert 'name="exchange"' not in text(post(coordinator, adding, latitude="190"))


def test_the_button_exchanges_the_angles_and_shows_them_before_saving(
    coordinator: Client, adding: str
) -> None:
    page = text(post(coordinator, adding, latitude="-120.5", longitude="40.5", exchange="1"))
    assert "40.5000° north, 120.5000° west" in page
    assert not Site.objects.filter(name=TYPED["name"]).exists()


def test_a_position_that_was_seen_is_not_saved_by_exchanging_it(
    coordinator: Client, cast: Cast, editing: str
) -> None:
    seen = "40.4|-1.1|1600.0|Europe/Madrid"
    typed = edited(cast, latitude="-1.1", longitude="40.4", exchange="1", seen=seen)
    assert "Not saved yet: is this the place?" in text(coordinator.post(editing, typed))


def test_the_echo_offers_to_exchange_where_both_could_be_a_latitude(
    coordinator: Client, adding: str
) -> None:
    assert 'name="exchange"' in text(post(coordinator, adding))
    assert 'name="exchange"' not in text(post(coordinator, adding, longitude="-120"))


def test_a_brightness_with_its_date_is_saved(coordinator: Client, adding: str) -> None:
    typed = {"sky_brightness": "21.6", "sky_measured_on": "2026-03-14"}
    assert confirm(coordinator, adding, **typed).status_code == 302


def test_the_day_of_a_measurement_is_over_on_the_sites_own_clock(cast: Cast) -> None:
    # 23:30 UTC is the next day in Madrid.
    now = datetime(2027, 3, 9, 23, 30, tzinfo=UTC)
    site = Site(organisation=cast.club)
    typed = TYPED | {"sky_brightness": "21.6"}
    today = SiteForm(typed | {"sky_measured_on": "2027-03-10"}, instance=site, now=now)
    tomorrow = SiteForm(typed | {"sky_measured_on": "2027-03-11"}, instance=site, now=now)
    assert "sky_measured_on" not in today.errors
    assert "sky_measured_on" in tomorrow.errors


def saved_page(client: Client, cast: Cast, **changed: str) -> str:
    address = reverse("site_edit", args=[cast.site.pk])
    return text(client.post(address, edited(cast, **changed), follow=True))


def test_access_by_permit_asks_how_long_before(coordinator: Client, cast: Cast) -> None:
    page = saved_page(coordinator, cast, night_access="permit")
    assert "Broom Hill is saved." in page
    assert "how many days ahead it must be asked for is written down" in page


def test_a_permit_with_its_days_is_not_asked_about(coordinator: Client, cast: Cast) -> None:
    page = saved_page(coordinator, cast, night_access="permit", permit_lead_days="14")
    assert "is written down: find out" not in page


def test_a_country_is_written_in_capitals(coordinator: Client, adding: str) -> None:
    confirm(coordinator, adding, country="no")
    assert Site.objects.get(name=TYPED["name"]).country == "NO"


def test_the_second_of_two_rows_says_which_it_is(coordinator: Client, adding: str) -> None:
    rows = {"hazards-TOTAL_FORMS": "2", "hazards-1-kind": "", "hazards-1-text": "Loose rock"}
    page = text(post(coordinator, adding, **rows))
    assert '<a href="#id_hazards-1-kind">Hazard 2, kind</a>: No kind is chosen' in page
    assert "Hazard 1" not in page.split("Not saved:")[1].split("</ul>")[0]


def test_no_sentence_of_the_framework_is_left(coordinator: Client, adding: str) -> None:
    typed = dict.fromkeys(TYPED, "") | {"months_open": ["13"], "zone": "x" * 99, "country": "ESP"}
    rows = {"hazards-TOTAL_FORMS": "1", "hazards-INITIAL_FORMS": "0"}
    page = text(coordinator.post(adding, typed | rows))
    for usual in ("This field is required", "Ensure this value", "Select a valid", "Enter a"):
        assert usual not in page


def test_enter_presses_the_button_that_saves_and_not_the_one_that_adds_a_row(
    coordinator: Client, adding: str
) -> None:
    form = text(coordinator.get(adding)).split('class="long"')[1]
    first = form.split("<button")[1].split(">")[0]
    assert "name=" not in first


def test_a_number_for_emergencies_is_proposed_and_kept_only_when_typed(
    cast: Cast, coordinator: Client, editing: str
) -> None:
    page = text(post(coordinator, editing, country="NO", extinction="clear"))
    assert "Listed for NO: 112 (Norwegian Communications Authority Nkom)." in page
    confirm(coordinator, editing, country="NO")
    assert Site.objects.get(pk=cast.site.pk).emergency_number == ""
    shown = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    assert "The emergency number is not confirmed; 112 is listed for NO." in shown
    confirm(coordinator, editing, country="NO", emergency_number=" ١١٢ ")
    assert Site.objects.get(pk=cast.site.pk).emergency_number == "112"
    shown = text(coordinator.get(reverse("site_detail", args=[cast.site.pk])))
    assert "<strong>112</strong>" in shown


@pytest.mark.parametrize("typed", ["the police", "112 or 113", "1", "9" * 16, "112;ext=1"])
def test_what_no_phone_can_dial_is_no_emergency_number(
    coordinator: Client, editing: str, typed: str
) -> None:
    page = text(post(coordinator, editing, emergency_number=typed))
    assert "is no number that a phone can dial; write it like 112." in page
