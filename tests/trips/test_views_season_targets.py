"""A season's page when it wants a list of targets: ranked, unfolded, drawn, changed."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from types import SimpleNamespace

import pytest
from django.test import Client
from django.urls import reverse

from tests.conftest import Cast, store_nights
from tests.trips.season_pages import keep, page, text_of
from tests.trips.stored_windows import store_windows
from trips.models import Job, Organisation, Season, TargetList

WHEN, AFTER = datetime(2027, 3, 1, 12, tzinfo=UTC), datetime(2027, 3, 10, 12, tzinfo=UTC)
RUN = [date(2027, 3, 4) + timedelta(days=n) for n in range(3)]


def at(monkeypatch: pytest.MonkeyPatch, now: datetime) -> None:
    """Let the first page be read at another time; signing in stays in the present."""
    monkeypatch.setattr("trips.views.home.timezone", SimpleNamespace(now=lambda: now))


@pytest.fixture
def wanting(cast: Cast) -> Cast:
    """Give the season the club's list, with both targets up for a while in three nights."""
    store_nights(cast.site)
    cast.season.target_list = cast.target_list
    cast.season.save()
    core, nebula = cast.target_list.entries.all()
    store_windows(core, cast.site, dict.fromkeys(RUN, (2.0, 3.5)))
    store_windows(nebula, cast.site, dict.fromkeys(RUN, (1.0, 9.0)))
    return cast


def test_the_answer_names_the_list(wanting: Cast, coordinator: Client) -> None:
    said = text_of(page(coordinator, wanting))
    # From 22:00 to 02:00 in Madrid: an hour and a half of the core, the rest at half weight.
    hours = 3 * (1.5 + (4 - 1.5) * 0.5)
    assert "for “Summer sky”: Thursday 4 to Saturday 6 March 2027, worth " in said
    assert f"{hours:.1f} h of the most wanted" in said


def test_a_run_unfolds_into_its_nights_with_targets_in_order(
    wanting: Cast, coordinator: Client
) -> None:
    response = page(coordinator, wanting)
    first = response.context["shown"].runs[0].unfolded[0]
    assert [target.name for target in first.targets] == ["North America Nebula", "Galactic core"]
    said = text_of(response)
    assert "Galactic core 23:00–00:30, highest 23:45, 40° south" in said
    assert "North America Nebula 22:00–02:00" in said


def test_the_hours_of_the_most_wanted_target_are_among_the_reasons(
    wanting: Cast, coordinator: Client
) -> None:
    said = text_of(page(coordinator, wanting))
    assert "Galactic core stands right 1.5, 1.5, 1.5 h while you are out." in said


def test_without_a_list_no_target_is_told(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    said = text_of(page(coordinator, cast))
    assert "of moonless dark while you are out" in said
    assert "No wanted target" not in said


def test_the_windows_are_drawn_in_the_chart(wanting: Cast, coordinator: Client) -> None:
    chart = page(coordinator, wanting).context["chart"]
    assert chart.wanted
    assert "a wanted target up, whenever" in [item.words for item in chart.legend]


def test_a_season_that_wants_the_dark_has_no_windows_drawn(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    assert page(coordinator, cast).context["chart"].wanted == ""


def test_the_dark_alone_can_be_asked_for(wanting: Cast, coordinator: Client) -> None:
    response = page(coordinator, wanting, "?targets=")
    assert "of moonless dark while you are out" in text_of(response)
    assert response.context["shown"].runs[0].run.hours == pytest.approx(12)


def test_another_list_can_be_asked_for(wanting: Cast, coordinator: Client) -> None:
    other = TargetList.objects.create(organisation=wanting.club, name="Nothing yet")
    response = page(coordinator, wanting, f"?targets={other.pk}")
    assert response.context["wanted_list"] == other
    assert response.context["shown"].runs == ()


@pytest.mark.parametrize("asked", ["0", "x", "999999", "³", "-1"])
def test_a_list_that_is_not_there_is_said_and_the_season_s_own_used(
    asked: str, wanting: Cast, coordinator: Client
) -> None:
    response = page(coordinator, wanting, f"?targets={asked}")
    (said,) = response.context["mistakes"]
    assert f"“{asked}” is not a list of targets of yours. The season's own is used." in said
    assert response.context["wanted_list"] == wanting.target_list


def test_a_list_of_another_club_is_not_there(wanting: Cast, coordinator: Client) -> None:
    foreign = TargetList.objects.create(
        organisation=Organisation.objects.get(name="Harbour Night Club"), name="Theirs"
    )
    response = page(coordinator, wanting, f"?targets={foreign.pk}")
    assert response.context["wanted_list"] == wanting.target_list
    assert "Theirs" not in text_of(response)


def test_keeping_a_list_asks_for_its_windows(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Job.objects.all().delete()
    keep(coordinator, cast, targets=str(cast.target_list.pk))
    assert Season.objects.get(pk=cast.season.pk).target_list == cast.target_list
    assert [job.kind for job in Job.objects.all()] == ["target_windows"]


def test_keeping_other_wishes_asks_for_nothing_new(wanting: Cast, coordinator: Client) -> None:
    Job.objects.all().delete()
    core, nebula = wanting.target_list.entries.all()
    for level in (-15, -12):
        for entry in (core, nebula):
            store_windows(entry, wanting.site, {}, dark_level=level)
    for entry in (core, nebula):
        store_windows(entry, wanting.site, {}, in_usable_dark=True)
    keep(coordinator, wanting, run="2")
    assert not Job.objects.exists()


def test_windows_that_are_not_there_are_said(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Job.objects.all().delete()
    Season.objects.update(target_list=cast.target_list)
    said = text_of(page(coordinator, cast))
    assert "When the wanted targets stand right at Broom Hill is not all computed yet" in said
    assert "Compute what is missing or out of date" in said
    # Nobody knows yet whether there is none.
    assert "has a usable hour with these wishes" not in said
    assert "stay longer" not in said


def test_a_list_in_the_address_can_be_computed_without_being_kept(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    Job.objects.all().delete()
    asked = f"?run=2&targets={cast.target_list.pk}"
    assert "Compute it for “Summer sky”" in text_of(page(coordinator, cast, asked))
    address = reverse("season_recompute", args=[cast.season.pk])
    response = coordinator.post(address, {"run": "2", "targets": str(cast.target_list.pk)})
    assert response["Location"].endswith(asked)
    season = Season.objects.get(pk=cast.season.pk)
    assert (season.target_list, list(season.tried_lists.all())) == (None, [cast.target_list])
    assert [job.kind for job in Job.objects.order_by("kind")] == ["target_windows"]


def test_a_list_of_another_club_cannot_be_tried(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Job.objects.all().delete()
    foreign = TargetList.objects.create(organisation=cast.elsewhere, name="Theirs")
    address = reverse("season_recompute", args=[cast.season.pk])
    coordinator.post(address, {"targets": str(foreign.pk)})
    assert not cast.season.tried_lists.exists()
    assert not Job.objects.exists()


def test_the_printed_calendar_says_what_its_hours_are_of(
    wanting: Cast, coordinator: Client
) -> None:
    address = reverse("season_calendar", args=[wanting.season.pk])
    said = text_of(coordinator.get(address))
    assert "those in which a target of “Summer sky” stands right" in said
    assert "moonless dark while you are out, with the times" not in said


def test_a_night_s_page_counts_what_is_wanted(wanting: Cast, coordinator: Client) -> None:
    address = reverse("night_detail", args=[wanting.site.pk, RUN[0]])
    assert "wanted targets count 2.8 h while you are out until 02:00" in text_of(
        coordinator.get(address)
    )


def test_a_list_of_which_nothing_stands_right_is_told_from_dates_that_do_not_suit(
    cast: Cast, coordinator: Client
) -> None:
    store_nights(cast.site)
    Season.objects.update(target_list=cast.target_list)
    for entry in cast.target_list.entries.all():
        store_windows(entry, cast.site, {})
    said = text_of(page(coordinator, cast))
    assert "in none of those that suit does a target of “Summer sky” stand right" in said


def test_the_first_page_tells_the_next_night_for_what_is_wanted(
    wanting: Cast, coordinator: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    at(monkeypatch, WHEN)
    said = text_of(coordinator.get(reverse("home")))
    assert "Next night for “Summer sky”: Thu 4 March 2027 at Broom Hill, 2.8 h that count" in said


def test_it_does_not_tell_nights_on_which_nothing_wanted_counts(
    wanting: Cast, coordinator: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    at(monkeypatch, AFTER)
    said = text_of(coordinator.get(reverse("home")))
    assert "None left in this season on which a wanted target counts while you are out" in said


def test_a_night_s_page_is_judged_by_the_season_that_led_to_it(
    wanting: Cast, coordinator: Client
) -> None:
    earlier = Season.objects.create(
        organisation=wanting.club, name="Another", first_night=date(2027, 2, 1),
        last_night=date(2027, 4, 1),
    )  # fmt: skip
    earlier.sites.add(wanting.site)
    address = page(coordinator, wanting).context["shown"].lines[3].address
    response = coordinator.get(address)
    assert response.context["season"] == wanting.season
    assert "wanted targets count 2.8 h" in text_of(response)


def test_a_night_whose_windows_are_not_computed_says_so(cast: Cast, coordinator: Client) -> None:
    store_nights(cast.site)
    Season.objects.update(target_list=cast.target_list)
    address = reverse("night_detail", args=[cast.site.pk, RUN[0]])
    said = text_of(coordinator.get(address))
    assert "is not all computed here yet: the hours that count are too few" in said


def test_a_night_whose_windows_are_there_does_not(wanting: Cast, coordinator: Client) -> None:
    address = reverse("night_detail", args=[wanting.site.pk, RUN[0]])
    assert "not all computed here yet" not in text_of(coordinator.get(address))
