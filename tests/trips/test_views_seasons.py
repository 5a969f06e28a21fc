"""The season's page: ranked, drawn, re-ranked; what is stale, missing or empty is said."""

from __future__ import annotations

import re
from datetime import date
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import FIRST, LAST, Cast, store_nights
from trips.models import Job, Night, Season, Site


def page(client: Client, cast: Cast, query: str = "", **headers: str) -> Any:
    return client.get(reverse("season_detail", args=[cast.season.pk]) + query, headers=headers)


def text_of(response: Any) -> str:
    """Give the words of a page, without tags and with single spaces."""
    bare = re.sub(r"<[^>]+>", " ", response.content.decode())
    return re.sub(r"\s+", " ", bare.replace("\u00a0", " "))


def add_site(cast: Cast, name: str, **fields: Any) -> Site:
    values: dict[str, Any] = {"latitude": 40.6, "longitude": -1.5, "zone": "Europe/Madrid"}
    site = Site.objects.create(organisation=cast.club, name=name, **values | fields)
    cast.season.sites.add(site)
    return site


def keep(client: Client, cast: Cast, **typed: Any) -> Any:
    address = reverse("season_keep", args=[cast.season.pk])
    return client.post(address, {"version": cast.season.version} | typed)


def test_the_answer_comes_first_then_the_runs_then_every_night(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    response = page(coordinator, cast)
    text = text_of(response)
    # Moonless from 20:00 UTC; out until 02:00 in Madrid, so at most 01:00 UTC, or 24:00 in summer.
    best = response.context["shown"].runs[0]
    assert best.run.first == date(2027, 3, 1)
    assert best.run.hours == pytest.approx(12)
    assert "Best at Broom Hill: Monday 1 to Wednesday 3 March 2027, with 12.0 h" in text
    places = [text.index(part) for part in ("Best at", "Best runs of 3", "Every night", "Night by")]
    assert places == sorted(places)


def test_a_run_says_what_the_moon_costs(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    # Dark from 20:00 to 01:00 UTC while out; without the Moon 5, 5 and 5 of its 8, 7 and 6 hours.
    runs = page(coordinator, cast, "?run=6").context["shown"].runs
    # 8, 7, 6, 5, 4, 3: the Moon rises one hour and two hours before the sixth and fifth end.
    costs = [reason for reason in runs[0].cons if reason.code == "moon_costs"]
    assert [cost.fields["hours"] for cost in costs] == [pytest.approx(3)]


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


def test_a_month_that_is_none_shows_the_month_of_the_best_run(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    for asked in ("2027-04", "soon", "2027-3", ""):
        assert page(coordinator, cast, f"?month={asked}").context["window"].months == (FIRST,)


def test_a_site_of_another_club_is_no_better_than_nonsense(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast, f"?site={cast.far_site.pk}"))
    assert "is not a site of this season" in text
    assert "Salt Quay" not in text


def test_the_page_shows_the_site_asked_for(cast: Cast, coordinator: Client) -> None:
    other = add_site(cast, "Wether Fell")
    for site in (cast.site, other):
        store_nights(site)
    assert page(coordinator, cast, f"?site={other.pk}").context["found"].site == other


def test_without_a_site_asked_for_the_best_one_is_shown(cast: Cast, coordinator: Client) -> None:
    better = add_site(cast, "Wether Fell")
    store_nights(cast.site, last=date(2027, 3, 2))
    store_nights(better)
    assert page(coordinator, cast).context["found"].site == better


def test_the_same_nights_elsewhere_stand_beside_a_run(cast: Cast, coordinator: Client) -> None:
    add_site(cast, "Wether Fell", latitude=40.4, longitude=-1.1)
    closed = add_site(cast, "Alder Moss", night_access=Site.Access.NO)
    for site in cast.season.sites.all():
        store_nights(site)
    response = page(coordinator, cast, f"?site={cast.site.pk}")
    said = (
        "The same nights elsewhere: Wether Fell 12.0 h (access not known), Alder Moss not allowed"
    )
    assert said in text_of(response).replace(" ,", ",")
    assert f"?site={closed.pk}" in response.content.decode()


def test_every_night_of_the_months_shown_is_linked(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = page(coordinator, cast).content.decode()
    linked = set(re.findall(rf'"/sites/{cast.site.pk}/nights/(2027-03-\d\d)/"', text))
    assert len(linked) == 31
    assert "Times are local at the site, Europe/Madrid" in text


def test_stale_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(elevation_m=900)
    assert "31 nights of Broom Hill are out of date" in text_of(page(coordinator, cast))


def test_missing_nights_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site, last=date(2027, 3, 30))
    assert "1 night of Broom Hill is not computed yet" in text_of(page(coordinator, cast))


def test_fresh_nights_are_not_called_stale_or_missing(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast))
    assert "out of date:" not in text
    assert "not computed yet" not in text


def test_a_season_of_which_nothing_is_computed_offers_to_compute_it(
    cast: Cast, coordinator: Client
) -> None:
    Job.objects.all().delete()
    text = text_of(page(coordinator, cast))
    assert "No night is computed yet." in text
    assert "Compute its nights" in text


def test_a_season_that_is_being_computed_shows_how_far_it_is_and_offers_no_second_time(
    cast: Cast, coordinator: Client
) -> None:
    text = text_of(page(coordinator, cast))
    assert "Its nights are being computed" in text
    assert "12 of 31 nights computed" in text
    assert "Compute" not in text


def test_an_open_job_is_linked_with_its_counts(cast: Cast, coordinator: Client) -> None:
    response = page(coordinator, cast)
    assert reverse("job_detail", args=[cast.job.pk]) in response.content.decode()
    assert "Broom Hill running, 12 of 31 nights" in text_of(response)


def without_dark() -> None:
    Night.objects.update(moonless_18=[], moonless_hours_18=0, dark_18=[], dark_hours_18=0)


def test_a_season_without_dark_says_what_the_next_level_gives(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    without_dark()
    text = text_of(page(coordinator, cast))
    assert "No run of 3 nights at Broom Hill has a usable hour" in text
    # Of each nine nights, 8 to 0 hours: seven have two or more.
    assert "Where “dark” means Sun 15° down, 25 nights would be candidates." in text
    assert "31 nights never get dark (Sun 18° down). With “Sun 15° down” it would be none." in text


def test_a_season_with_dark_does_not_offer_lighter_levels(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast))
    assert "would be candidates" not in text
    assert "never get" not in text


def test_the_next_level_can_be_tried_in_the_address(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    without_dark()
    assert "with 12.0 h of moonless dark" in text_of(page(coordinator, cast, "?dark=-15"))


def test_a_run_longer_than_the_season_is_said_to_be(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site, last=date(2027, 3, 5))
    cast.season.last_night = date(2027, 3, 5)
    cast.season.save()
    text = text_of(page(coordinator, cast, "?run=7"))
    assert "The season has 5 nights here: no run of 7 fits into it." in text


def test_wishes_that_leave_no_run_name_what_was_left_out(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    text = text_of(page(coordinator, cast, "?days=fri"))
    assert "25 candidate nights are there, but not in a run of evenings that suit" in text
    # Seven of each nine nights are candidates; the 1st, a Monday, to the 31st, a Wednesday.
    fridays = sum(night.date.weekday() == 4 and night.moonless_hours_18 >= 2
                  for night in Night.objects.all())  # fmt: skip
    assert f"Candidate nights that are not offered: {25 - fridays} other weekday." in (
        text.replace(" .", ".")
    )


def test_a_season_without_sites_says_what_to_do(cast: Cast, coordinator: Client) -> None:
    cast.season.sites.clear()
    response = page(coordinator, cast)
    assert "This season has no sites yet." in text_of(response)
    assert reverse("season_edit", args=[cast.season.pk]) in response.content.decode()


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


@pytest.mark.parametrize(
    "name", ["Ложбина <b>", "星見ヶ丘", "تل النجوم", "O'Hill & “Dale”", "x" * 120]
)
def test_names_in_any_script_are_shown_and_escaped(
    name: str, cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(name=name)
    Season.objects.filter(pk=cast.season.pk).update(name=name)
    response = page(coordinator, cast)
    assert response.status_code == 200
    assert name in unescape(response.content.decode())
    assert "Ложбина <b>" not in response.content.decode()


@pytest.mark.parametrize("sites", [1, 6])
def test_a_season_page_takes_at_most_twelve_queries(
    sites: int, cast: Cast, coordinator: Client, django_assert_max_num_queries: Any
) -> None:
    for n in range(1, sites):
        store_nights(add_site(cast, f"Site {n}"))
    store_nights(cast.site)
    with django_assert_max_num_queries(12):
        assert page(coordinator, cast).status_code == 200


def test_a_year_at_six_sites_is_a_page_of_at_most_300_kb(cast: Cast, coordinator: Client) -> None:
    cast.season.first_night, cast.season.last_night = date(2027, 1, 1), date(2027, 12, 31)
    cast.season.save()
    for n in range(1, 6):
        add_site(cast, f"Site {n}", longitude=n)
    for site in cast.season.sites.all():
        store_nights(site, date(2027, 1, 1), date(2027, 12, 31))
    assert len(page(coordinator, cast).content) <= 300_000


def test_computing_again_asks_for_what_is_stale(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(elevation_m=900)
    coordinator.post(reverse("season_recompute", args=[cast.season.pk]))
    newest = Job.objects.exclude(pk=cast.job.pk).get()
    assert (newest.first_night, newest.last_night) == (FIRST, LAST)


def test_computing_again_does_nothing_where_all_is_fresh(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    address = reverse("season_recompute", args=[cast.season.pk])
    response = coordinator.post(address, follow=True)
    assert "nothing to compute" in response.content.decode()
    assert list(Job.objects.all()) == [cast.job]


def test_a_closed_site_offers_no_run_and_says_why(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(night_access=Site.Access.NO)
    response = page(coordinator, cast)
    assert response.context["shown"].runs == ()
    assert "not offered: 25 not allowed at night" in text_of(response)


def test_an_open_site_does_not_speak_of_access(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Site.objects.filter(pk=cast.site.pk).update(night_access=Site.Access.YES)
    assert "not allowed at night" not in text_of(page(coordinator, cast))


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
    assert f'"/sites/{cast.site.pk}/nights/2027-03-01/"' in text
    assert f'"/seasons/{cast.season.pk}/sites/"' in text
