"""What is wished of a season: asked in the address, ranked in place, carried along, kept."""

from __future__ import annotations

from datetime import date
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, store_nights
from tests.trips.season_pages import keep, page, text_of, without_dark
from trips.models import Job, Night, Season


def test_the_run_length_can_be_chosen(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast, "?run=2")
    assert "Best runs of 2 nights" in text_of(response)
    best = response.context["shown"].runs[0].run
    assert (best.last - best.first).days == 1


def test_the_weekdays_can_be_chosen(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    best = page(coordinator, cast, "?run=2&days=fri&days=sat").context["shown"].runs[0].run
    assert [best.first.weekday(), best.last.weekday()] == [4, 5]


def test_dates_can_be_avoided_and_are_marked(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast, "?avoid=1-2+March")
    assert response.context["shown"].runs[0].run.first >= date(2027, 3, 3)
    assert response.context["shown"].lines[0].against == "to avoid"
    assert response.context["shown"].lines[2].against == ""


def test_staying_longer_gives_more(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    usual = page(coordinator, cast, "?until=22:00").context["shown"].runs[0].run
    longer = page(coordinator, cast, "?until=23:00").context["shown"].runs[0].run
    assert longer.hours - usual.hours == pytest.approx(3)


NONSENSE = [
    ("?run=0", "“0” is not a number of nights from 1 to 14"),
    ("?run=15", "“15” is not a number of nights"),
    ("?run=three", "“three” is not a number of nights"),
    ("?run=³", "“³” is not a number of nights"),
    ("?run=" + "9" * 5000, "is not a number of nights"),
    ("?run=", "Nights in a run: Nothing is chosen; choose one."),
    ("?days=noday", "“noday” is no weekday"),
    ("?asked=1", "No evening is chosen; choose at least one day of the week."),
    ("?until=25:00", "“25:00” is no hour of the day"),
    ("?from=late", "“late” is no hour of the day"),
    ("?dark=-17", "“-17” is no dark level"),
    ("?avoid=Easter", "“Easter” is no date"),
    ("?site=0", "“0” is not a site of this season."),
    ("?site=1e3", "“1e3” is not a site of this season."),
    ("?site=here", "“here” is not a site of this season."),
]


@pytest.mark.parametrize(("query", "sentence"), NONSENSE)
def test_nonsense_in_the_address_is_said_and_the_season_shown(
    query: str, sentence: str, cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast, query)
    assert response.status_code == 200
    assert sentence in text_of(response)
    assert response.context["shown"].runs[0].run.first == date(2027, 3, 1)


def test_the_next_level_can_be_tried_in_the_address(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    without_dark()
    assert "with 12.0 h of moonless dark" in text_of(page(coordinator, cast, "?dark=-15"))


def test_wishes_that_leave_no_run_name_what_was_left_out(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast, "?days=fri"))
    assert "3 nights in a row cannot all be on evenings that suit: at most 1 can." in text
    # Seven of each nine nights are candidates; the 1st, a Monday, to the 31st, a Wednesday.
    fridays = sum(night.date.weekday() == 4 and night.moonless_hours_18 >= 2
                  for night in Night.objects.all())  # fmt: skip
    assert f"Candidate nights that are not offered: {25 - fridays} other weekday." in (
        text.replace(" .", ".")
    )


def test_dates_that_leave_no_run_are_told_from_weekdays_that_cannot_give_one(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast, "?avoid=1–30+March"))
    assert "25 candidate nights are there, but not in a run of evenings that are offered" in text
    assert "nights in a row cannot all be" not in text


def test_a_changed_control_gets_the_parts_that_change_and_a_short_address(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    asked = "?asked=1&run=2&from=&until=02:00&dark=-18&avoid=&days=mon&days=tue&days=wed&days=thu"
    response = page(coordinator, cast, asked, HX_Request="true")
    text = response.content.decode()
    assert "<html" not in text
    assert 'id="answer"' in text
    assert 'id="evidence"' in text
    assert '<form class="controls' not in text
    pushed = response.headers["HX-Push-Url"]
    assert pushed.endswith(f"/seasons/{cast.season.pk}/?run=2&days=mon&days=tue&days=wed&days=thu")


def test_without_a_script_the_same_address_is_a_whole_page(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast, "?run=2")
    assert "<html" in response.content.decode()
    assert "HX-Request" in response.headers["Vary"]
    assert "HX-Push-Url" not in response.headers


def test_the_form_shows_what_was_asked(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    form = page(coordinator, cast, "?run=2&until=04:00&avoid=Easter").context["controls"].form
    assert (form["run"].value(), form["until"].value()) == ("2", "04:00")
    assert form["avoid"].value() == "Easter"


def test_wishes_can_be_kept_for_the_season(cast: Cast, coordinator: Client) -> None:
    response = keep(coordinator, cast, run="2", days=["fri", "sat"], until="03:30", dark="-15")
    assert response.headers["Location"] == reverse("season_detail", args=[cast.season.pk])
    season = Season.objects.get(pk=cast.season.pk)
    assert (season.run_length, season.weekdays, season.dark_level) == (2, [4, 5], -15)
    assert f"{season.out_until:%H:%M}" == "03:30"


def test_keeping_wishes_computes_no_night_again(cast: Cast, coordinator: Client) -> None:
    keep(coordinator, cast, run="2")
    assert list(Job.objects.all()) == [cast.job]


def test_the_second_of_two_who_keep_wishes_is_told_and_loses_nothing(
    cast: Cast, coordinator: Client
) -> None:
    keep(coordinator, cast, run="2")
    again = keep(coordinator, cast, run="5", avoid="3–4 March")
    said = coordinator.get(again.headers["Location"])
    assert "was changed by somebody else meanwhile" in text_of(said)
    assert said.context["wishes"].run_length == 5
    assert said.context["wishes"].avoid == ((date(2027, 3, 3), date(2027, 3, 4)),)
    assert Season.objects.get(pk=cast.season.pk).run_length == 2


def test_what_cannot_be_read_is_not_kept(cast: Cast, coordinator: Client) -> None:
    response = coordinator.get(keep(coordinator, cast, run="99", until="03:00").headers["Location"])
    assert "is not a number of nights from 1 to 14" in text_of(response)
    season = Season.objects.get(pk=cast.season.pk)
    assert (season.run_length, f"{season.out_until:%H:%M}") == (3, "03:00")


def test_kept_wishes_are_not_in_the_address(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    assert page(coordinator, cast, "?run=2").context["changed"] == {"run": "2"}
    keep(coordinator, cast, run="2")
    assert page(coordinator, cast, "?run=2").context["changed"] == {}


def test_the_wishes_go_along_to_nights_comparison_and_calendar(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    text = unescape(page(coordinator, cast, "?until=22:00").content.decode())
    night = f"/sites/{cast.site.pk}/nights/2027-03-01/?season={cast.season.pk}&until=22%3A00"
    assert f'"{night}"' in text
    assert f"/seasons/{cast.season.pk}/sites/?until=22%3A00" in text
    assert f"/seasons/{cast.season.pk}/calendar/?until=22%3A00" in text
    assert "1.0 h usable while you are out until 22:00" in text_of(coordinator.get(night))


def test_without_wishes_of_its_own_a_page_adds_none(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast).content.decode()
    assert f'"/sites/{cast.site.pk}/nights/2027-03-01/?season={cast.season.pk}"' in text
    assert f'"/seasons/{cast.season.pk}/sites/"' in text
